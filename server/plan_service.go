package server

import (
	"context"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// mostPreviewTools bounds the tools that are sent along.
const mostPreviewTools = 100

// PreviewPlan plans a procedure without opening a job.
func (s buildService) PreviewPlan(ctx context.Context, req *pb.PreviewPlanRequest) (*pb.PreviewPlanResponse, error) {
	var f fields
	bike := f.bike(req, s.vocabulary())
	procedureID, err := parseID(procedures, req.GetProcedure())
	f.take("procedure", err)
	with := f.previewTools(req.GetTools())
	if err := f.err(); err != nil {
		return nil, err
	}
	resolved, err := s.procedures().find(procedureID)
	if err != nil {
		return nil, err
	}
	var plan *procedure.Plan
	err = s.view(ctx, func(r store.Reader) error {
		in, err := s.planInput(ctx, r, bike, with)
		if err != nil {
			return err
		}
		plan, err = procedure.NewPlan(resolved, in.sheet, in.tools, s.now(), in.policy)
		return err
	})
	if err != nil {
		return nil, err
	}
	_, digest, err := plan.Encode()
	if err != nil {
		return nil, err
	}
	return &pb.PreviewPlanResponse{Plan: planToProto(plan, digest)}, nil
}

// A bike is what to plan for: a build by id, or a sheet that was sent along.
type bike struct {
	build string
	sheet *procedure.Sheet
}

// A bikeRequest names a bike or brings its sheet.
type bikeRequest interface {
	GetBuild() string
	GetSheet() *pb.Sheet
}

func (f *fields) bike(req bikeRequest, v *procedure.Vocabulary) bike {
	switch {
	case req.GetSheet() != nil:
		return bike{sheet: f.sheetFromProto("", req.GetSheet(), v)}
	case req.GetBuild() != "":
		id, err := parseID(builds, req.GetBuild())
		f.take("build", err)
		return bike{build: id}
	}
	f.add("bike", "missing", "name a build or send a sheet")
	return bike{}
}

// A planInput is what a bike is planned from.
type planInput struct {
	sheet  *procedure.Sheet
	tools  []procedure.Tool
	policy procedure.Policy
}

// planInput reads the sheet of a bike of the record, and the rack where no
// tools were sent along.
func (s *Server) planInput(ctx context.Context, r store.Reader, b bike, with []procedure.Tool) (in planInput, err error) {
	in = planInput{sheet: b.sheet, tools: with, policy: s.options.Policy}
	if b.build != "" {
		if _, in.sheet, err = readSheet(r, b.build); err != nil {
			return in, err
		}
		if in.policy.Accepted, err = s.acceptedOn(ctx, r, b.build); err != nil {
			return in, err
		}
	}
	if len(with) == 0 {
		in.tools, err = rack(r)
	}
	return in, err
}

func (f *fields) previewTools(all []*pb.Tool) []procedure.Tool {
	if len(all) > mostPreviewTools {
		f.add("tools", "too-many", "at most %d tools", mostPreviewTools)
		return nil
	}
	seen := map[string]bool{}
	var out []procedure.Tool
	for i, w := range all {
		path := fmt.Sprintf("tools[%d]", i)
		id, err := parseID(tools, w.GetName())
		f.take(joinPath(path, "name"), err)
		if seen[id] {
			f.add(joinPath(path, "name"), "duplicate-id", "this tool is in the list already")
		}
		seen[id] = true
		t := f.toolFromProto(path, id, w)
		f.checkTool(path, &t)
		out = append(out, t)
	}
	return out
}

// acceptedOn lists the windows that a foreman answers for on a build.
func (s *Server) acceptedOn(ctx context.Context, r store.Reader, build string) (out []procedure.Acceptance, err error) {
	err = s.reading.with(r, s.workshop(ctx), build, func(f *fold) error {
		out = append(out, f.build.Accepted...)
		return nil
	})
	return out, err
}

// planFor plans a procedure for a bike of the record inside a transaction.
func (s *Server) planFor(tx store.Tx, procedureID string, sheet *procedure.Sheet, accepted []procedure.Acceptance, at time.Time) (*procedure.Plan, error) {
	resolved, err := s.procedures().find(procedureID)
	if err != nil {
		return nil, err
	}
	all, err := rack(tx)
	if err != nil {
		return nil, err
	}
	policy := s.options.Policy
	policy.Accepted = accepted
	return procedure.NewPlan(resolved, sheet, all, at, policy)
}
