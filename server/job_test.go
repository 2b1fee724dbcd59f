package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func TestOpenJobRefuses(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	req := func() *pb.OpenJobRequest {
		return &pb.OpenJobRequest{RequestId: id(), Build: "builds/b-1", JobId: "j-1", Procedure: "procedures/cassette-splined-body"}
	}
	_, err := s.bench.OpenJob(w.ben, &pb.OpenJobRequest{EntryId: "E"})
	badFields(t, err, "request_id", "MALFORMED_REQUEST_ID", "build", "MALFORMED_NAME", "job_id", "MALFORMED_ID", "procedure", "MALFORMED_NAME", "entry_id", "MALFORMED_ID")
	other := req()
	other.Build = "builds/b-9"
	_, err = s.bench.OpenJob(w.ben, other)
	notFound(t, err, "build", "builds/b-9")
	other = req()
	other.Procedure = "procedures/nothing"
	_, err = s.bench.OpenJob(w.ben, other)
	notFound(t, err, "procedure", "procedures/nothing")

	first := req()
	opened, err := s.bench.OpenJob(w.ben, first)
	require.NoError(t, err)
	s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, ""))
	again, err := s.bench.OpenJob(w.ben, first)
	require.NoError(t, err)
	equal(t, opened, again) // as it was then

	_, err = s.bench.OpenJob(w.ben, req())
	fails(t, err, codes.AlreadyExists, "ALREADY_EXISTS", resource("job", jobName))
	other = req()
	other.JobId = "j-2"
	_, err = s.bench.OpenJob(w.ben, other)
	fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke("job-open", "j-1"))
}

func TestBlockedPlanOpensNothing(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	alone := sheet(t, "b-02.yaml")
	alone.Parts = alone.GetParts()[:2]
	_, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: alone})
	require.NoError(t, err)
	preview, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/b-1"}, Procedure: "procedures/cassette-splined-body"})
	require.NoError(t, err)

	_, err = s.bench.OpenJob(w.ben, &pb.OpenJobRequest{RequestId: id(), Build: "builds/b-1", JobId: "j-1", Procedure: "procedures/cassette-splined-body"})
	var pairs []string
	for _, f := range preview.GetPlan().GetFindings() {
		if !f.GetBlocks() {
			continue
		}
		subject := f.GetAbout()
		if f.GetStep() != "" {
			subject = f.GetStep() + ": " + f.GetAbout()
		}
		pairs = append(pairs, f.GetRule(), subject)
	}
	require.NotEmpty(t, pairs)
	fails(t, err, codes.FailedPrecondition, "PLAN_BLOCKED", broke(pairs...))
	require.Zero(t, s.head(w.ben, "b-1"))
}

// A figure that the foreman answers for is in the plan of the next job.
func TestAcceptedFigureOpensTheJob(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: pedalSheet()})
	require.NoError(t, err)
	open := &pb.OpenJobRequest{RequestId: id(), Build: "builds/b-1", JobId: "j-1", Procedure: "procedures/pedals"}
	_, err = s.bench.OpenJob(w.ben, open)
	require.Equal(t, codes.FailedPrecondition, status.Code(err))
	accept := func(joint string) *pb.Command {
		return &pb.Command{Action: &pb.Command_AcceptFigure{AcceptFigure: &pb.AcceptFigure{Joint: joint, Reason: "common figure",
			Window: &pb.Window{Min: &pb.Torque{NewtonMeters: 35}, Max: &pb.Torque{NewtonMeters: 40}}}}}
	}
	_, err = s.send(w.sam, "b-1", 0, accept("pedal-right-9-16x20"))
	fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke("rank-too-low", "pedal-right-9-16x20"))
	s.record(w.fay, "b-1", accept("pedal-right-9-16x20"), accept("pedal-left-9-16x20"))
	r, err := s.bench.OpenJob(w.ben, open) // the same request: what was refused is not remembered
	require.NoError(t, err)
	require.Len(t, r.GetJob().GetPlan().GetAccepted(), 2)
	require.Equal(t, w.fay.name, r.GetJob().GetPlan().GetAccepted()[0].GetPerson())
}

