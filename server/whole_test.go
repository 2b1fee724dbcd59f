package server_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// wholeSheet is an invented bike with a part in every place.
func wholeSheet(t testing.TB) *pb.Sheet {
	t.Helper()
	s := wholeDomainSheet(t)
	out := &pb.Sheet{Label: s.Label, Invented: s.Invented}
	for _, p := range s.Parts {
		out.Parts = append(out.Parts, partOf(p))
	}
	return out
}

func wholeDomainSheet(t testing.TB) *procedure.Sheet {
	t.Helper()
	const file = "../testdata/sheets/whole-road.yaml"
	_, vocabulary := loaded()
	s, err := procedure.ReadSheet(file, readFile(t, file), vocabulary)
	require.NoError(t, err)
	return s
}

// wholeShop has the bike with a part in every place.
func wholeShop(t testing.TB) (*shop, staff, *pb.Build) {
	t.Helper()
	s := newShop(t)
	w := s.staffed()
	r, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: wholeSheet(t)})
	require.NoError(t, err)
	return s, w, r.GetBuild()
}

func (s *shop) planWhole(by context.Context) *pb.Whole {
	s.Helper()
	r, err := s.builds.PlanWhole(by, &pb.PlanWholeRequest{Bike: &pb.PlanWholeRequest_Build{Build: "builds/b-1"}})
	require.NoError(s, err)
	return r.GetWhole()
}

// progressOf is how far the job of a procedure has come.
func progressOf(t testing.TB, w *pb.Whole, procedure string) *pb.JobProgress {
	t.Helper()
	for _, j := range w.GetJobs() {
		if j.GetPlan().GetProcedure() == "procedures/"+procedure {
			return j.GetProgress()
		}
	}
	require.Fail(t, "the whole has no such job", procedure)
	return nil
}

// workJob opens a job and works it to its end.
func (s *shop) workJob(w staff, job, procedure string) *mechanic {
	s.Helper()
	s.open(w.ben, "b-1", job, procedure)
	m := &mechanic{shop: s, by: w.ben, second: w.sam, build: "b-1", job: job}
	m.until("")
	s.clock.advance(s.job(w.ben, "b-1", job).GetFinishWait().AsDuration())
	s.record(w.ben, "b-1", finish("builds/b-1/jobs/"+job))
	return m
}

// What the API answers is what package procedure plans, field by field.
func TestPlanWholeIsTheDomains(t *testing.T) {
	s, w, _ := wholeShop(t)
	procedures, _ := loaded()
	domain := wholeDomainSheet(t)
	domain.Build = "b-1"
	want, err := procedure.NewWhole(procedures, domain, rack(t), opening, procedure.Policy{})
	require.NoError(t, err)
	got := s.planWhole(w.ben)
	require.Equal(t, "builds/b-1", got.GetBuild())
	require.Equal(t, want.Label, got.GetLabel())
	require.True(t, got.GetTime().AsTime().Equal(opening))
	require.Len(t, got.GetJobs(), len(want.Jobs))
	for i, j := range want.Jobs {
		preview, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/b-1"}, Procedure: "procedures/" + j.Plan.Procedure})
		require.NoError(t, err)
		equal(t, preview.GetPlan(), got.GetJobs()[i].GetPlan())
		require.Len(t, got.GetJobs()[i].GetAfter(), len(j.After))
		require.Equal(t, pb.JobProgress_STATE_NOT_BEGUN, got.GetJobs()[i].GetProgress().GetState())
	}
	require.Len(t, got.GetLeftOut(), len(want.LeftOut))
	require.Equal(t, want.LeftOut[0].Reason, got.GetLeftOut()[0].GetReason())
	require.Equal(t, want.Tools, got.GetTools())
	require.Equal(t, want.Consumables, got.GetConsumables())
	require.Len(t, got.GetHolds(), len(want.Holds))
	require.Equal(t, want.Holds[0].LooksAt, got.GetHolds()[0].GetLooksAt())
	var now time.Duration
	require.Len(t, got.GetDay(), len(want.Day))
	for i, slot := range got.GetDay() {
		require.Equal(t, now, slot.GetStart().AsDuration())
		now += slot.GetLength().AsDuration()
		require.Equal(t, int32(want.Day[i].First), slot.GetFirstStep())
		require.Equal(t, want.Day[i].Why, slot.GetWhy())
	}
	require.Equal(t, now, got.GetElapsed().AsDuration())
	require.Equal(t, time.Duration(want.Release), got.GetRelease().AsDuration())
	require.Equal(t, int32(want.Minutes), got.GetMinutes())
	require.Equal(t, len(want.Blocked()) > 0, got.GetBlocked())
}

