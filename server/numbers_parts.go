package server

import (
	"context"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// Taper works out how a crank arm sits on a square taper.
func (numbersService) Taper(_ context.Context, req *pb.TaperRequest) (*pb.TaperResponse, error) {
	var f fields
	if req.GetTaper() == nil {
		f.add("taper", "missing", "this field is required")
		return nil, f.err()
	}
	taper := f.taper("taper", req.GetTaper())
	if err := f.err(); err != nil {
		return nil, err
	}
	seat, err := taper.Seat()
	f.takeNumbers("taper", err, taperPaths)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.TaperResponse{Seat: taperSeatToProto(taper, seat)}
	f.finite("taper", resp)
	return resp, f.err()
}

// Prep works out what a torque that was stated for one prep does with the others.
func (numbersService) Prep(_ context.Context, req *pb.PrepRequest) (*pb.PrepResponse, error) {
	var f fields
	q := f.prepQuestion(req)
	if err := f.err(); err != nil {
		return nil, err
	}
	out, err := q.Compare()
	f.takePrep(err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.PrepResponse{Comparison: prepComparisonToProto(out)}
	f.finite("bolt", resp)
	for _, row := range resp.GetComparison().GetRows() {
		f.finite("bolt", row)
	}
	return resp, f.err()
}

// Thread gives the sizes of a thread.
func (numbersService) Thread(_ context.Context, req *pb.ThreadRequest) (*pb.ThreadResponse, error) {
	var f fields
	t := f.thread("thread", req.GetThread(), true)
	if err := f.err(); err != nil {
		return nil, err
	}
	return &pb.ThreadResponse{Sizes: threadSizesToProto(t)}, nil
}

// LookAlikes finds which thread a measured part may have and which others it would
// wreck.
func (numbersService) LookAlikes(_ context.Context, req *pb.LookAlikesRequest) (*pb.LookAlikesResponse, error) {
	var f fields
	if req.GetMeasured() == nil {
		f.add("measured", "missing", "this field is required")
		return nil, f.err()
	}
	q := f.measured("measured", req.GetMeasured())
	if err := f.err(); err != nil {
		return nil, err
	}
	out, err := q.Find(joint.KnownThreads())
	f.takeNumbers("measured", err, nil)
	if err := f.err(); err != nil {
		return nil, err
	}
	return lookAlikesToProto(req.GetMeasured(), out), nil
}
