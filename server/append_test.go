package server_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

// cassetteShop has a cassette job that is at the lockring.
func cassetteShop(t testing.TB, set ...func(*server.Options)) (*shop, staff, *mechanic) {
	t.Helper()
	s := newShop(t, set...)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	s.open(w.ben, "b-1", "j-1", "cassette-splined-body")
	m := &mechanic{shop: s, by: w.ben, second: w.sam, build: "b-1", job: "j-1"}
	return s, w, m
}

const (
	jobName = "builds/b-1/jobs/j-1"
	ring    = "tighten-lockring"
)

func figure(digits, unit string) *pb.Figure { return &pb.Figure{Digits: digits, Unit: unit} }

func TestReadingIsKeptAsItWasSeen(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until(ring)
	at := opening.Add(-3 * time.Minute)
	c := reading(jobName, ring, "lockring", figure("350.0", "[lbf_av].[in_i]"), "tools/tw-04")
	c.EntryId, c.Monotonic, c.TabletTime = id(), durationpb.New(90*time.Minute), timestamppb.New(at)
	req := batchOf(w.ben, "b-1", 0, c)
	req.Clock.Boot, req.Clock.Offset = "boot-7", durationpb.New(2*time.Minute)
	r, err := s.bench.AppendEntries(w.ben, req)
	require.NoError(t, err)

	got := r.GetOutcomes()[0].GetEntry()
	require.Equal(t, r.GetHeadSeq(), got.GetSeq())
	equal(t, &pb.Moment{Tablet: "tablet-ben", TabletSeq: c.GetTabletSeq(), Boot: "boot-7", Monotonic: c.GetMonotonic(),
		TabletTime: c.GetTabletTime(), ServerTime: timestamppb.New(opening), Offset: durationpb.New(2 * time.Minute),
		BestTime: timestamppb.New(at.Add(2 * time.Minute))}, got.GetMoment())
	require.Equal(t, "builds/b-1/entries/"+c.GetEntryId(), got.GetName())
	require.Equal(t, w.ben.name, got.GetActor())
	require.Equal(t, "reading-taken", got.GetKind())
	x := got.GetReadingTaken()
	equal(t, figure("350.0", "[lbf_av].[in_i]"), x.GetFigure())
	// 1 lbf·in = 0.112984829 N·m (NIST SP 811:2008, appendix B.8).
	require.InDelta(t, 350*0.112984829, x.GetValue().GetNewtonMeters(), 1e-6)
	require.True(t, x.GetJudgement().GetCounts(), "%v", x.GetJudgement())
}

func TestClockAheadIsRecordedAndFlagged(t *testing.T) {
	s, w, _ := cassetteShop(t)
	c := look(jobName, "compare-parts", "pattern", true, "")
	c.TabletTime = timestamppb.New(opening.Add(time.Hour))
	require.True(t, s.record(w.ben, "b-1", c)[0].GetMoment().GetClockAhead())
}

func TestFactsAreRecordedWithTheRuleTheyBreak(t *testing.T) {
	s, w, _ := cassetteShop(t)
	e := s.record(w.ben, "b-1", reading(jobName, ring, "lockring", figure("40", "N.m"), "tools/tw-04"))[0]
	require.False(t, judgement(e).GetCounts())
	require.Equal(t, "earlier-step-open", judgement(e).GetRule())
	require.NotEmpty(t, judgement(e).GetText())
	e = s.record(w.ben, "b-1", reading(jobName, ring, "lockring", figure("40", "N.m"), "tools/nobody-knows"))[0]
	require.False(t, judgement(e).GetCounts())
}