func pedalSheet() *pb.Sheet {
	part := func(role, material string, is ...string) *pb.Part {
		p := &pb.Part{Role: role, Material: material, Attributes: map[string]string{}}
		for i := 0; i < len(is); i += 2 {
			p.Attributes[is[i]] = is[i+1]
		}
		return p
	}
	return &pb.Sheet{Invented: true, Parts: []*pb.Part{
		part("crank-arm-left", "alloy", "pedal_thread", "9/16 in x 20 tpi LH"),
		part("crank-arm-right", "alloy", "pedal_thread", "9/16 in x 20 tpi"),
		part("pedal-left", "steel", "thread", "9/16 in x 20 tpi LH", "washer", "none"),
		part("pedal-right", "steel", "thread", "9/16 in x 20 tpi", "washer", "none"),
	}}
}

func TestSwapPartKeepsWhatDoesNotTouchIt(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("")
	before := s.job(w.ben, "b-1", "j-1")
	part := partNamed(sheet(t, "b-02.yaml"), "cassette-lockring")
	part.Material = "steel"
	req := &pb.SwapPartRequest{RequestId: id(), Job: jobName, Part: part, Reason: "the ring was cracked"}
	r, err := s.bench.SwapPart(w.ben, req)
	require.NoError(t, err)
	require.NotEmpty(t, r.GetEntry().GetPartSwapped().GetVoids())
	require.NotEqual(t, before.GetPlanDigest(), r.GetJob().GetPlanDigest())
	kept, lost := 0, 0
	for _, step := range r.GetJob().GetSteps() {
		for _, x := range step.GetResults() {
			if x.GetStands() {
				kept++
			} else {
				require.Equal(t, r.GetEntry().GetName(), x.GetVoidBy())
				lost++
			}
		}
	}
	require.Positive(t, kept)
	require.Positive(t, lost)
	b, err := s.builds.GetBuild(w.ben, &pb.GetBuildRequest{Name: "builds/b-1"})
	require.NoError(t, err)
	equal(t, part, partNamed(b.GetBuild().GetSheet(), "cassette-lockring"))
	again, err := s.bench.SwapPart(w.ben, req)
	require.NoError(t, err)
	equal(t, r, again)
	reason := proto.CloneOf(req)
	reason.Reason = "the ring was lost"
	_, err = s.bench.SwapPart(w.ben, reason)
	fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
	m.until("")
	s.record(w.ben, "b-1", finish(jobName))
	_, err = s.bench.SwapPart(w.ben, &pb.SwapPartRequest{RequestId: id(), Job: jobName, Part: part, Reason: "again"})
	fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke("job-closed", "j-1"))
}

func partNamed(s *pb.Sheet, role string) *pb.Part {
	for _, p := range s.GetParts() {
		if p.GetRole() == role {
			return p
		}
	}
	return nil
}

func TestSwapPartRefuses(t *testing.T) {
	s, w, _ := cassetteShop(t)
	ring := partNamed(sheet(t, "b-02.yaml"), "cassette-lockring")
	with := func(edit func(*pb.SwapPartRequest)) *pb.SwapPartRequest {
		req := &pb.SwapPartRequest{RequestId: id(), Job: jobName, Part: proto.CloneOf(ring), Reason: "the ring was cracked"}
		edit(req)
		return req
	}
	_, err := s.bench.SwapPart(w.ben, &pb.SwapPartRequest{BasedOnSeq: -1})
	badFields(t, err, "request_id", "MALFORMED_REQUEST_ID", "job", "MALFORMED_NAME", "part", "MISSING", "based_on_seq", "OUT_OF_RANGE", "reason", "MISSING")
	_, err = s.bench.SwapPart(w.ben, with(func(r *pb.SwapPartRequest) { r.Job = "builds/b-1/jobs/j-9" }))
	notFound(t, err, "job", "builds/b-1/jobs/j-9")
	_, err = s.bench.SwapPart(w.ben, with(func(r *pb.SwapPartRequest) { r.Part.Role = "front-derailleur" }))
	badFields(t, err, "part.role", "NO_SUCH_PART")
	_, err = s.bench.SwapPart(w.ben, with(func(r *pb.SwapPartRequest) { r.Part.Attributes["thread"] = "coarse" }))
	badFields(t, err, "part.attributes.thread", "MALFORMED_THREAD")
	_, err = s.bench.SwapPart(w.ben, with(func(r *pb.SwapPartRequest) { r.BasedOnSeq = 99 }))
	badFields(t, err, "based_on_seq", "OUT_OF_RANGE")
	_, err = s.bench.SwapPart(w.ben, with(func(r *pb.SwapPartRequest) { r.Part.Attributes["thread"] = "M31.8x1" }))
	require.Equal(t, codes.FailedPrecondition, status.Code(err), "%v", err) // another thread than the body's: a misfit

	seen := s.head(w.ben, "b-1")
	s.record(w.sam, "b-1", look(jobName, "compare-parts", "pattern", true, ""))
	_, err = s.bench.SwapPart(w.ben, with(func(r *pb.SwapPartRequest) { r.BasedOnSeq = seen }))
	require.Equal(t, codes.Aborted, status.Code(err), "%v", err)
	require.Len(t, status.Convert(err).Details()[2].(*pb.Conflict).GetEntries(), 1)
}

