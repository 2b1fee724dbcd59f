package server

import (
	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
)

func planToProto(p *procedure.Plan, digest string) *pb.Plan {
	probability := p.Policy.Probability
	if probability == 0 {
		probability = procedure.DefaultProbability
	}
	return &pb.Plan{
		Engine: int32(p.Engine), Build: buildName(p.Build), Procedure: procedureName(p.Procedure), Title: p.Title,
		Edition: int32(p.Edition), Revision: p.Revision, SheetDigest: p.SheetDigest, Digest: digest,
		Time: timeToProto(p.At), Risk: riskToProto(p.Risk), Allowance: allowanceToProto(p.Allowance),
		Probability: probability, Accepted: each(p.Policy.Accepted, acceptanceToProto),
		Minutes: int32(p.Minutes), LeastMinutes: int32(p.Least), Tools: p.Tools, Consumables: p.Consumables,
		Cautions: p.Cautions, Fit: each(p.Fit, plannedFitToProto), Steps: each(p.Steps, plannedStepToProto),
		Skipped: each(p.Skipped, func(s procedure.SkippedStep) *pb.SkippedStep {
			return &pb.SkippedStep{StepId: s.ID, Title: s.Title, Reason: s.Reason}
		}),
		Findings: each(p.Findings, func(x procedure.PlanFinding) *pb.PlanFinding {
			return &pb.PlanFinding{Rule: x.Rule, Step: x.Step, About: x.About, Text: x.Text, Blocks: x.Blocks}
		}),
		Blocked: p.Blocked(), Origin: p.Origin, Takes: p.Takes,
	}
}

func acceptanceToProto(a procedure.Acceptance) *pb.Acceptance {
	return &pb.Acceptance{Joint: a.Joint, Person: personName(a.Person), Time: timeToProto(a.At)}
}

func plannedFitToProto(x procedure.PlannedFit) *pb.PlannedFit {
	return &pb.PlannedFit{
		Rule: x.Rule, Check: x.Check, Verdict: x.Verdict, Measured: x.Measured, Limit: x.Limit, Margin: x.Margin,
		Instrument: x.Instrument, Needs: x.Needs, Why: x.Why, Source: x.Source, Numbers: x.Numbers,
	}
}

func plannedStepToProto(s procedure.PlannedStep) *pb.PlannedStep {
	w := &pb.PlannedStep{
		StepId: s.ID, Title: s.Title, Instruction: s.Do, Why: s.Why, Accept: s.Accept, Mistake: s.Mistake,
		Risk: riskToProto(s.Risk), Parts: s.Parts, Tools: s.Tools, Thread: s.Thread,
		ThreadPrep: plannedPrepToProto(s.ThreadPrep), FacePrep: plannedPrepToProto(s.FacePrep), FaceWhere: s.FaceWhere,
		Torque: plannedTorqueToProto(s.Torque), Checks: each(s.Checks, plannedCheckToProto),
		Hold: holdToProto(s.Hold), Waits: each(s.Waits, waitToProto), Cautions: s.Cautions, Voids: s.Voids,
		Rework: each(s.Rework, reworkToProto), Due: dueToProto(s.Due), Source: sourceToProto(s.Source),
		Hands: handsToProto(s.Hands),
	}
	if s.Thread != "" {
		w.Hand = handToProto(s.Hand)
	}
	return w
}

func plannedPrepToProto(p *procedure.PlannedPrep) *pb.PlannedPrep {
	if p == nil {
		return nil
	}
	return &pb.PlannedPrep{Use: prepToProto(p.Use), Why: p.Why, Never: each(p.Never, prepToProto)}
}

func plannedCheckToProto(c procedure.PlannedCheck) *pb.Check {
	return &pb.Check{CheckId: c.ID, Kind: checkKindToProto(c.Kind), Ask: c.Ask, Unit: c.Unit, Min: c.Min,
		Max: c.Max, Instrument: c.Instrument, Error: c.Error}
}

func plannedTorqueToProto(t *procedure.PlannedTorque) *pb.PlannedTorque {
	if t == nil {
		return nil
	}
	return &pb.PlannedTorque{
		Joint: t.Joint, Title: t.Title, Location: t.Location, Window: windowToProto(t.Window),
		Limits: each(t.Limits, windowLimitToProto), Governs: t.Governs, Confidence: confidenceToProto(t.Confidence),
		AcceptedBy: personName(t.AcceptedBy), Assumes: prepToProto(t.Assumes), Aim: torqueToProto(t.Aim),
		Bolts: t.Bolts, Order: t.Order, Passes: int32s(t.Passes), Closing: t.Closing,
		ClosingLimit: int32(t.ClosingLimit), ByFeel: t.ByFeel, Choices: each(t.Choices, toolChoiceToProto),
	}
}

func windowLimitToProto(l procedure.WindowLimit) *pb.WindowLimit {
	return &pb.WindowLimit{End: l.End, Value: torqueToProto(l.Value), StatedBy: l.From, AsWritten: l.AsWritten,
		Where: l.Where, Source: l.Source, Confidence: confidenceToProto(l.Confidence), PasteLessPercent: int32(l.PasteLess)}
}

func toolChoiceToProto(c procedure.ToolChoice) *pb.ToolChoice {
	w := &pb.ToolChoice{
		Tool: toolName(c.Tool), Kind: toolKindToProto(c.Kind), Setting: optionalFigure(c.Setting),
		Passes: each(c.Passes, figureToProto),
		Faults: each(c.Faults, func(x procedure.ToolFault) *pb.ToolChoice_Fault {
			return &pb.ToolChoice_Fault{Rule: x.Rule, Text: x.Text}
		}),
	}
	if c.Settings != nil {
		w.Settings = windowToProto(*c.Settings)
	}
	if c.Possible != nil {
		w.Possible = windowToProto(*c.Possible)
	}
	if c.Accept != nil {
		w.Accept = windowToProto(*c.Accept)
	}
	return w
}

func optionalFigure(f *torque.Figure) *pb.Figure {
	if f == nil {
		return nil
	}
	return figureToProto(*f)
}
