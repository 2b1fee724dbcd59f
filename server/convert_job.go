package server

import (
	"math/big"
	"time"

	"google.golang.org/protobuf/types/known/durationpb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
)

// jobToProto shows a job at a moment: how far it has come and what comes next.
// full adds the steps and the plan.
func jobToProto(b *procedure.Build, id string, now time.Time, full bool) (*pb.Job, error) {
	j, ok := b.Job(id)
	if !ok {
		return nil, &missingError{kind: "job", name: jobName(b.ID, id)}
	}
	guide, err := b.Guide(id, procedure.Moment{ServerUS: now.UnixMicro()})
	if err != nil {
		return nil, err
	}
	w := &pb.Job{
		Name: jobName(b.ID, id), Procedure: procedureName(j.Plan.Procedure), Title: j.Plan.Title,
		Revision: j.Plan.Revision, PlanDigest: j.PlanDigest, Risk: riskToProto(j.Plan.Risk),
		State: pb.Job_STATE_OPEN, Opened: momentToProto(j.Opened.Moment),
		StepsDone: int32(guide.Done), StepsTotal: int32(guide.Total), CurrentStep: guide.Current,
		FinishWait: durationpb.New(guide.FinishWait), LastSeq: j.LastSeq, Supervisor: personName(j.Supervisor),
	}
	switch {
	case j.Finished != nil:
		w.State, w.Closed = pb.Job_STATE_FINISHED, momentToProto(j.Finished.Moment)
	case j.Abandoned != nil:
		w.State, w.Closed = pb.Job_STATE_ABANDONED, momentToProto(j.Abandoned.Moment)
	}
	if !full {
		return w, nil
	}
	w.Plan = planToProto(j.Plan, j.PlanDigest)
	for i, s := range j.Steps {
		w.Steps = append(w.Steps, stepStateToProto(b.ID, s, guide.Steps[i]))
	}
	return w, nil
}

func stepStateToProto(build string, s *procedure.StepState, g procedure.GuideStep) *pb.StepState {
	w := &pb.StepState{
		StepId: g.ID, Status: stepStatusToProto(g.Status), Lacks: g.Lacks, Missing: g.Missing, Void: g.Void,
		Wait: durationpb.New(g.Wait), HoldOpen: s.HoldOpen(), Reworks: int32(s.Reworks),
	}
	if g.Bolt != "" {
		w.NextPull = nextPullToProto(s.Planned.Torque, g)
	}
	for _, item := range s.Planned.Items() {
		if r := s.Results[item]; r != nil {
			w.Results = append(w.Results, resultToProto(build, r, s.Planned.Risk))
		}
	}
	if s.Signed != nil {
		w.Signed = &pb.Signature{Person: personName(s.Signed.Actor), Moment: momentToProto(s.Signed.Moment)}
	}
	return w
}

func resultToProto(build string, r *procedure.Result, risk procedure.Risk) *pb.Result {
	w := &pb.Result{
		Item: r.Item, Entry: entryName(build, r.Entry.ID), Seq: r.Entry.Seq, Shown: r.Shown,
		Verdict: verdictToProto(r.Judgement.Verdict), Tool: toolName(r.Tool), Actor: personName(r.Entry.Actor),
		Stands: r.Stands(risk),
	}
	if r.Void != nil {
		w.VoidBy = entryName(build, r.Void.ID)
	}
	if r.AcceptedBy != nil {
		w.AcceptedBy = personName(r.AcceptedBy.Actor)
	}
	return w
}

func nextPullToProto(t *procedure.PlannedTorque, g procedure.GuideStep) *pb.NextPull {
	pass := g.Pass - 1
	w := &pb.NextPull{Bolt: g.Bolt, Pass: int32(g.Pass), Round: int32(g.Round), Aim: torqueToProto(passAim(t, pass))}
	for _, c := range t.Choices {
		if c.Can() {
			w.Settings = append(w.Settings, &pb.NextPull_Setting{Tool: toolName(c.Tool), Kind: toolKindToProto(c.Kind),
				Setting: passSetting(t, c, pass)})
		}
	}
	return w
}

// passAim is what to aim for in a pass, counted from 0.
func passAim(t *procedure.PlannedTorque, pass int) torque.Torque {
	if pass < 0 || pass >= len(t.Passes) {
		return t.Aim
	}
	part := big.NewRat(int64(t.Passes[pass]), 100)
	aim, err := torque.FromRat(part.Mul(part, t.Aim.Rat()))
	if err != nil {
		return t.Aim // cannot be: the part of a torque in range is in range
	}
	return aim
}

// passSetting is the mark of a tool for a pass; nil for a tool that is not set.
func passSetting(t *procedure.PlannedTorque, c procedure.ToolChoice, pass int) *pb.Figure {
	if last := len(t.Passes) - 1; pass < last && pass < len(c.Passes) {
		return figureToProto(c.Passes[pass])
	}
	return optionalFigure(c.Setting)
}