func TestMalformedCommandsFailTheWholeBatch(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until(ring)
	before := s.head(w.ben, "b-1")
	good := func() *pb.Command { return reading(jobName, ring, "lockring", figure("40", "N.m"), "tools/tw-04") }
	at := func(c *pb.Command, edit func(*pb.Command)) *pb.Command { edit(c); return c }
	for _, tt := range []struct {
		name    string
		command *pb.Command
		want    []string
	}{
		{"no action", &pb.Command{}, []string{"commands[1].action", "MISSING"}},
		{"an id of another form", at(good(), func(c *pb.Command) { c.EntryId = "X" }), []string{"commands[1].entry_id", "MALFORMED_ID"}},
		{"a figure that is none", reading(jobName, ring, "lockring", figure("NaN", "N.m"), "tools/tw-04"), []string{"commands[1].take_reading.figure.digits", "MALFORMED_FIGURE"}},
		{"a unit that is none", reading(jobName, ring, "lockring", figure("40", "Nm"), "tools/tw-04"), []string{"commands[1].take_reading.figure.unit", "UNKNOWN_UNIT"}},
		{"a negative reading", reading(jobName, ring, "lockring", figure("-40", "N.m"), "tools/tw-04"), []string{"commands[1].take_reading.figure", "NOT_POSITIVE"}},
		{"a reading out of this world", reading(jobName, ring, "lockring", figure("40000000", "N.m"), "tools/tw-04"), []string{"commands[1].take_reading.figure", "MALFORMED"}},
		{"no tool", reading(jobName, ring, "lockring", figure("40", "N.m"), ""), []string{"commands[1].take_reading.tool", "MALFORMED_NAME"}},
		{"a job of another build", reading("builds/b-2/jobs/j-1", ring, "lockring", figure("40", "N.m"), "tools/tw-04"), []string{"commands[1].take_reading.job", "OTHER_BUILD"}},
		{"a step that is none", reading(jobName, "nothing", "ring", figure("40", "N.m"), "tools/tw-04"), []string{"commands[1].take_reading.step", "UNKNOWN_STEP"}},
		{"a bolt that is none", reading(jobName, ring, "Z", figure("40", "N.m"), "tools/tw-04"), []string{"commands[1].take_reading.bolt", "UNKNOWN_BOLT"}},
		{"a check that is none", look(jobName, "compare-parts", "nothing", true, ""), []string{"commands[1].take_look.check", "UNKNOWN_CHECK"}},
		{"a note too long", look(jobName, "compare-parts", "pattern", true, strings.Repeat("n", 2001)), []string{"commands[1].take_look.note", "TOO_LONG"}},
		{"a signature without a word", &pb.Command{Action: &pb.Command_SignHold{SignHold: &pb.SignHold{Job: jobName, Step: ring}}}, []string{"commands[1].sign_hold.saw", "MISSING"}},
		{"a cause that is none", &pb.Command{Action: &pb.Command_WithdrawEntry{WithdrawEntry: &pb.WithdrawEntry{
			Entry: "builds/b-1/entries/x", Cause: 9, Reason: "r"}}}, []string{"commands[1].withdraw_entry.cause", "UNKNOWN_VALUE"}},
		{"a prep that is none", &pb.Command{Action: &pb.Command_DoPrep{DoPrep: &pb.DoPrep{Job: jobName, Step: "prepare-splines-and-thread",
			Thread: 99, Celsius: new(int32(101))}}}, []string{"commands[1].do_prep.thread", "UNKNOWN_VALUE", "commands[1].do_prep.celsius", "OUT_OF_RANGE"}},
		{"a window with an infinite end", &pb.Command{Action: &pb.Command_AcceptFigure{AcceptFigure: &pb.AcceptFigure{Joint: "x", Reason: "r",
			Window: &pb.Window{Max: &pb.Torque{NewtonMeters: math.Inf(1)}}}}}, []string{"commands[1].accept_figure.window.max.newton_meters", "OUT_OF_RANGE"}},
		{"a window turned round", &pb.Command{Action: &pb.Command_AcceptFigure{AcceptFigure: &pb.AcceptFigure{Joint: "x", Reason: "r",
			Window: &pb.Window{Min: &pb.Torque{NewtonMeters: 9}, Max: &pb.Torque{NewtonMeters: 8}}}}}, []string{"commands[1].accept_figure.window", "MALFORMED_WINDOW"}},
		{"rework forward", &pb.Command{Action: &pb.Command_BeginRework{BeginRework: &pb.BeginRework{Job: jobName, Step: "compare-parts",
			BackTo: ring, Reason: "r"}}}, []string{"commands[1].begin_rework.back_to", "UNKNOWN_STEP"}},
		{"a picture that is not there", &pb.Command{Action: &pb.Command_TakePhoto{TakePhoto: &pb.TakePhoto{Job: jobName, Step: "load-sprockets",
			Check: "sprockets-photo", Picture: "builds/b-1/attachments/pic-none"}}}, []string{"commands[1].take_photo.picture", "UNKNOWN_PICTURE"}},
		{"a count below nothing", at(good(), func(c *pb.Command) { c.Monotonic = durationpb.New(-1) }), []string{"commands[1].monotonic", "OUT_OF_RANGE"}},
		{"a time that is none", at(good(), func(c *pb.Command) { c.TabletTime = &timestamppb.Timestamp{Seconds: math.MaxInt64} }), []string{"commands[1].tablet_time", "OUT_OF_RANGE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.send(w.ben, "b-1", 0, good(), tt.command)
			badFields(t, err, tt.want...)
		})
	}
	require.Equal(t, before, s.head(w.ben, "b-1"))
}

