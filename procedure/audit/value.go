package audit

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// values looks at what the facts proved: values outside, undecided results,
// prep otherwise than planned, and high readings that were taken back.
func (x *examiner) values() {
	for i := range x.facts {
		f := &x.facts[i]
		switch f.judgement.Verdict {
		case procedure.Nonconforming:
			x.outside(f)
		case procedure.Undecided:
			x.undecided(f)
		case procedure.Conforming:
		}
	}
	for _, e := range x.withdrawals {
		x.withdrawn(e)
	}
}

// outside looks at one fact that does not conform, whether it counts or not:
// the hand did it either way.
func (x *examiner) outside(f *fact) {
	if p, ok := f.payload.(procedure.PrepDone); ok {
		x.prepared(f, p)
		return
	}
	over := f.tool != "" && !f.judgement.Retake
	out := Finding{Rule: RuleNonconforming, Item: f.item, Tool: f.tool, Sure: Certain, Entries: refs(f.Envelope),
		Status: x.madeGood(f, over), Text: x.outsideText(f), Mend: "follow the rework path of the step, then take it again"}
	switch {
	case over:
		out.Mend = "take the joint apart, inspect the parts and replace what is marked; the foreman decides"
	case f.judgement.Retake:
		out.Mend = "tighten it into its window"
	}
	x.add(out, x.state(f.step))
}

// outsideText says what was read, measured or seen.
func (x *examiner) outsideText(f *fact) string {
	title := x.title(f.step)
	switch p := f.payload.(type) {
	case procedure.ReadingTaken:
		return fmt.Sprintf("%s of %q was read at %v and %s", x.itemWords(f.step, f.item), title, p.Figure, x.against(f))
	case procedure.MeasureTaken:
		return fmt.Sprintf("%s of %q was measured at %s, outside its limits", x.itemWords(f.step, f.item), title, procedure.MeasureWords(p.Value, p.Unit))
	}
	return fmt.Sprintf("%s of %q did not come out", x.itemWords(f.step, f.item), title)
}

// against says how a reading lies to the window of the plan.
func (x *examiner) against(f *fact) string {
	s := x.state(f.step)
	if s == nil || s.Planned.Torque == nil {
		return "does not conform"
	}
	if f.judgement.Retake {
		return fmt.Sprintf("is short of %v", s.Planned.Torque.Window)
	}
	return fmt.Sprintf("does not conform to %v", s.Planned.Torque.Window)
}

// prepared looks at a prep that is not the planned one. What was put on is said
// beside what should have been.
func (x *examiner) prepared(f *fact, p procedure.PrepDone) {
	s := x.state(f.step)
	text := fmt.Sprintf("%q was prepared with %s", x.title(f.step), prepWords(p.Thread, p.Face))
	if s != nil {
		text += ", planned was " + plannedPrep(s.Planned)
	}
	x.add(Finding{Rule: RulePrep, Item: f.item, Sure: Certain, Entries: refs(f.Envelope), Status: x.madeGood(f, false),
		Text: text, Mend: "take the joint apart, clean it, prepare it as planned and tighten it again: the window holds for that prep only"}, s)
}

// plannedPrep is the plan's prep in words.
func plannedPrep(s *procedure.PlannedStep) string {
	var thread, face procedure.Prep
	if s.ThreadPrep != nil {
		thread = s.ThreadPrep.Use
	}
	if s.FacePrep != nil {
		face = s.FacePrep.Use
	}
	return prepWords(thread, face)
}

// prepWords writes the two surfaces apart; a zero prep is none that was asked
// for.
func prepWords(thread, face procedure.Prep) string {
	switch {
	case thread == 0 && face == 0:
		return "nothing"
	case face == 0:
		return thread.Words() + " on the thread"
	case thread == 0:
		return face.Words() + " on the contact face"
	}
	return thread.Words() + " on the thread and " + face.Words() + " on the contact face"
}

// undecided looks at safety-critical results near a limit. On other joints an
// undecided result stands.
func (x *examiner) undecided(f *fact) {
	s := x.state(f.step)
	if s == nil || s.Planned.Risk < procedure.SafetyCritical || !f.judgement.Counts {
		return
	}
	if r := s.Results[f.item]; r != nil && r.Entry.ID == f.ID && r.AcceptedBy != nil {
		return
	}
	x.add(Finding{Rule: RuleUndecided, Item: f.item, Tool: f.tool, Sure: Certain, Entries: refs(f.Envelope),
		Status: x.madeGood(f, false),
		Text:   fmt.Sprintf("%s of %q is too near a limit to tell, and no foreman has taken it", s.Planned.ItemWords(f.item), s.Planned.Title),
		Mend:   "take it again with a finer tool, or let the foreman decide and say why"}, s)
}

// withdrawn looks at readings above the maximum that were taken back. A slip
// of the finger and a bolt pulled too far look alike in the record.
func (x *examiner) withdrawn(e procedure.Entry) {
	w, ok := e.Payload.(procedure.EntryWithdrawn)
	if !ok || w.Cause == procedure.CauseWrongBike {
		return
	}
	was, ok := x.build.Entry(w.Entry)
	if !ok || was.Job != x.job.ID {
		return
	}
	r, ok := was.Payload.(procedure.ReadingTaken)
	if !ok || r.Judgement.Verdict != procedure.Nonconforming || r.Judgement.Retake {
		return
	}
	status := Open
	if x.takenApart(r.Step, was.Seq) {
		status = Reworked
	}
	x.add(Finding{Rule: RuleOverWithdrawn, Item: procedure.BoltItem(r.Bolt), Tool: r.Tool, Sure: Possible,
		Entries: refs(was.Envelope, e.Envelope), Status: status,
		Text: fmt.Sprintf("a reading of %v on bolt %s of %q was above the maximum and was taken back as %s", r.Figure, r.Bolt, x.title(r.Step), plain(w.Cause)),
		Mend: "ask who held the tool; if the bolt was pulled that far, take the joint apart and inspect it"}, x.state(r.Step))
}
