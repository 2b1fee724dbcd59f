package main

import (
	"fmt"
	"strings"

	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/script"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

func wireTool(t procedure.Tool) *pb.Tool {
	out := &pb.Tool{Label: t.Label, Kind: pb.ToolKind(t.Kind), Unit: t.Unit.UCUM(), Min: t.Min, Max: t.Max, Graduation: t.Graduation}
	for _, c := range t.Calibrations {
		out.Calibrations = append(out.Calibrations, wireCalibration(c))
	}
	for _, a := range t.Away {
		absence := &pb.Absence{StartTime: timestamppb.New(a.From)}
		if !a.To.IsZero() {
			absence.EndTime = timestamppb.New(a.To)
		}
		out.Absences = append(out.Absences, absence)
	}
	return out
}

func wireCalibration(c procedure.Calibration) *pb.Calibration {
	out := &pb.Calibration{CalibrationId: c.ID, Time: timestamppb.New(c.At), DueTime: timestamppb.New(c.Due),
		AsFound: c.AsFound, AsLeft: c.AsLeft, DeviationPercent: c.DeviationPercent, Certificate: c.Certificate}
	for _, h := range c.Hands {
		hand := pb.Hand_HAND_RIGHT
		if h == joint.LeftHand {
			hand = pb.Hand_HAND_LEFT
		}
		out.Hands = append(out.Hands, hand)
	}
	return out
}

func wireSheet(s *procedure.Sheet) *pb.Sheet {
	out := &pb.Sheet{Label: s.Label, Invented: s.Invented}
	for _, p := range s.Parts {
		out.Parts = append(out.Parts, wirePart(p))
	}
	return out
}

func wirePart(p procedure.Part) *pb.Part {
	out := &pb.Part{Role: p.Role, Material: p.Material, Attributes: p.Is}
	for _, f := range p.Printed {
		out.Printed = append(out.Printed, &pb.PrintedFigure{Joint: f.Joint, Marking: f.Marking, Seen: pb.Confidence(f.Seen), Where: f.Where})
	}
	return out
}

func wireOutcome(e *pb.Entry) (*script.Outcome, error) {
	if e == nil {
		return nil, errNoEntry
	}
	out := &script.Outcome{Seq: e.Seq}
	var jd *pb.Judgement
	switch p := e.Payload.(type) {
	case *pb.Entry_ReadingTaken:
		jd = p.ReadingTaken.Judgement
	case *pb.Entry_MeasureTaken:
		jd = p.MeasureTaken.Judgement
	case *pb.Entry_LookTaken:
		jd = p.LookTaken.Judgement
	case *pb.Entry_PhotoTaken:
		jd = p.PhotoTaken.Judgement
	case *pb.Entry_PrepDone:
		jd = p.PrepDone.Judgement
	case *pb.Entry_ToolCorrected:
		jd = p.ToolCorrected.Judgement
	case *pb.Entry_ReworkBegun:
		out.Voids = resultRefs(p.ReworkBegun.Voids)
		return out, nil
	case *pb.Entry_PartSwapped:
		out.Voids = resultRefs(p.PartSwapped.Voids)
		return out, nil
	default:
		return out, nil
	}
	out.Voids = resultRefs(jd.GetVoids())
	out.Judgement = &procedure.Judgement{Counts: jd.GetCounts(), Rule: jd.GetRule(), Text: jd.GetText(), Verdict: procedure.Verdict(jd.GetVerdict())}
	return out, nil
}

func resultRefs(refs []*pb.ResultRef) []procedure.ResultRef {
	var out []procedure.ResultRef
	for _, r := range refs {
		out = append(out, procedure.ResultRef{Job: lastPart(r.Job), Step: r.Step, Item: r.Item})
	}
	return out
}

// lastPart is the id at the end of a resource name.
func lastPart(name string) string { return name[strings.LastIndexByte(name, '/')+1:] }

func viewWirePlan(p *pb.Plan) *script.PlanView {
	v := &script.PlanView{Blocked: p.Blocked}
	for _, f := range p.Fit {
		v.Fit = append(v.Fit, script.FitLine(procedure.PlannedFit{Rule: f.Rule, Check: f.Check, Verdict: f.Verdict, Needs: f.Needs, Margin: f.Margin}))
	}
	for _, s := range p.Steps {
		if s.Torque != nil {
			v.Steps = append(v.Steps, fmt.Sprintf("%s: %s; %s", s.Title, windowText(s.Torque.Window), s.Torque.Governs))
		}
	}
	for _, f := range p.Findings {
		v.Findings = append(v.Findings, procedure.PlanFinding{Rule: f.Rule, Step: f.Step, About: f.About, Text: f.Text, Blocks: f.Blocks})
	}
	return v
}

// windowText words a window as package torque does.
func windowText(w *pb.Window) string {
	low, errLow := torque.FromNewtonMeters(w.GetMin().GetNewtonMeters())
	high, errHigh := torque.FromNewtonMeters(w.GetMax().GetNewtonMeters())
	if errLow != nil || errHigh != nil {
		return "unknown"
	}
	window, err := torque.NewWindow(low, high)
	if err != nil {
		return "unknown"
	}
	return window.String()
}

func viewWireJob(j *pb.Job) (*script.JobView, error) {
	v := &script.JobView{Current: j.CurrentStep}
	planned := map[string]*pb.PlannedStep{}
	for _, s := range j.Plan.Steps {
		planned[s.StepId] = s
	}
	for _, s := range j.Steps {
		p := planned[s.StepId]
		sv := script.StepView{ID: s.StepId, Title: p.GetTitle(), Status: procedure.StepStatus(s.Status), Missing: s.Missing,
			Bolt: s.NextPull.GetBolt(), Pass: int(s.NextPull.GetPass()), Hold: procedure.Signer(p.GetHold().GetBy()),
			ThreadPrep: procedure.Prep(p.GetThreadPrep().GetUse()), FacePrep: procedure.Prep(p.GetFacePrep().GetUse())}
		for _, c := range p.GetChecks() {
			sv.Checks = append(sv.Checks, procedure.PlannedCheck{ID: c.CheckId, Kind: procedure.CheckKind(c.Kind), Unit: c.Unit, Min: c.Min, Max: c.Max})
		}
		settings, err := wireSettings(p.GetTorque().GetChoices())
		if err != nil {
			return nil, err
		}
		sv.Settings = settings
		v.Steps = append(v.Steps, sv)
	}
	return v, nil
}

func wireSettings(choices []*pb.ToolChoice) ([]script.Setting, error) {
	var out []script.Setting
	for _, c := range choices {
		if len(c.Faults) > 0 {
			continue
		}
		set := script.Setting{Tool: lastPart(c.Tool)}
		for _, f := range c.Passes {
			unit, err := torque.ParseUnit(f.Unit)
			if err != nil {
				return nil, err
			}
			fig, err := torque.ParseFigure(f.Digits, unit)
			if err != nil {
				return nil, err
			}
			set.Passes = append(set.Passes, fig)
		}
		out = append(out, set)
	}
	return out, nil
}