func (s *shop) head(by *hand, build string) int64 {
	s.Helper()
	b, err := s.builds.GetBuild(by, &pb.GetBuildRequest{Name: "builds/" + build})
	require.NoError(s, err)
	return b.GetBuild().GetHeadSeq()
}

func TestBatchAsAWholeRefuses(t *testing.T) {
	s, w, _ := cassetteShop(t)
	_, err := s.bench.AppendEntries(w.ben, &pb.AppendEntriesRequest{})
	badFields(t, err, "request_id", "MALFORMED_REQUEST_ID", "build", "MALFORMED_NAME", "clock", "MISSING", "commands", "OUT_OF_RANGE")
	c := look(jobName, "compare-parts", "pattern", true, "")
	c.TabletSeq, c.EntryId = -1, "e-1"
	_, err = s.bench.AppendEntries(w.ben, &pb.AppendEntriesRequest{RequestId: id(), Build: "builds/b-1", BasedOnSeq: -1,
		Clock: &pb.Clock{Tablet: "tablet-sam", Boot: "a\nb", Offset: durationpb.New(20 * 365 * 24 * time.Hour)}, Commands: []*pb.Command{c, nil}})
	badFields(t, err, "based_on_seq", "OUT_OF_RANGE", "clock.tablet", "OTHER_TABLET", "clock.boot", "UNPRINTABLE", "clock.offset", "OUT_OF_RANGE",
		"commands[0].tablet_seq", "OUT_OF_RANGE", "commands[0].tablet_time", "MISSING", "commands[1].tablet_time", "MISSING", "commands[1].entry_id", "MALFORMED_ID", "commands[1].action", "MISSING")
	_, err = s.send(w.ben, "b-1", 99, look(jobName, "compare-parts", "pattern", true, ""))
	badFields(t, err, "based_on_seq", "OUT_OF_RANGE")
	_, err = s.send(w.ben, "b-9", 0, look("builds/b-9/jobs/j-1", "compare-parts", "pattern", true, ""))
	notFound(t, err, "build", "builds/b-9")
	a, b := look(jobName, "compare-parts", "pattern", true, ""), look(jobName, "compare-parts", "pattern", true, "")
	a.EntryId, b.EntryId = "same", "same"
	_, err = s.send(w.ben, "b-1", 0, a, b)
	badFields(t, err, "commands[1].entry_id", "DUPLICATE_ID")
	prep := &pb.Command{EntryId: id(), Action: &pb.Command_DoPrep{DoPrep: &pb.DoPrep{Job: jobName, Step: "clean-body", Metal: "cast iron"}}}
	_, err = s.send(w.ben, "b-1", 0, prep)
	badFields(t, err, "commands[0].do_prep.metal", "UNKNOWN_WORD")
	require.ErrorContains(t, err, "write one of steel, stainless, alloy")
	_, err = s.send(w.ben, "b-1", 0, look("builds/b-1/jobs/j-9", "compare-parts", "pattern", true, ""))
	fails(t, err, codes.NotFound, "NOT_FOUND", resource("job", "builds/b-1/jobs/j-9"), wrong("commands[0].take_look.job", "NOT_FOUND"))
}