// The plan of the wire has what the plan of the domain has: where a procedure
// is from, what a step asks of the hands, and what never goes on.
func TestPlansCarryOriginHandsAndNever(t *testing.T) {
	s, w, _ := wholeShop(t)
	hands, never := 0, 0
	for _, j := range s.planWhole(w.ben).GetJobs() {
		for _, step := range j.GetPlan().GetSteps() {
			if step.GetHands() != pb.Hands_HANDS_UNSPECIFIED {
				hands++
			}
			never += len(step.GetThreadPrep().GetNever()) + len(step.GetFacePrep().GetNever())
		}
		p, err := s.catalogue.GetProcedure(w.ben, &pb.GetProcedureRequest{Name: j.GetPlan().GetProcedure()})
		require.NoError(t, err)
		require.Equal(t, p.GetProcedure().GetRevision(), j.GetPlan().GetRevision())
		require.Equal(t, "built-in", j.GetPlan().GetOrigin())
	}
	require.Positive(t, hands)
	require.Positive(t, never)
}

// A sheet that was sent along, tools that were, and another day.
func TestPlanWholeOfASheet(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	late := opening.AddDate(1, 0, 0)
	r, err := s.builds.PlanWhole(w.ben, &pb.PlanWholeRequest{Bike: &pb.PlanWholeRequest_Sheet{Sheet: wholeSheet(t)},
		Tools: []*pb.Tool{named("tools/mine", wrench())}, Time: timestamppb.New(late)})
	require.NoError(t, err)
	require.Empty(t, r.GetWhole().GetBuild())
	require.True(t, r.GetWhole().GetTime().AsTime().Equal(late))
	choices := 0
	for _, j := range r.GetWhole().GetJobs() {
		require.Nil(t, j.GetProgress(), "a sheet has no record")
		for _, step := range j.GetPlan().GetSteps() {
			for _, c := range step.GetTorque().GetChoices() {
				choices++
				require.Equal(t, "tools/mine", c.GetTool())
			}
		}
	}
	require.Positive(t, choices)
}

func TestPlanWholeRefuses(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.builds.PlanWhole(w.ben, &pb.PlanWholeRequest{Time: &timestamppb.Timestamp{Nanos: -1}})
	badFields(t, err, "bike", "MISSING", "time", "OUT_OF_RANGE")
	_, err = s.builds.PlanWhole(w.ben, &pb.PlanWholeRequest{Bike: &pb.PlanWholeRequest_Build{Build: "B"},
		Tools: []*pb.Tool{named("tools/a", wrench()), named("tools/a", wrench())}})
	badFields(t, err, "build", "MALFORMED_NAME", "tools[1].name", "DUPLICATE_ID")
	_, err = s.builds.PlanWhole(w.ben, &pb.PlanWholeRequest{Bike: &pb.PlanWholeRequest_Build{Build: "builds/b-9"}})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.builds.GetBuildHistory(w.ben, &pb.GetBuildHistoryRequest{Name: "builds/b-9"})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.builds.GetBuildHistory(w.ben, &pb.GetBuildHistoryRequest{Name: "b-9"})
	badFields(t, err, "name", "MALFORMED_NAME")
	_, err = s.builds.GetBuildCard(w.ben, &pb.GetBuildCardRequest{Name: "builds/b-9"})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.builds.GetBuildCard(w.ben, &pb.GetBuildCardRequest{Name: "builds/", Time: &timestamppb.Timestamp{Nanos: -1}})
	badFields(t, err, "name", "MALFORMED_NAME", "time", "OUT_OF_RANGE")
}

