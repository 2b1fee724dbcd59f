package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func rules(all []*pb.Finding) []string {
	var out []string
	for _, f := range all {
		out = append(out, f.GetRule())
	}
	return out
}

func TestAuditFindsWhatTheBenchCouldNotKnow(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("")
	s.record(w.ben, "b-1", finish(jobName))
	clean, err := s.audits.AuditJob(w.ben, &pb.AuditJobRequest{Job: jobName})
	require.NoError(t, err)
	require.NotContains(t, rules(clean.GetFindings()), "possibly-out-of-tolerance")

	// Weeks later the wrench that tightened the ring is found far off.
	state, _ := stepOf(s.job(w.ben, "b-1", "j-1"), "tighten-lockring")
	tool := state.GetResults()[0].GetTool()
	s.clock.advance(30 * 24 * 3600e9)
	fay := s.at(&pb.Person{Name: w.fay.name}, "tablet-fay")
	_, err = s.tools.AddCalibration(fay, &pb.AddCalibrationRequest{RequestId: id(), Tool: tool, Calibration: &pb.Calibration{
		Time: timestamppb.New(s.clock.Now()), DueTime: timestamppb.New(s.clock.Now().AddDate(1, 0, 0)), Hands: []pb.Hand{pb.Hand_HAND_RIGHT, pb.Hand_HAND_LEFT},
		AsFound: "1.400", AsLeft: "1.001"}})
	require.NoError(t, err)
	r, err := s.audits.AuditBuild(fay, &pb.AuditBuildRequest{Build: "builds/b-1"})
	require.NoError(t, err)
	require.Contains(t, rules(r.GetFindings()), "possibly-out-of-tolerance")
	for _, f := range r.GetFindings() {
		require.NotEmpty(t, f.GetText())
		if f.GetRule() == "possibly-out-of-tolerance" {
			require.Equal(t, tool, f.GetTool())
			require.Equal(t, jobName, f.GetJob())
			require.Equal(t, w.ben.name, f.GetEvidence()[0].GetActor())
			require.Equal(t, pb.Finding_STATUS_OPEN, f.GetStatus())
		}
	}
	require.Positive(t, r.GetSummary().GetOpen())
}

func TestAuditAllInPages(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("tighten-lockring")
	for _, b := range []string{"b-2", "b-3"} {
		s.bike(w.ben, b, "b-02.yaml")
	}
	var names []string
	req := &pb.AuditAllRequest{PageSize: 2}
	for {
		page, err := s.audits.AuditAll(w.sam, req)
		require.NoError(t, err)
		for _, b := range page.GetBuilds() {
			names = append(names, b.GetBuild())
			alone, err := s.audits.AuditBuild(w.sam, &pb.AuditBuildRequest{Build: b.GetBuild()})
			require.NoError(t, err)
			equal(t, alone.GetFindings(), b.GetFindings())
		}
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			break
		}
	}
	require.Equal(t, []string{"builds/b-1", "builds/b-2", "builds/b-3"}, names)
}

func TestAuditRefuses(t *testing.T) {
	s, w, _ := cassetteShop(t)
	_, err := s.audits.AuditBuild(w.ben, &pb.AuditBuildRequest{Build: "builds/b-9"})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.audits.AuditJob(w.ben, &pb.AuditJobRequest{Job: "builds/b-1/jobs/j-9"})
	notFound(t, err, "job", "builds/b-1/jobs/j-9")
	_, err = s.audits.AuditJob(w.ben, &pb.AuditJobRequest{Job: "j-9"})
	badFields(t, err, "job", "MALFORMED_NAME")
	r, err := s.audits.ListAuditRules(w.ben, &pb.ListAuditRulesRequest{})
	require.NoError(t, err)
	require.NotEmpty(t, r.GetRules())
}

func TestCurriculum(t *testing.T) {
	s, w, m := cassetteShop(t)
	req := &pb.ProposeCurriculumRequest{Procedures: []string{"procedures/cassette-splined-body", "procedures/crank-two-pinch-bolts"}, Seed: 7, QuestionsPerModule: 2}
	first, err := s.teaching.ProposeCurriculum(w.ben, req)
	require.NoError(t, err)
	again, err := s.teaching.ProposeCurriculum(w.ben, req)
	require.NoError(t, err)
	equal(t, first, again)
	questions := 0
	for _, module := range first.GetCurriculum().GetModules() {
		require.NotEmpty(t, module.GetSkills())
		for _, q := range module.GetQuestions() {
			require.NotEmpty(t, q.GetAnswer())
			require.NotEmpty(t, q.GetSolution())
			questions++
		}
	}
	require.Positive(t, questions)

	// What goes wrong in this shop shows in what is dwelt on.
	m.until("tighten-lockring")
	s.record(w.ben, "b-1", reading(jobName, "tighten-lockring", "lockring", figure("70", "N.m"), "tools/tw-04"))
	found := proto.CloneOf(req)
	found.LatestBuilds = 10
	after, err := s.teaching.ProposeCurriculum(w.ben, found)
	require.NoError(t, err)
	focus := 0
	for _, module := range after.GetCurriculum().GetModules() {
		focus += len(module.GetFocus())
	}
	require.Positive(t, focus)
}

func TestCurriculumRefuses(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.teaching.ProposeCurriculum(w.ben, &pb.ProposeCurriculumRequest{Procedures: []string{"pedals"}, LatestBuilds: 201})
	badFields(t, err, "latest_builds", "OUT_OF_RANGE", "procedures[0]", "MALFORMED_NAME")
	_, err = s.teaching.ProposeCurriculum(w.ben, &pb.ProposeCurriculumRequest{Procedures: []string{"procedures/nothing"}})
	notFound(t, err, "procedure", "procedures/nothing")
	_, err = s.teaching.ProposeCurriculum(w.ben, &pb.ProposeCurriculumRequest{QuestionsPerModule: 101, ModuleHours: -1})
	badFields(t, err, "questions_per_module", "OUT_OF_RANGE", "module_hours", "OUT_OF_RANGE")
}
