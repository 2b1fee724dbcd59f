package server

import (
	"time"

	"google.golang.org/protobuf/types/known/durationpb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// each converts a list.
func each[D, W any](all []D, convert func(D) W) []W {
	if len(all) == 0 {
		return nil
	}
	out := make([]W, 0, len(all))
	for _, d := range all {
		out = append(out, convert(d))
	}
	return out
}

func int32s(all []int) []int32 { return each(all, func(n int) int32 { return int32(n) }) }

// procedureHeadToProto leaves steps and joints out.
func procedureHeadToProto(p *procedure.Resolved) *pb.Procedure {
	return &pb.Procedure{
		Name: procedureName(p.ID), Title: p.Title, Edition: int32(p.Edition), Revision: p.Revision.String(),
		About: p.About, Risk: riskToProto(p.Risk), Source: sourceToProto(p.Source), Allowance: allowanceToProto(p.Allowance),
		Minutes: int32(p.Minutes), LeastMinutes: int32(p.LeastMinutes), After: each(p.After, procedureName),
		Roles: p.Roles, FitRules: p.Fit, Cautions: p.Cautions, Tools: p.Tools, Consumables: p.Consumables,
		Skills: each(p.Skills, skillToProto), When: conditionToProto(p.When),
	}
}

func procedureToProto(p *procedure.Resolved) *pb.Procedure {
	w := procedureHeadToProto(p)
	w.Steps = each(p.Steps, stepToProto)
	w.Joints = each(p.Joints, jointRowToProto)
	return w
}

func skillToProto(s procedure.Skill) *pb.Skill {
	return &pb.Skill{SkillId: s.ID, Title: s.Title, Needs: s.Needs, Hours: s.Hours, Test: s.Test}
}

func jointRowToProto(j procedure.JointRow) *pb.JointRow {
	return &pb.JointRow{
		JointId: j.ID, Title: j.Title, Location: j.Location, Thread: j.Thread, ThreadFrom: j.ThreadFrom,
		Window: j.Window, Aim: j.Aim, Limits: j.Limits, ThreadPrep: prepToProto(j.ThreadPrep),
		Risk: riskToProto(j.Risk), Note: j.Note, Source: sourceToProto(j.Source),
	}
}

func sourceToProto(s procedure.Source) *pb.Source {
	return &pb.Source{Text: s.Text, Confidence: confidenceToProto(s.Confidence)}
}

func optionalSource(s *procedure.Source) *pb.Source {
	if s == nil {
		return nil
	}
	return sourceToProto(*s)
}

func conditionToProto(c procedure.Condition) *pb.Condition {
	if len(c) == 0 {
		return nil
	}
	return &pb.Condition{Terms: each(c.Keys(), func(k string) *pb.Condition_Term {
		return &pb.Condition_Term{Attribute: k, Values: c[k]}
	})}
}

func stepToProto(s procedure.Step) *pb.Step {
	return &pb.Step{
		StepId: s.ID, Title: s.Title, Instruction: s.Do, Why: s.Why, Accept: s.Accept, Mistake: s.Mistake,
		When: conditionToProto(s.When), Parts: s.Parts, Risk: riskToProto(s.Risk), Tools: s.Tools,
		Threads: each(s.Threads, threadChoiceToProto), Prep: prepRuleToProto(s.Prep), Torque: torqueRuleToProto(s.Torque),
		Checks: each(s.Checks, checkToProto), Hold: holdToProto(s.Hold), Waits: each(s.Waits, waitToProto),
		Cautions: s.Cautions, Voids: s.Voids, Rework: each(s.Rework, reworkToProto), Due: dueToProto(s.Due),
		Source: optionalSource(s.Source),
	}
}

func threadChoiceToProto(c procedure.ThreadChoice) *pb.ThreadChoice {
	return &pb.ThreadChoice{When: conditionToProto(c.When), Thread: c.Thread, ThreadFrom: c.ThreadFrom}
}

func prepRuleToProto(r *procedure.PrepRule) *pb.PrepRule {
	if r == nil {
		return nil
	}
	return &pb.PrepRule{Thread: each(r.Thread, prepChoiceToProto), Face: each(r.Face, prepChoiceToProto), Where: r.Where}
}

func prepChoiceToProto(c procedure.PrepChoice) *pb.PrepRule_Choice {
	return &pb.PrepRule_Choice{When: conditionToProto(c.When), Use: prepToProto(c.Use), Why: c.Why,
		Reason: reasonToProto(c.Reason), Never: each(c.Never, prepToProto)}
}

func contactToProto(c procedure.Contact) *pb.Contact {
	return &pb.Contact{ContactId: c.ID, Title: c.Title, Between: c.Between, Uses: each(c.Uses, prepChoiceToProto), Source: sourceToProto(c.Source)}
}

func torqueRuleToProto(r *procedure.TorqueRule) *pb.TorqueRule {
	if r == nil {
		return nil
	}
	return &pb.TorqueRule{
		Joints: each(r.Joints, func(c procedure.JointChoice) *pb.TorqueRule_Choice {
			return &pb.TorqueRule_Choice{When: conditionToProto(c.When), Joint: c.Joint}
		}),
		Bolts: r.Bolts, Order: r.Order, Passes: int32s(r.Passes), Closing: r.Closing,
		ClosingLimit: int32(r.ClosingLimit), ByFeel: r.ByFeel,
	}
}

func checkToProto(c procedure.Check) *pb.Check {
	return &pb.Check{
		CheckId: c.ID, Kind: checkKindToProto(c.Kind), Ask: c.Ask, When: conditionToProto(c.When), Unit: c.Unit,
		Min: c.Min, Max: c.Max, Expect: c.Expect, Within: c.Within, Instrument: c.Instrument, Error: c.Error,
		Source: optionalSource(c.Source),
	}
}

func holdToProto(h *procedure.Hold) *pb.Hold {
	if h == nil {
		return nil
	}
	return &pb.Hold{By: signerToProto(h.By), LooksAt: h.LooksAt, When: conditionToProto(h.When)}
}

func waitToProto(w procedure.Wait) *pb.Wait {
	return &pb.Wait{
		Preps: each(w.With, prepToProto), Least: durationpb.New(time.Duration(w.For)), Before: w.Before,
		Longer: each(w.Longer, longerToProto), Why: w.Why, Source: sourceToProto(w.Source),
	}
}

func longerToProto(l procedure.Longer) *pb.Wait_Longer {
	w := &pb.Wait_Longer{Metals: l.Metals, Times: int32(l.Times)}
	if l.BelowCelsius != nil {
		below := int32(*l.BelowCelsius)
		w.BelowCelsius = &below
	}
	return w
}

func reworkToProto(r procedure.Rework) *pb.Rework {
	return &pb.Rework{Found: r.If, Remedy: r.Do, BackTo: r.From}
}

func vocabularyToProto(v *procedure.Vocabulary) *pb.ListPartRolesResponse {
	return &pb.ListPartRolesResponse{Materials: v.Materials, PartRoles: each(v.Roles, func(r procedure.PartRole) *pb.PartRole {
		return &pb.PartRole{Role: r.Role, Title: r.Title, Attributes: each(r.Attributes, partAttributeToProto)}
	})}
}