// A part swapped later gives a new whole that keeps what is still valid: the
// lockring goes, so it is tightened again, and the bottom bracket stays.
func TestASwappedPartKeepsTheRest(t *testing.T) {
	const cassette, bracket = "cassette-splined-body", "bottom-bracket-threaded"
	s, w, build := wholeShop(t)
	s.workJob(w, "j-1", bracket)
	s.open(w.ben, "b-1", "j-2", cassette)
	require.Equal(t, pb.JobProgress_STATE_UNDER_WAY, progressOf(t, s.planWhole(w.ben), cassette).GetState())
	m := &mechanic{shop: s, by: w.ben, second: w.sam, build: "b-1", job: "j-2"}
	m.until("")
	s.record(w.ben, "b-1", finish("builds/b-1/jobs/j-2"))
	whole := s.planWhole(w.ben)
	for _, id := range []string{cassette, bracket} {
		require.Equal(t, pb.JobProgress_STATE_KEPT, progressOf(t, whole, id).GetState(), id)
	}
	require.Equal(t, "builds/b-1/jobs/j-1", progressOf(t, whole, bracket).GetJob())
	require.Equal(t, pb.JobProgress_STATE_NOT_BEGUN, progressOf(t, whole, "pedals").GetState())

	changed := proto.CloneOf(build.GetSheet())
	partNamed(changed, "cassette-lockring").Printed[0].Marking = "36-42 N·m"
	_, err := s.builds.UpdateSheet(w.ben, &pb.UpdateSheetRequest{RequestId: id(), Build: "builds/b-1", Sheet: changed, Etag: build.GetEtag()})
	require.NoError(t, err)
	whole = s.planWhole(w.ben)
	require.Equal(t, pb.JobProgress_STATE_KEPT, progressOf(t, whole, bracket).GetState())
	again := progressOf(t, whole, cassette)
	require.Equal(t, pb.JobProgress_STATE_TO_REPEAT, again.GetState())
	require.Equal(t, []string{ring, "check-in-frame"}, again.GetOpenSteps(), "the last one waits for the wheel, not for the ring")

	// The job is opened again for the new ring; in the midst of it another one
	// goes on, and what that does not touch is kept.
	s.open(w.ben, "b-1", "j-3", cassette)
	m = &mechanic{shop: s, by: w.ben, second: w.sam, build: "b-1", job: "j-3"}
	m.until("")
	part := partNamed(proto.CloneOf(changed), "cassette-lockring")
	part.Material = "steel"
	_, err = s.bench.SwapPart(w.ben, &pb.SwapPartRequest{RequestId: id(), Job: "builds/b-1/jobs/j-3", Part: part, Reason: "cracked"})
	require.NoError(t, err)
	open := progressOf(t, s.planWhole(w.ben), cassette)
	require.Equal(t, pb.JobProgress_STATE_UNDER_WAY, open.GetState())
	require.Equal(t, "builds/b-1/jobs/j-3", open.GetJob())
	require.Contains(t, open.GetOpenSteps(), ring)
	require.Less(t, len(open.GetOpenSteps()), len(s.job(w.ben, "b-1", "j-3").GetSteps()), "some of it is kept")
	m.until("")
	s.record(w.ben, "b-1", finish("builds/b-1/jobs/j-3"))
	whole = s.planWhole(w.ben)
	for _, id := range []string{cassette, bracket} {
		require.Equal(t, pb.JobProgress_STATE_KEPT, progressOf(t, whole, id).GetState(), id)
	}
}

