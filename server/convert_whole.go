package server

import (
	"time"

	"google.golang.org/protobuf/types/known/durationpb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// wholeToProto shows a whole. With a record it says of each job how far it has
// come.
func wholeToProto(w *procedure.Whole, record *procedure.Build) (*pb.Whole, error) {
	out := &pb.Whole{
		Build: buildName(w.Build), Label: w.Label, Time: timeToProto(w.At), LeftOut: each(w.LeftOut, leftOutToProto),
		Tools: w.Tools, Consumables: w.Consumables, Holds: each(w.Holds, wholeHoldToProto), Day: each(w.Day, slotToProto),
		Minutes: int32(w.Minutes), Elapsed: durationToProto(w.Elapsed), Release: durationToProto(w.Release),
		Blocked: len(w.Blocked()) > 0,
	}
	for _, j := range w.Jobs {
		_, digest, err := j.Plan.Encode()
		if err != nil {
			return nil, err
		}
		out.Jobs = append(out.Jobs, &pb.WholeJob{Plan: planToProto(j.Plan, digest), After: each(j.After, procedureName)})
	}
	if record != nil {
		for i, p := range w.Progress(record) {
			out.Jobs[i].Progress = progressToProto(record.ID, p)
		}
	}
	return out, nil
}

func progressToProto(build string, p procedure.JobProgress) *pb.JobProgress {
	w := &pb.JobProgress{State: jobStateToProto(p.State), Job: jobName(build, p.Job)}
	if p.Job != "" {
		w.OpenSteps = p.Open
	}
	return w
}

func leftOutToProto(l procedure.LeftOut) *pb.LeftOut {
	return &pb.LeftOut{Procedure: procedureName(l.Procedure), Title: l.Title, Reason: l.Reason}
}

func wholeHoldToProto(h procedure.WholeHold) *pb.WholeHold {
	return &pb.WholeHold{Procedure: procedureName(h.Procedure), StepId: h.Step, Title: h.Title, By: signerToProto(h.By), LooksAt: h.LooksAt}
}

func slotToProto(s procedure.Slot) *pb.Slot {
	return &pb.Slot{
		Procedure: procedureName(s.Procedure), Title: s.Title, FirstStep: int32(s.First), LastStep: int32(s.Last),
		Start: durationToProto(s.Start), Length: durationToProto(s.For), Why: s.Why,
	}
}

func durationToProto(d procedure.Duration) *durationpb.Duration {
	return durationpb.New(time.Duration(d))
}
