package server

import (
	"time"

	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// entryToStore makes what the store keeps of an entry.
func entryToStore(e procedure.Entry) (store.Entry, error) {
	envelope, payload, err := e.Encode()
	if err != nil {
		return store.Entry{}, err
	}
	m := e.Moment
	out := store.Entry{
		Build: e.Build, Seq: e.Seq, ID: e.ID, Job: e.Job, Schema: e.Schema, Kind: e.Kind, Actor: e.Actor,
		Tablet: m.Tablet, TabletSeq: m.TabletSeq, Boot: m.Boot, MonotonicUS: m.MonotonicUS, TabletUS: m.TabletUS,
		ServerUS: m.ServerUS, BasedOnSeq: e.BasedOn, Envelope: envelope, Payload: payload,
	}
	if m.OffsetUS != nil {
		out.OffsetUS, out.OffsetKnown = *m.OffsetUS, true
	}
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken:
		out.Tools = []string{p.Tool}
	case procedure.ToolCorrected:
		out.Tools = []string{p.Tool}
	default: // nothing else is done with a torque tool
	}
	return out, nil
}

// entryToProto shows a stored entry.
func entryToProto(e store.Entry) (*pb.Entry, error) {
	d, err := procedure.DecodeEntry(e.Envelope, e.Payload)
	if err != nil {
		return nil, err
	}
	w := &pb.Entry{
		Name: entryName(d.Build, d.ID), Seq: d.Seq, Job: jobName(d.Build, d.Job), Kind: d.Kind,
		Actor: personName(d.Actor), BasedOnSeq: d.BasedOn, Moment: momentToProto(d.Moment),
		Schema: int32(d.Schema), LedgerIndex: e.LedgerIndex,
	}
	if d.Happened != nil {
		w.Happened = momentToProto(*d.Happened)
	}
	payloadToProto(w, d)
	return w, nil
}

func entriesToProto(all []store.Entry) ([]*pb.Entry, error) {
	out := make([]*pb.Entry, 0, len(all))
	for _, e := range all {
		w, err := entryToProto(e)
		if err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	return out, nil
}

func momentToProto(m procedure.Moment) *pb.Moment {
	w := &pb.Moment{
		Tablet: m.Tablet, TabletSeq: m.TabletSeq, Boot: m.Boot,
		ServerTime: timestamppb.New(time.UnixMicro(m.ServerUS)), BestTime: timestamppb.New(m.Best()), ClockAhead: m.ClockAhead(),
	}
	if m.Boot != "" {
		w.Monotonic = durationpb.New(time.Duration(m.MonotonicUS) * time.Microsecond)
	}
	if m.TabletUS != 0 {
		w.TabletTime = timestamppb.New(time.UnixMicro(m.TabletUS))
	}
	if m.OffsetUS != nil {
		w.Offset = durationpb.New(time.Duration(*m.OffsetUS) * time.Microsecond)
	}
	return w
}

func resultRefToProto(build string) func(procedure.ResultRef) *pb.ResultRef {
	return func(r procedure.ResultRef) *pb.ResultRef {
		return &pb.ResultRef{Job: jobName(build, r.Job), Step: r.Step, Item: r.Item}
	}
}
