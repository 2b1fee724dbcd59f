package server

import (
	"errors"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// A settingQuestion is a checked SettingRequest.
type settingQuestion struct {
	at      torque.Figure
	aim     torque.Torque
	adapter wrench.Adapter
	wrench  *wrench.Wrench // nil for none
	window  torque.Window  // zero for none
	allow   wrench.Allowance
	bound   wrench.Bound
}

// settingQuestion reads what is asked about a wrench.
func (f *fields) settingQuestion(req *pb.SettingRequest) settingQuestion {
	q := settingQuestion{at: f.figure("torque", req.GetTorque())}
	if len(f.errs) == 0 {
		var err error
		if q.aim, err = q.at.Torque(); err != nil {
			f.add("torque.digits", "out-of-range", "%s", err)
		}
		if q.at.Rat().Sign() <= 0 {
			f.add("torque.digits", "out-of-range", "write a torque above 0, not %v", q.at)
		}
	}
	q.adapter = f.adapter("adapter", req.GetAdapter())
	q.wrench = f.wrenchScale("wrench", req.GetWrench())
	q.allow = optionalEnum[wrench.Allowance](f, "allowance", req.GetAllowance(), pb.Allowance_name)
	if req.GetIsMinimum() {
		q.bound = wrench.Minimum
	}
	if req.GetWindow() == nil {
		return q
	}
	before := len(f.errs)
	q.window = f.window("window", req.GetWindow())
	if before == 0 && len(f.errs) == 0 && !q.window.Contains(q.aim) {
		f.add("torque.digits", "out-of-range", "%v is aimed at, %v is allowed: aim at a torque within it", q.at, q.window)
	}
	if req.GetWindow().GetMax() == nil {
		f.add("window.max", "missing", "without a maximum nothing is known to be safe")
	}
	if req.GetWrench() == nil {
		f.add("wrench", "missing", "a window is kept by a mark: describe the wrench")
	}
	if req.GetIsMinimum() {
		f.add("is_minimum", "contradiction", "a window has its limits: leave it out")
	}
	return q
}

// applied reads what a wrench with an adapter is set to.
func (f *fields) applied(req *pb.SettingRequest) (wrench.Adapter, torque.Figure) {
	for _, field := range []struct {
		path string
		set  bool
	}{
		{"torque", req.GetTorque() != nil}, {"wrench", req.GetWrench() != nil}, {"window", req.GetWindow() != nil},
		{"allowance", req.GetAllowance() != 0}, {"is_minimum", req.GetIsMinimum()},
	} {
		if field.set {
			f.add(field.path, "contradiction", "it does not go with set_to: leave it out")
		}
	}
	if req.GetAdapter() == nil {
		f.add("adapter", "missing", "without an adapter what comes there is what the wrench is set to")
	}
	setTo := f.figure("set_to", req.GetSetTo())
	if len(f.errs) == 0 && setTo.Rat().Sign() <= 0 {
		f.add("set_to.digits", "out-of-range", "write a torque above 0, not %v", setTo)
	}
	return f.adapter("adapter", req.GetAdapter()), setTo
}

// adapter reads what sits on a drive; absent is none.
func (f *fields) adapter(path string, w *pb.WrenchAdapter) wrench.Adapter {
	if w == nil {
		return wrench.Adapter{}
	}
	d := wrench.AdapterDescription{
		Length: w.GetLength(), Extension: w.GetExtension(), AngleDegrees: w.GetAngleDegrees(),
		Unit: optionalEnum[wrench.LengthUnit](f, joinPath(path, "length_unit"), w.GetLengthUnit(), pb.LengthUnit_name),
	}
	a, err := wrench.NewAdapter(d)
	f.takeNumbers(path, err, map[string]string{"angle": joinPath(path, "angle_degrees")})
	return a
}

// wrenchScale reads a wrench; absent is nil.
func (f *fields) wrenchScale(path string, w *pb.WrenchScale) *wrench.Wrench {
	if w == nil {
		return nil
	}
	d := wrench.Description{
		Kind: enumIn[wrench.Kind](f, joinPath(path, "kind"), w.GetKind(), pb.ToolKind_name),
		Min:  w.GetMin(), Max: w.GetMax(), Graduation: w.GetGraduation(), DeviationPercent: w.GetDeviationPercent(),
	}
	before := len(f.errs)
	unit, err := torque.ParseUCUM(w.GetUnit())
	if err != nil {
		f.add(joinPath(path, "unit"), "unknown-unit", "%s", err)
	}
	d.Unit = unit
	if w.GetClass() != "" {
		if err := d.Class.UnmarshalText([]byte(w.GetClass())); err != nil {
			f.add(joinPath(path, "class"), "unknown-word", "%s", err)
		}
	}
	if w.GetKind() == pb.ToolKind_TOOL_KIND_UNSPECIFIED || len(f.errs) > before {
		return nil
	}
	tool, err := wrench.New(d)
	f.takeNumbers(path, err, nil)
	return tool
}

// answer works the setting out and looks for its mark.
func (q settingQuestion) answer() (*pb.WrenchSetting, error) {
	s, err := q.adapter.Setting(q.at)
	if err != nil {
		return nil, err
	}
	out := &pb.WrenchSetting{Setting: s.Setting, Exact: s.Exact, IsRounded: s.Rounded, Unit: s.Unit.UCUM()}
	switch {
	case q.wrench == nil:
	case q.window.IsZero():
		q.markOn(s, out)
	default:
		return out, q.choose(out)
	}
	return out, nil
}

// markOn finds the mark at or beside the setting.
func (q settingQuestion) markOn(s wrench.ExactSetting, out *pb.WrenchSetting) {
	marked, err := s.MarkOn(q.wrench, q.bound)
	if err != nil {
		out.Refusal = &pb.MarkRefusal{Rule: wrench.RuleOffScale, Text: err.Error()}
		return
	}
	out.Mark = &pb.Figure{Digits: marked.Mark.String(), Unit: marked.MarkUnit.UCUM()}
}

// choose finds the mark that keeps inside the window.
func (q settingQuestion) choose(out *pb.WrenchSetting) error {
	choice, err := q.wrench.With(q.adapter).Choose(q.window, q.aim, q.allow)
	if refused, ok := errors.AsType[*wrench.ToolError](err); ok {
		out.Refusal = &pb.MarkRefusal{Rule: refused.Rule, Text: refused.Error(), Nearest: figureToProto(refused.Nearest)}
		return nil
	}
	if err != nil {
		return err
	}
	deviation, err := choice.Deviation.MarshalText()
	if err != nil {
		return err
	}
	out.Mark = figureToProto(choice.Mark)
	out.Choice = &pb.MarkChoice{
		Settings: windowToProto(choice.Settings), Least: torqueToProto(choice.Least), Most: torqueToProto(choice.Most),
		DeviationPercent: string(deviation),
	}
	return nil
}

// decisionQuestion reads a reading with its limits.
func (f *fields) decisionQuestion(req *pb.DecideRequest) wrench.Question {
	return wrench.Question{
		Min: req.GetMin(), Max: req.GetMax(), Reading: req.GetReading(), U: req.GetU(),
		Rule:  optionalEnum[wrench.Rule](f, "rule", req.GetRule(), pb.DecisionRule_name),
		Level: req.GetLevel(), GuardFactor: req.GetGuardFactor(), K: req.GetK(),
	}
}

func decisionToProto(d wrench.Decision) *pb.ReadingDecision {
	return &pb.ReadingDecision{
		Probability: d.Probability, Outcome: pb.Verdict(d.Outcome), Below: d.Below, Above: d.Above, IsWithin: d.Within,
		Rule: pb.DecisionRule(d.Rule) + 1, Level: d.Level, GuardBand: d.GuardBand,
		AcceptMin: d.AcceptMin, AcceptMax: d.AcceptMax, HasNoAcceptance: d.NoAcceptance, Capability: d.Capability,
	}
}