func TestMoveEntryToTheRightBike(t *testing.T) {
	s, w, m := cassetteShop(t)
	s.bike(w.ben, "b-2", "b-02.yaml")
	s.open(w.ben, "b-2", "j-7", "cassette-splined-body")
	m2 := &mechanic{shop: s, by: w.ben, second: w.sam, build: "b-2", job: "j-7"}
	m.until("tighten-lockring")
	m2.until("tighten-lockring")
	wrongBike := s.record(w.ben, "b-1", reading(jobName, "tighten-lockring", "lockring", figure("40", "N.m"), "tools/tw-04"))[0]
	s.clock.advance(1e9)
	req := &pb.MoveEntryRequest{RequestId: id(), Entry: wrongBike.GetName(), ToJob: "builds/b-2/jobs/j-7", ToStep: "tighten-lockring",
		ToBolt: "lockring", Reason: "stood at the other bike", WithdrawalEntryId: "w-1", ReadingEntryId: "r-1"}
	_, err := s.bench.MoveEntry(w.sam, req)
	fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke("not-your-entry", wrongBike.GetName()[len("builds/b-1/entries/"):]))
	r, err := s.bench.MoveEntry(w.ben, req)
	require.NoError(t, err)
	require.Equal(t, "builds/b-1/entries/w-1", r.GetWithdrawal().GetName())
	require.Equal(t, "builds/b-2", r.GetWithdrawal().GetEntryWithdrawn().GetMovedTo())
	require.Equal(t, pb.WithdrawEntry_CAUSE_WRONG_BIKE, r.GetWithdrawal().GetEntryWithdrawn().GetCause())
	require.Equal(t, "builds/b-2/entries/r-1", r.GetReading().GetName())
	equal(t, wrongBike.GetMoment(), r.GetReading().GetHappened()) // its own time
	equal(t, figure("40", "N.m"), r.GetReading().GetReadingTaken().GetFigure())
	require.Equal(t, wrongBike.GetName(), r.GetReading().GetReadingTaken().GetMovedFrom().GetEntry())
	require.True(t, judgement(r.GetReading()).GetCounts())
	again, err := s.bench.MoveEntry(w.ben, req)
	require.NoError(t, err)
	equal(t, r, again)

	state, _ := stepOf(s.job(w.ben, "b-1", "j-1"), "tighten-lockring")
	require.Empty(t, state.GetResults())
	state, _ = stepOf(s.job(w.ben, "b-2", "j-7"), "tighten-lockring")
	require.Equal(t, "builds/b-2/entries/r-1", state.GetResults()[0].GetEntry())
}

