package server

import (
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// measuredWith reads the instrument of a request; nil for none.
func (f *fields) measuredWith(path, name string) *fit.Instrument {
	if name == "" {
		return nil
	}
	var known []string
	for _, m := range fit.Measuring() {
		if m.Short == name {
			return &m.Instrument
		}
		known = append(known, m.Short)
	}
	f.add(path, "unknown-instrument", "%q is no instrument for lengths: write one of %s", clip(name), strings.Join(known, ", "))
	return nil
}

// readWith is measuredWith for figures that are read where nothing is said.
func (f *fields) readWith(name string) fit.Instrument {
	if with := f.measuredWith("instrument", name); with != nil {
		return *with
	}
	return fit.Marked()
}

// fitLength reads a length with its unit; empty is 0.
func (f *fields) fitLength(path, text string) fit.Length {
	if strings.TrimSpace(text) == "" {
		return 0
	}
	l, err := fit.ParseLength(text)
	if err != nil {
		f.add(path, "malformed-length", "write a length with its unit such as 36.75 mm, not %q", clip(text))
	}
	return l
}

// takeFit adds what AskFit reports: about the rule, or about values by key.
func (f *fields) takeFit(err error) {
	for _, fe := range procedure.FieldErrors(err) {
		path := "rule"
		if fe.Path != path {
			path = joinPath("values", fe.Path)
		}
		f.add(path, fe.Rule, "%s", fe.Text)
	}
}

func discEndFromProto(w *pb.DiscEnd) procedure.DiscEnd {
	return procedure.DiscEnd{Mount: w.GetMount(), Caliper: w.GetCaliper(), CaliperBy: w.GetCaliperBy(),
		RotorSeat: w.GetRotorSeat(), Rotor: w.GetRotor(), LeverBy: w.GetLeverBy()}
}

// fitVerdictToProto: the verdicts count alike.
func fitVerdictToProto(v fit.Verdict) pb.FitVerdict { return pb.FitVerdict(v) }

func fitConfidenceToProto(c fit.Confidence) pb.FitConfidence {
	switch c {
	case fit.Published:
		return pb.FitConfidence_FIT_CONFIDENCE_PUBLISHED
	case fit.CommonPractice:
		return pb.FitConfidence_FIT_CONFIDENCE_COMMON_PRACTICE
	case fit.FromMemory:
		return pb.FitConfidence_FIT_CONFIDENCE_FROM_MEMORY
	case fit.Computed:
		return pb.FitConfidence_FIT_CONFIDENCE_COMPUTED
	}
	return pb.FitConfidence_FIT_CONFIDENCE_UNSPECIFIED
}

func fitMarginToProto(m fit.Margin) *pb.FitMargin {
	switch m.Kind {
	case fit.LengthMargin:
		return &pb.FitMargin{Amount: &pb.FitMargin_Length{Length: m.Length.String()}}
	case fit.CountMargin:
		return &pb.FitMargin{Amount: &pb.FitMargin_Count{Count: int32(m.Count)}, Counted: m.Of}
	case fit.NoMargin:
	}
	return nil
}

func fitResultToProto(r fit.Result) *pb.FitResult {
	return &pb.FitResult{
		Rule: r.Rule, Check: r.Check, Verdict: fitVerdictToProto(r.Verdict), Measured: r.Measured,
		Instrument: r.Instrument.Name, InstrumentError: r.Instrument.Error.String(), Limit: r.Limit,
		Margin: fitMarginToProto(r.Margin), Uncertainty: r.Uncertainty.String(), Needs: r.Needs, Why: r.Why,
		Source: r.Source, Confidence: fitConfidenceToProto(r.Confidence), Numbers: r.Numbers,
	}
}

func sheetFitToProto(a procedure.FitAnswer) *pb.SheetFit {
	return &pb.SheetFit{Rule: a.Rule, Verdict: fitVerdictToProto(a.Verdict()), Results: each(a.Results, fitResultToProto),
		Missing: a.Missing, Problem: a.Problem}
}

func fitRuleToProto(id string, vocab *procedure.Vocabulary) *pb.FitRule {
	out := &pb.FitRule{Rule: id}
	questions, _ := procedure.FitQuestions(id, vocab)
	_, _, out.Numbers, _ = procedure.FitRuleUses(id)
	out.Questions = each(questions, func(q procedure.FitQuestion) *pb.FitQuestion {
		return &pb.FitQuestion{Key: q.Key, Part: q.Part, Required: q.Required, Attribute: partAttributeToProto(q.Attribute)}
	})
	return out
}

func partAttributeToProto(a procedure.PartAttribute) *pb.PartAttribute {
	return &pb.PartAttribute{Attribute: a.Name, Form: a.Form, Choices: a.Choices, How: a.How, Instrument: a.Instrument}
}

func fitInstrumentToProto(m fit.NamedInstrument) *pb.FitInstrument {
	return &pb.FitInstrument{Instrument: m.Short, Title: m.Name, Error: m.Error.String()}
}

// knownLength writes a length; 0 is one that is not known.
func knownLength(l fit.Length) string {
	if l == 0 {
		return ""
	}
	return l.String()
}

func bodyChoiceToProto(c fit.BodyChoice) *pb.BodyChoice {
	return &pb.BodyChoice{Body: c.Body.ID, Recognize: c.Body.Recognize, Length: knownLength(c.Length),
		Verdict: fitVerdictToProto(c.Verdict()), Results: each(c.Results, fitResultToProto)}
}

func shellChoiceToProto(c fit.ShellChoice) *pb.ShellChoice {
	return &pb.ShellChoice{Shell: c.Shell.ID, Width: c.Width.String(), DriveThread: knownThread(c.Shell.Drive),
		NonDriveThread: knownThread(c.Shell.NonDrive), Bore: knownLength(c.Shell.Bore),
		Verdict: fitVerdictToProto(c.Verdict()), Results: each(c.Results, fitResultToProto)}
}

// knownThread writes a thread; the zero thread is none.
func knownThread(t joint.Thread) string {
	if t.IsZero() {
		return ""
	}
	return t.String()
}

func discNeedToProto(n fit.DiscNeed) *pb.DiscNeed {
	return &pb.DiscNeed{Part: n.Part, Present: n.IsPresent(), Needs: n.Needs(),
		Verdict: fitVerdictToProto(n.Verdict()), Results: each(n.Results, fitResultToProto)}
}
