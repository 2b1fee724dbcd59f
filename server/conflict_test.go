package server_test

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// twoJobs has one bike with a cassette job, done but for finishing, and a crank
// job at its start.
func twoJobs(t *testing.T) (*shop, staff) {
	t.Helper()
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	s.open(w.ben, "b-1", "j-1", "cassette-splined-body")
	s.open(w.sam, "b-1", "j-2", "bottom-bracket-threaded")
	(&mechanic{shop: s, by: w.ben, second: w.sam, build: "b-1", job: "j-1"}).until("")
	return s, w
}

// firstLook is a yes to the first question of a job.
func (s *shop) firstLook(by *hand, build, job string) *pb.Command {
	s.Helper()
	j := s.job(by, build, job)
	for _, step := range j.GetPlan().GetSteps() {
		for _, c := range step.GetChecks() {
			if c.GetKind() == pb.CheckKind_CHECK_KIND_LOOK {
				return look(j.GetName(), step.GetStepId(), c.GetCheckId(), true, "")
			}
		}
	}
	require.Fail(s, "no question in this job")
	return nil
}

func TestTwoPeopleOnOneBikeDoNotCollide(t *testing.T) {
	s, w := twoJobs(t)
	seen := s.head(w.ben, "b-1")
	s.record(w.sam, "b-1", s.firstLook(w.sam, "b-1", "j-2")) // at another tablet, in the other job
	r, err := s.send(w.ben, "b-1", seen, finish(jobName))
	require.NoError(t, err)
	require.Equal(t, seen, r.GetOutcomes()[0].GetEntry().GetBasedOnSeq())
}

// A person knows what was recorded at the own tablet, before this batch and in
// it, even when others recorded in between.
func TestOwnEntriesAreNoConflict(t *testing.T) {
	s, w := twoJobs(t)
	seen := s.head(w.ben, "b-1")
	s.record(w.sam, "b-1", s.firstLook(w.sam, "b-1", "j-2"))
	s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, ""))
	r, err := s.send(w.ben, "b-1", seen, look(jobName, "compare-parts", "length-on-sheet", true, ""), finish(jobName))
	require.NoError(t, err)
	require.NotNil(t, r.GetOutcomes()[1].GetEntry(), "%v", r.GetOutcomes()[1].GetRefusal())
	require.Equal(t, seen, r.GetOutcomes()[1].GetEntry().GetBasedOnSeq())
}

func TestConflictShowsTheEntriesOfTheOthers(t *testing.T) {
	s, w := twoJobs(t)
	seen := s.head(w.ben, "b-1")
	others := s.record(w.sam, "b-1", look(jobName, "compare-parts", "pattern", true, "looked again"))

	_, err := s.send(w.ben, "b-1", seen, finish(jobName))
	st := status.Convert(err)
	require.Equal(t, codes.Aborted, st.Code(), st.Message())
	require.Len(t, st.Details(), 3)
	equal(t, &errdetails.ErrorInfo{Reason: "CHANGED_MEANWHILE", Domain: "tightwright"}, st.Details()[0])
	require.Equal(t, "changed-meanwhile", st.Details()[1].(*errdetails.PreconditionFailure).GetViolations()[0].GetType())
	equal(t, &pb.Conflict{BasedOnSeq: seen, ChangedSeq: seen + 1, HeadSeq: seen + 1, Entries: others}, st.Details()[2])
	require.Equal(t, seen+1, s.head(w.ben, "b-1"))

	// Having looked, the person decides again.
	r, err := s.send(w.ben, "b-1", seen+1, finish(jobName))
	require.NoError(t, err)
	require.NotNil(t, r.GetOutcomes()[0].GetEntry())
}

func TestConflictBesideARecordedFact(t *testing.T) {
	s, w := twoJobs(t)
	seen := s.head(w.ben, "b-1")
	others := s.record(w.sam, "b-1", look(jobName, "compare-parts", "pattern", true, ""))
	r, err := s.send(w.ben, "b-1", seen, look(jobName, "compare-parts", "length-on-sheet", true, ""), finish(jobName))
	require.NoError(t, err)
	require.NotNil(t, r.GetOutcomes()[0].GetEntry())
	require.Equal(t, "changed-meanwhile", r.GetOutcomes()[1].GetRefusal().GetRule())
	require.Positive(t, r.GetOutcomes()[1].GetRefusal().GetChangedSeq())
	equal(t, others, r.GetEntriesSince())
}

func TestConflictDetailIsBounded(t *testing.T) {
	s, w := twoJobs(t)
	seen := s.head(w.ben, "b-1")
	for range 30 {
		s.record(w.sam, "b-1", look(jobName, "compare-parts", "pattern", true, ""))
	}
	_, err := s.send(w.ben, "b-1", seen, finish(jobName))
	c, ok := status.Convert(err).Details()[2].(*pb.Conflict)
	require.True(t, ok)
	require.True(t, c.GetTruncated())
	require.NotEmpty(t, c.GetEntries())
	require.Equal(t, seen+30, c.GetHeadSeq())
}

// Many tablets record on one bike at the same time: every entry is there once,
// in order, and each tablet's own are in its own order.
func TestTabletsSideBySide(t *testing.T) {
	s, w := twoJobs(t)
	const tablets, each = 8, 25
	before := s.head(w.ben, "b-1")
	var wait sync.WaitGroup
	errs := make(chan error, tablets*each)
	for i := range tablets {
		by := w.ben
		if i%2 == 1 {
			by = w.sam
		}
		wait.Go(func() {
			for range each {
				_, err := s.send(by, "b-1", 0, look(jobName, "compare-parts", "pattern", true, ""))
				errs <- err
			}
		})
	}
	wait.Wait()
	close(errs)
	for err := range errs {
		require.NoError(t, err)
	}
	all := s.entries(w.ben, "b-1", before)
	require.Len(t, all, tablets*each)
	ids := map[string]bool{}
	for i, e := range all {
		require.Equal(t, before+int64(i)+1, e.GetSeq())
		require.False(t, ids[e.GetName()])
		ids[e.GetName()] = true
	}
}

// entries lists all entries of a build after a sequence, page by page.
func (s *shop) entries(by *hand, build string, after int64) []*pb.Entry {
	s.Helper()
	var out []*pb.Entry
	req := &pb.ListEntriesRequest{Build: "builds/" + build, AfterSeq: after, PageSize: 70}
	for {
		page, err := s.bench.ListEntries(by, req)
		require.NoError(s, err)
		out = append(out, page.GetEntries()...)
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			return out
		}
	}
}