func TestMoveEntryRefuses(t *testing.T) {
	s, w, m := cassetteShop(t)
	s.bike(w.ben, "b-2", "b-02.yaml")
	s.open(w.ben, "b-2", "j-7", "cassette-splined-body")
	m.until("tighten-lockring")
	taken := s.record(w.ben, "b-1", reading(jobName, "tighten-lockring", "lockring", figure("40", "N.m"), "tools/tw-04"))[0]
	looked := s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, ""))[0]
	heads := []int64{s.head(w.ben, "b-1"), s.head(w.ben, "b-2")}
	with := func(edit func(*pb.MoveEntryRequest)) error {
		req := &pb.MoveEntryRequest{RequestId: id(), Entry: taken.GetName(), ToJob: "builds/b-2/jobs/j-7", ToStep: "tighten-lockring", ToBolt: "lockring", Reason: "r"}
		edit(req)
		_, err := s.bench.MoveEntry(w.ben, req)
		return err
	}
	badFields(t, with(func(r *pb.MoveEntryRequest) { r.ToJob = jobName }), "to_job", "SAME_BUILD")
	badFields(t, with(func(r *pb.MoveEntryRequest) { r.WithdrawalEntryId, r.ReadingEntryId = "x", "x" }), "reading_entry_id", "DUPLICATE_ID")
	badFields(t, with(func(r *pb.MoveEntryRequest) { r.Reason = "" }), "reason", "MISSING")
	badFields(t, with(func(r *pb.MoveEntryRequest) { r.ToStep = "nothing" }), "to_step", "UNKNOWN_STEP")
	badFields(t, with(func(r *pb.MoveEntryRequest) { r.ToBolt = "Z" }), "to_bolt", "UNKNOWN_BOLT")
	notFound(t, with(func(r *pb.MoveEntryRequest) { r.Entry = "builds/b-1/entries/none" }), "entry", "builds/b-1/entries/none")
	notFound(t, with(func(r *pb.MoveEntryRequest) { r.ToJob = "builds/b-2/jobs/j-9" }), "job", "builds/b-2/jobs/j-9")
	notFound(t, with(func(r *pb.MoveEntryRequest) { r.ToJob = "builds/b-9/jobs/j-9" }), "build", "builds/b-9")
	fails(t, with(func(r *pb.MoveEntryRequest) { r.Entry = looked.GetName() }), codes.FailedPrecondition, "COMMAND_REFUSED",
		broke("not-a-fact", looked.GetName()[len("builds/b-1/entries/"):]))
	reused := taken.GetName()[len("builds/b-1/entries/"):]
	fails(t, with(func(r *pb.MoveEntryRequest) { r.ReadingEntryId = reused }), codes.InvalidArgument, "ENTRY_ID_REUSED", wrong("reading_entry_id", "ENTRY_ID_REUSED"))
	after := []int64{s.head(w.ben, "b-1"), s.head(w.ben, "b-2")}
	require.Equal(t, heads, after)
}

func TestReadingJobsAndEntries(t *testing.T) {
	s, w := twoJobs(t)
	s.bike(w.ben, "b-2", "b-04.yaml")
	s.clock.advance(1e9)
	s.open(w.ben, "b-2", "j-1", "crank-two-pinch-bolts")
	var names []string
	req := &pb.ListJobsRequest{PageSize: 1}
	for {
		page, err := s.bench.ListJobs(w.ben, req)
		require.NoError(t, err)
		for _, j := range page.GetJobs() {
			require.Empty(t, j.GetSteps())
			require.Nil(t, j.GetPlan())
			names = append(names, j.GetName())
		}
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			break
		}
	}
	require.Len(t, names, 3)
	require.Equal(t, "builds/b-2/jobs/j-1", names[0]) // the latest first
	one, err := s.bench.ListJobs(w.ben, &pb.ListJobsRequest{Build: "builds/b-1"})
	require.NoError(t, err)
	require.Len(t, one.GetJobs(), 2)

	all := s.entries(w.ben, "b-1", 0)
	for i, e := range all {
		require.Equal(t, int64(i+1), e.GetSeq())
	}
	require.Len(t, s.entries(w.ben, "b-1", 3), len(all)-3)

	_, err = s.bench.GetJob(w.ben, &pb.GetJobRequest{Name: "builds/b-1/jobs/j-9"})
	notFound(t, err, "job", "builds/b-1/jobs/j-9")
	_, err = s.bench.ListJobs(w.ben, &pb.ListJobsRequest{Build: "builds/b-9"})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.bench.ListEntries(w.ben, &pb.ListEntriesRequest{Build: "builds/b-9"})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.bench.ListEntries(w.ben, &pb.ListEntriesRequest{Build: "builds/b-1", AfterSeq: -1, PageSize: -1})
	badFields(t, err, "after_seq", "OUT_OF_RANGE", "page_size", "OUT_OF_RANGE")
}