// A bike that was let go comes back: what was done stands in its history, and a
// new job ends the release.
func TestHistoryOfABikeThatComesBack(t *testing.T) {
	s, w, m := cassetteShop(t)
	opened := s.clock.Now()
	empty, err := s.builds.GetBuildHistory(w.ben, &pb.GetBuildHistoryRequest{Name: "builds/b-1"})
	require.NoError(t, err)
	require.Len(t, empty.GetHistory().GetJobs(), 1)
	require.Equal(t, pb.Job_STATE_OPEN, empty.GetHistory().GetJobs()[0].GetState())
	m.until("")
	part := partNamed(sheet(t, "b-02.yaml"), "cassette-lockring")
	part.Material = "steel"
	swapped, err := s.bench.SwapPart(w.sam, &pb.SwapPartRequest{RequestId: id(), Job: jobName, Part: part, Reason: "cracked"})
	require.NoError(t, err)
	m.until("")
	s.clock.advance(time.Hour)
	finished := s.record(w.sam, "b-1", finish(jobName))[0]
	m.until("")
	released := s.record(w.fay, "b-1", &pb.Command{Action: &pb.Command_ReleaseBuild{ReleaseBuild: &pb.ReleaseBuild{}}})[0]
	history := func() *pb.BuildHistory {
		r, err := s.builds.GetBuildHistory(w.ben, &pb.GetBuildHistoryRequest{Name: "builds/b-1"})
		require.NoError(t, err)
		return r.GetHistory()
	}
	h := history()
	require.Equal(t, s.head(w.ben, "b-1"), h.GetHeadSeq())
	require.Len(t, h.GetReleases(), 1)
	equal(t, &pb.Release{Entry: released.GetName(), Person: w.fay.name, Moment: released.GetMoment(), Stands: true}, h.GetReleases()[0])

	s.clock.advance(90 * 24 * time.Hour)
	w.sam, w.ben = s.at(&pb.Person{Name: w.sam.name}, "tablet-sam"), s.at(&pb.Person{Name: w.ben.name}, "tablet-ben")
	s.open(w.sam, "b-1", "j-2", "cassette-splined-body")
	h = history()
	require.Len(t, h.GetJobs(), 2)
	first, second := h.GetJobs()[0], h.GetJobs()[1]
	plan := s.job(w.ben, "b-1", "j-1").GetPlan()
	equal(t, &pb.JobHistory{
		Name: jobName, Procedure: plan.GetProcedure(), Title: plan.GetTitle(), Edition: plan.GetEdition(), Revision: plan.GetRevision(),
		Origin: "built-in", PlanDigest: plan.GetDigest(), State: pb.Job_STATE_FINISHED, OpenedBy: w.ben.name, Opened: first.GetOpened(),
		ClosedBy: w.sam.name, Closed: finished.GetMoment(), Superseded: true,
		Swaps: []*pb.PartSwap{{Entry: swapped.GetEntry().GetName(), Role: "cassette-lockring", Person: w.sam.name, Moment: swapped.GetEntry().GetMoment()}},
	}, first)
	require.True(t, first.GetOpened().GetServerTime().AsTime().Equal(opened))
	require.Equal(t, pb.Job_STATE_OPEN, second.GetState())
	require.Equal(t, w.sam.name, second.GetOpenedBy())
	require.Empty(t, second.GetClosedBy())
	require.False(t, h.GetReleases()[0].GetStands(), "work goes on, so the bike is not let go any more")

	s.record(w.sam, "b-1", &pb.Command{Action: &pb.Command_AbandonJob{AbandonJob: &pb.AbandonJob{Job: second.GetName(), Reason: "fetched early"}}})
	second = history().GetJobs()[1]
	require.Equal(t, pb.Job_STATE_ABANDONED, second.GetState())
	require.Equal(t, w.sam.name, second.GetClosedBy())
}

// A foreman's word for a figure is in the whole as in the plan of a job.
func TestWholeTakesAcceptedFigures(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: pedalSheet()})
	require.NoError(t, err)
	require.True(t, s.planWhole(w.ben).GetBlocked())
	for _, joint := range []string{"pedal-right-9-16x20", "pedal-left-9-16x20"} {
		s.record(w.fay, "b-1", &pb.Command{Action: &pb.Command_AcceptFigure{AcceptFigure: &pb.AcceptFigure{Joint: joint, Reason: "common figure",
			Window: &pb.Window{Min: &pb.Torque{NewtonMeters: 35}, Max: &pb.Torque{NewtonMeters: 40}}}}})
	}
	whole := s.planWhole(w.ben)
	require.False(t, whole.GetBlocked(), "%v", whole.GetJobs()[0].GetPlan().GetFindings())
	require.Len(t, whole.GetJobs()[0].GetPlan().GetAccepted(), 2)
}

// A stranger gets nothing of it.
func TestWholeNeedsASession(t *testing.T) {
	s, _, _ := wholeShop(t)
	_, err := s.builds.PlanWhole(t.Context(), &pb.PlanWholeRequest{Bike: &pb.PlanWholeRequest_Build{Build: "builds/b-1"}})
	fails(t, err, codes.Unauthenticated, "SESSION_REQUIRED")
}
