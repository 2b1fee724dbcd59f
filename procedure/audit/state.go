package audit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// states looks at what each step lacks now: results that are missing or void,
// passes that are not complete, holds that nobody signed.
func (x *examiner) states() {
	for i, s := range x.job.Steps {
		due := x.expected(s) || x.passedBy(i)
		for _, item := range s.Missing() {
			x.lacking(s, item, due)
		}
		x.voids(s)
		x.passes(s, due)
		if due && s.Done() && s.HoldOpen() {
			x.add(Finding{Rule: RuleHoldUnsigned, Sure: Certain, Status: x.madeGoodLater(),
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

// lacking looks at an item without a result. What is void, undecided or does
// not conform is looked at elsewhere.
func (x *examiner) lacking(s *procedure.StepState, item string, due bool) {
	if s.Results[item] != nil || !due {
		return
	}
	x.add(Finding{Rule: RuleStepMissing, Item: item, Sure: Certain, Status: x.madeGoodLater(),
		Text: fmt.Sprintf("%q has no result for %s", s.Planned.Title, s.Planned.ItemWords(item)),
		Mend: "treat it as not done: do the step on the bike and record it, never fill it in from memory"}, s)
}

// voids looks at what a later hand spoiled in a step and nobody took again:
// one finding for each entry that spoiled something, however many results.
func (x *examiner) voids(s *procedure.StepState) {
	if x.job.Abandoned != nil {
		return
	}
	by := map[int64][]*procedure.Result{}
	for _, item := range s.Missing() {
		if r := s.Results[item]; r != nil && r.Void != nil {
			by[r.Void.Seq] = append(by[r.Void.Seq], r)
		}
	}
	for _, seq := range slices.Sorted(maps.Keys(by)) {
		x.void(s, by[seq])
	}
}

// void reports the results of a step that one entry spoiled.
func (x *examiner) void(s *procedure.StepState, spoiled []*procedure.Result) {
	by := *spoiled[0].Void
	names := make([]string, 0, len(spoiled))
	evidence := []procedure.Envelope{by}
	for _, r := range spoiled {
		names = append(names, s.Planned.ItemWords(r.Item))
		evidence = append(evidence, r.Entry)
	}
	f := Finding{Rule: RuleVoid, Sure: Certain, Status: x.madeGoodLater(), Entries: refs(evidence...),
		Text: fmt.Sprintf("%q is void since entry %d and was not taken again: %s", s.Planned.Title, by.Seq, strings.Join(names, ", ")),
		Mend: "take it again: what it leaned on was touched"}
	if len(spoiled) == 1 {
		f.Item = spoiled[0].Item
	}
	if done := x.job.Finished; done != nil && by.Seq > done.Seq {
		f.Rule = RuleVoidSinceFinished
		f.Text = fmt.Sprintf("%q was spoiled by entry %d after the job was finished: %s", s.Planned.Title, by.Seq, strings.Join(names, ", "))
		f.Mend = "the bike does not leave: do the job again as a new one"
	}
	x.add(f, s)
}

// madeGoodLater says that a later job by the same procedure answers for the
// joints now: a finding of a superseded job is history.
func (x *examiner) madeGoodLater() Status {
	if x.build.Superseded(x.job) {
		return Reworked
	}
	return Open
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
		x.add(Finding{Rule: RulePassesIncomplete, Sure: Certain, Status: x.madeGoodLater(), Entries: refs(bolts...),
			Text: fmt.Sprintf("a bolt of %q still turns after %d closing rounds", s.Planned.Title, limit),
			Mend: "stop and find out why: a soft part, a stretched bolt or the wrong prep"}, s)
		return
	}
	if due {
		x.add(Finding{Rule: RulePassesIncomplete, Sure: Certain, Status: x.madeGoodLater(), Entries: refs(bolts...),
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

// itemWords names an item of a step for a person.
func (x *examiner) itemWords(step, item string) string {
	if s := x.state(step); s != nil {
		return s.Planned.ItemWords(item)
	}
	return new(procedure.PlannedStep).ItemWords(item)
}

// plain turns a code into words.
func plain(code string) string { return strings.ReplaceAll(code, "-", " ") }
