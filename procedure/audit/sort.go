package audit

import (
	"cmp"
	"slices"

	"github.com/tightwright/tightwright/procedure"
)

// sorted puts findings in their one order: notes last, worst class first, then
// by job, step, rule, item, tool, reason, first entry and text.
func sorted(b *procedure.Build, found []Finding) []Finding {
	places := rulePlaces()
	jobs := map[string]int{}
	steps := map[[2]string]int{}
	for i, j := range b.Jobs {
		jobs[j.ID] = i + 1
		for k, s := range j.Steps {
			steps[[2]string{j.ID, s.Planned.ID}] = k + 1
		}
	}
	for i := range found {
		slices.SortFunc(found[i].Entries, func(a, b EntryRef) int { return cmp.Compare(a.Seq, b.Seq) })
		found[i].Entries = slices.Compact(found[i].Entries)
	}
	slices.SortStableFunc(found, func(f, g Finding) int {
		return cmp.Or(
			cmp.Compare(number(f.Note), number(g.Note)),
			cmp.Compare(g.Risk, f.Risk),
			cmp.Compare(jobs[f.Job], jobs[g.Job]),
			cmp.Compare(steps[[2]string{f.Job, f.Step}], steps[[2]string{g.Job, g.Step}]),
			cmp.Compare(places[f.Rule], places[g.Rule]),
			cmp.Compare(f.Item, g.Item),
			cmp.Compare(f.Tool, g.Tool),
			cmp.Compare(f.Because, g.Because),
			cmp.Compare(first(f), first(g)),
			cmp.Compare(f.Text, g.Text),
		)
	})
	return found
}

// number lets booleans be compared: false comes first.
func number(is bool) int {
	if is {
		return 1
	}
	return 0
}

// first is the sequence of the earliest evidence, 0 without any.
func first(f Finding) int64 {
	if len(f.Entries) == 0 {
		return 0
	}
	return f.Entries[0].Seq
}
