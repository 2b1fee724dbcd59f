package server

import (
	"context"
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/teaching"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// Bounds of a curriculum.
const (
	mostHeldSkills   = 200
	mostLatestBuilds = 200
)

// teachingFields are the fields that the API calls otherwise than the domain
// does.
var teachingFields = map[string]string{"questions": "questions_per_module"}

type teachingService struct {
	pb.UnimplementedTeachingServiceServer
	*Server
}

// ProposeCurriculum puts skills into modules with tests and questions.
func (s teachingService) ProposeCurriculum(ctx context.Context, req *pb.ProposeCurriculumRequest) (*pb.ProposeCurriculumResponse, error) {
	taught, err := s.readCurriculum(req)
	if err != nil {
		return nil, err
	}
	o := teaching.Options{Seed: req.GetSeed(), Questions: int(req.GetQuestionsPerModule()),
		ModuleHours: int(req.GetModuleHours()), Held: req.GetHeldSkills(), At: s.now()}
	var findings []audit.Finding
	err = s.view(ctx, func(r store.Reader) (err error) {
		if o.Tools, err = rack(r); err != nil {
			return err
		}
		findings, err = s.latestFindings(ctx, r, int(req.GetLatestBuilds()))
		return err
	})
	if err != nil {
		return nil, err
	}
	c, err := teaching.New(taught, findings, o)
	if err != nil {
		return nil, repath("", teachingFields, err)
	}
	return &pb.ProposeCurriculumResponse{Curriculum: curriculumToProto(c)}, nil
}

// readCurriculum finds the procedures of a request.
func (s *Server) readCurriculum(req *pb.ProposeCurriculumRequest) ([]*procedure.Resolved, error) {
	var f fields
	if n := req.GetLatestBuilds(); n < 0 || n > mostLatestBuilds {
		f.add("latest_builds", "out-of-range", "audit 0 to %d builds, not %d", mostLatestBuilds, n)
	}
	if len(req.GetHeldSkills()) > mostHeldSkills {
		f.add("held_skills", "too-many", "at most %d skills", mostHeldSkills)
	}
	ids := s.procedures().ids
	if len(req.GetProcedures()) > 0 {
		ids = nil
	}
	if len(req.GetProcedures()) > len(s.procedures().ids) {
		f.add("procedures", "too-many", "there are %d procedures", len(s.procedures().ids))
		return nil, f.err()
	}
	for i, name := range req.GetProcedures() {
		id, err := parseID(procedures, name)
		f.take(fmt.Sprintf("procedures[%d]", i), err)
		ids = append(ids, id)
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	var out []*procedure.Resolved
	for _, id := range ids {
		p, err := s.procedures().find(id)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// latestFindings audits the builds opened last.
func (s *Server) latestFindings(ctx context.Context, r store.Reader, most int) ([]audit.Finding, error) {
	if most == 0 {
		return nil, nil
	}
	rows, err := r.Builds(store.BuildRow{}, most)
	if err != nil {
		return nil, fmt.Errorf("list builds: %w", err)
	}
	view, err := s.auditView(r)
	if err != nil {
		return nil, err
	}
	var out []audit.Finding
	for _, row := range rows {
		found, err := s.auditBuild(ctx, r, row.Build, view)
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	return out, nil
}
