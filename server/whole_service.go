package server

import (
	"context"
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// PlanWhole plans every procedure that a bike asks for.
func (s buildService) PlanWhole(ctx context.Context, req *pb.PlanWholeRequest) (*pb.PlanWholeResponse, error) {
	var f fields
	bike := f.bike(req, s.vocabulary())
	with := f.previewTools(req.GetTools())
	at := s.workStarts(&f, req.GetTime())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.PlanWholeResponse{}
	err := s.view(ctx, func(r store.Reader) error {
		in, err := s.planInput(ctx, r, bike, with)
		if err != nil {
			return err
		}
		whole, err := procedure.NewWhole(s.procedures().all(), in.sheet, in.tools, at, in.policy)
		if err != nil {
			return err
		}
		if bike.build == "" {
			resp.Whole, err = wholeToProto(whole, nil)
			return err
		}
		return s.reading.with(r, s.workshop(ctx), bike.build, func(f *fold) error {
			resp.Whole, err = wholeToProto(whole, f.build)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// workStarts reads when the work starts; absent means now.
func (s *Server) workStarts(f *fields, w *timestamppb.Timestamp) time.Time {
	if w == nil {
		return s.now()
	}
	return f.time("time", w, true)
}

// GetBuildHistory gives what was done on a bike.
func (s buildService) GetBuildHistory(ctx context.Context, req *pb.GetBuildHistoryRequest) (*pb.GetBuildHistoryResponse, error) {
	var f fields
	id, err := parseID(builds, req.GetName())
	f.take("name", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.GetBuildHistoryResponse{}
	err = s.view(ctx, func(r store.Reader) error {
		if err := s.hasBuild(r, id); err != nil {
			return err
		}
		return s.reading.with(r, s.workshop(ctx), id, func(f *fold) error {
			resp.History = historyToProto(f.build)
			return nil
		})
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}
