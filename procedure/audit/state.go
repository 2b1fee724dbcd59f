package audit

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// states looks at what each step lacks now: results that are missing or void,
// passes that are not complete, holds that nobody signed.
func (x *examiner) states() {
	for i, s := range x.job.Steps {
		due := x.expected(s) || x.passedBy(i)
		missing := s.Missing()
		for _, item := range missing {
			x.lacking(s, item, due)
		}
		x.passes(s, due)
		if due && s.Done() && s.HoldOpen() {
			x.add(Finding{Rule: RuleHoldUnsigned, Sure: Certain, Status: Open,
				Text: fmt.Sprintf("%q has a hold point and no signature stands", s.Planned.Title),
				Mend: fmt.Sprintf("have it looked at now by the %s: %s", plain(s.Planned.Hold.By.String()), s.Planned.Hold.LooksAt)}, s)
		}
	}
}

// expected reports whether a step had to be complete by now: with the finished
// job, or with the release for steps that come after it.
func (x *examiner) expected(s *procedure.StepState) bool {
	if x.job.Abandoned != nil {
		return false
	}
	if s.Planned.Due == procedure.BeforeFinish {
		return x.job.Finished != nil
	}
	return slices.ContainsFunc(x.released, func(e procedure.Entry) bool { return e.Seq > x.job.Opened.Seq })
}

// passedBy reports whether work was recorded in a later step of the same due.
func (x *examiner) passedBy(index int) bool {
	due := x.job.Steps[index].Planned.Due
	for _, later := range x.job.Steps[index+1:] {
		if later.Planned.Due == due && slices.ContainsFunc(x.facts, func(f fact) bool { return f.step == later.Planned.ID }) {
			return x.job.Abandoned == nil
		}
	}
	return false
}

// lacking looks at an item without a result that stands. What is undecided or
// does not conform is the values' matter.
func (x *examiner) lacking(s *procedure.StepState, item string, due bool) {
	r := s.Results[item]
	switch {
	case r == nil && due:
		x.add(Finding{Rule: RuleStepMissing, Item: item, Sure: Certain, Status: Open,
			Text: fmt.Sprintf("%q has no result for %s", s.Planned.Title, itemWords(item)),
			Mend: "treat it as not done: do the step on the bike and record it, never fill it in from memory"}, s)
	case r != nil && r.Void != nil && x.job.Abandoned == nil:
		x.void(s, r)
	}
}

func (x *examiner) void(s *procedure.StepState, r *procedure.Result) {
	f := Finding{Rule: RuleVoid, Item: r.Item, Sure: Certain, Status: Open, Entries: refs(r.Entry, *r.Void),
		Text: fmt.Sprintf("%s of %q is void since entry %d and was not taken again", itemWords(r.Item), s.Planned.Title, r.Void.Seq),
		Mend: "take it again: what it leaned on was touched"}
	if done := x.job.Finished; done != nil && r.Void.Seq > done.Seq {
		f.Rule = RuleVoidSinceFinished
		f.Text = fmt.Sprintf("%s of %q was spoiled by entry %d after the job was finished", itemWords(r.Item), s.Planned.Title, r.Void.Seq)
		f.Mend = "the bike does not leave: open the job again under a new one and take the result again"
	}
	x.add(f, s)
}

// passes looks at groups whose bolts all have a result and whose passes are
// not through, or that went through too many closing rounds.
func (x *examiner) passes(s *procedure.StepState, due bool) {
	t := s.Planned.Torque
	if t == nil || s.Group.Closed {
		return
	}
	bolts := boltResults(s)
	if len(bolts) < len(t.Order) {
		return
	}
	if limit := t.ClosingLimit; t.Closing && limit > 0 && s.Group.Round > limit && s.Rework != "" {
		x.add(Finding{Rule: RulePassesIncomplete, Sure: Certain, Status: Open, Entries: refs(bolts...),
			Text: fmt.Sprintf("a bolt of %q still turns after %d closing rounds", s.Planned.Title, limit),
			Mend: "stop and find out why: a soft part, a stretched bolt or the wrong prep"}, s)
		return
	}
	if due {
		x.add(Finding{Rule: RulePassesIncomplete, Sure: Certain, Status: Open, Entries: refs(bolts...),
			Text: fmt.Sprintf("the passes of %q were not gone through to the end", s.Planned.Title),
			Mend: "go through the passes again, to a closing round in which no bolt turns where one is asked for"}, s)
	}
}

// boltResults are the entries of the bolts' results that stand.
func boltResults(s *procedure.StepState) []procedure.Envelope {
	var out []procedure.Envelope
	for _, b := range s.Planned.Torque.Order {
		if r := s.Results[procedure.BoltItem(b)]; r.Stands(s.Planned.Risk) {
			out = append(out, r.Entry)
		}
	}
	return out
}

// itemWords turns an item into words: "bolt A", "the check of play", "the prep".
func itemWords(item string) string {
	kind, name, _ := strings.Cut(item, ".")
	switch kind {
	case "bolt":
		return "bolt " + name
	case "check":
		return "the check of " + plain(name)
	}
	return "the prep"
}

// plain turns a code into words.
func plain(code string) string { return strings.ReplaceAll(code, "-", " ") }