func TestRefusedIntentionDoesNotUndoTheFacts(t *testing.T) {
	s, w, _ := cassetteShop(t)
	r, err := s.send(w.ben, "b-1", 0,
		look(jobName, "compare-parts", "pattern", true, ""),
		finish(jobName),
		look(jobName, "compare-parts", "length-on-sheet", true, ""))
	require.NoError(t, err)
	require.Len(t, r.GetOutcomes(), 3)
	require.Equal(t, int64(2), r.GetOutcomes()[0].GetEntry().GetSeq())
	require.Equal(t, "step-incomplete", r.GetOutcomes()[1].GetRefusal().GetRule())
	require.Equal(t, "compare-parts", r.GetOutcomes()[1].GetRefusal().GetSubject())
	require.NotEmpty(t, r.GetOutcomes()[1].GetRefusal().GetText())
	require.Equal(t, int64(3), r.GetOutcomes()[2].GetEntry().GetSeq())
	require.Equal(t, int64(3), r.GetHeadSeq())

	_, err = s.send(w.ben, "b-1", 0, finish(jobName),
		&pb.Command{Action: &pb.Command_ReleaseBuild{ReleaseBuild: &pb.ReleaseBuild{}}})
	fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke("step-incomplete", "compare-parts", "rank-too-low", "b-1"))
	require.Equal(t, int64(3), s.head(w.ben, "b-1"))
}

func TestBatchOnceForARequest(t *testing.T) {
	s, w, _ := cassetteShop(t)
	req := batchOf(w.ben, "b-1", 0, look(jobName, "compare-parts", "pattern", true, "seen by lamp"), finish(jobName))
	first, err := s.bench.AppendEntries(w.ben, req)
	require.NoError(t, err)
	s.record(w.ben, "b-1", look(jobName, "compare-parts", "length-on-sheet", true, ""))
	again, err := s.bench.AppendEntries(w.ben, req)
	require.NoError(t, err)
	equal(t, first, again)

	note := proto.CloneOf(req)
	note.GetCommands()[0].GetTakeLook().Note = "seen by daylight"
	no := proto.CloneOf(req)
	no.GetCommands()[0].GetTakeLook().Ok = false
	for _, other := range []*pb.AppendEntriesRequest{note, no} {
		_, err = s.bench.AppendEntries(w.ben, other)
		fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
	}
	require.Equal(t, int64(3), s.head(w.ben, "b-1"))
}

func TestEntryOnceWhateverTheRequest(t *testing.T) {
	s, w, m := cassetteShop(t)
	s.bike(w.ben, "b-2", "b-02.yaml")
	s.open(w.ben, "b-2", "j-1", "cassette-splined-body")
	m.until(ring)
	c := look(jobName, "compare-parts", "pattern", true, "seen by lamp")
	first := s.record(w.ben, "b-1", c)[0]
	head := s.head(w.ben, "b-1")

	// The tablet sends the same again among others, on behalf of another person.
	again := proto.CloneOf(batchOf(w.sam, "b-1", 0, c, reading(jobName, ring, "lockring", figure("40", "N.m"), "tools/tw-04")))
	r, err := s.bench.AppendEntries(w.sam, again)
	require.NoError(t, err)
	equal(t, first, r.GetOutcomes()[0].GetEntry())
	require.Equal(t, head+1, r.GetHeadSeq())

	other := proto.CloneOf(c)
	other.GetTakeLook().Note = "seen by daylight"
	elsewhere := proto.CloneOf(c)
	elsewhere.GetTakeLook().Job = "builds/b-2/jobs/j-1"
	_, err = s.send(w.ben, "b-1", 0, look(jobName, "compare-parts", "thread-on-sheet", true, ""), other)
	fails(t, err, codes.InvalidArgument, "ENTRY_ID_REUSED", wrong("commands[1].entry_id", "ENTRY_ID_REUSED"))
	_, err = s.send(w.ben, "b-2", 0, elsewhere)
	fails(t, err, codes.InvalidArgument, "ENTRY_ID_REUSED", wrong("commands[0].entry_id", "ENTRY_ID_REUSED"))
	require.Equal(t, head+1, s.head(w.ben, "b-1"))
}

// Every kind of command is told apart from another with its entry id, and found
// again when it is sent twice.
func TestEveryKindOfEntryIsFoundAgain(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("")
	m.tell(w.ben, finish(jobName))
	m.until("")
	m.tell(w.fay, &pb.Command{Action: &pb.Command_ReleaseBuild{ReleaseBuild: &pb.ReleaseBuild{}}})
	before := s.head(w.ben, "b-1")
	for _, req := range m.sent {
		first, err := s.bench.AppendEntries(req.by, req.batch)
		require.NoError(t, err)
		twice := proto.CloneOf(req.batch)
		twice.RequestId = id()
		again, err := s.bench.AppendEntries(req.by, twice)
		require.NoError(t, err)
		equal(t, first.GetOutcomes(), again.GetOutcomes())
	}
	require.Equal(t, before, s.head(w.ben, "b-1"))
}
