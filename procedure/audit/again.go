package audit

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// again looks for bolts that somebody else pulled once more after the step was
// done, with nothing that had undone it: an entry that belongs to another bike,
// or a hand that gave a joint more than it was to get. The wrench reads well in
// both cases, so no other rule sees it.
func (x *examiner) again() {
	for i := range x.facts {
		f := &x.facts[i]
		s := x.state(f.step)
		if f.tool == "" || !f.judgement.Counts || s == nil || s.Planned.Torque == nil || !x.isFull(s, f) {
			continue
		}
		before := x.pulledBefore(i)
		if before == nil || before.Actor == f.Actor || x.spoiledBetween(before, f.Seq) || !x.wentOn(f.step, before.Seq, f.Seq) {
			continue
		}
		x.add(Finding{Rule: RuleAgain, Item: f.item, Tool: f.tool, Sure: Possible, Status: x.madeGood(f, false), Entries: refs(before.Envelope, f.Envelope),
			Text: fmt.Sprintf("%s of %q was pulled again by somebody else after the step was done, and nothing had undone it", x.itemWords(f.step, f.item), x.title(f.step)),
			Mend: "ask who pulled it and on which bike; an entry of another bike is withdrawn and the joint there pulled, else look why it was pulled again"}, s)
	}
}

// pulledBefore is the last reading at full value of the same bolt before a
// fact, or nil.
func (x *examiner) pulledBefore(i int) *fact {
	f := &x.facts[i]
	for k := i - 1; k >= 0; k-- {
		g := &x.facts[k]
		if g.step == f.step && g.item == f.item && g.judgement.Counts && x.isFull(x.state(f.step), g) {
			return g
		}
	}
	return nil
}

// wentOn reports whether the step was signed, or a later step of the job begun,
// between two entries.
func (x *examiner) wentOn(step string, after, before int64) bool {
	for _, e := range x.signed {
		if p, ok := e.Payload.(procedure.HoldSigned); ok && e.Job == x.job.ID && p.Step == step && e.Seq > after && e.Seq < before {
			return true
		}
	}
	at := x.place(step)
	for i := range x.facts {
		if g := &x.facts[i]; g.Seq > after && g.Seq < before && g.judgement.Counts && x.place(g.step) > at {
			return true
		}
	}
	return false
}
