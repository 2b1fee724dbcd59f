package teaching

import (
	"cmp"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// Questions returns up to count questions on the procedures. All kinds that
// there is something to ask of come once before one is repeated, and within a
// kind what the findings point to comes first. No question comes twice; fewer
// than count means that there are no more.
//
// Errors are those of New.
func Questions(procedures []*procedure.Resolved, findings []audit.Finding, options Options, count int) ([]Question, error) {
	m, err := newMaker(procedures, findings, options)
	if err != nil {
		return nil, err
	}
	byKind := map[Kind][]weighed{}
	for _, c := range m.pool.all {
		byKind[c.kind] = append(byKind[c.kind], m.weigh(c))
	}
	for _, of := range byKind {
		slices.SortFunc(of, func(a, b weighed) int {
			return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.dice, b.dice))
		})
	}
	var out []Question
	asked := map[string]bool{}
	for more := true; more && len(out) < count; {
		more = false
		for _, info := range Kinds() {
			q, ok := m.nextOf(byKind, info.Kind, asked)
			if ok && len(out) < count {
				out, more = append(out, q), true
			}
		}
	}
	return out, nil
}

// nextOf makes the next question of a kind that was not asked in the same words
// already, as of the other wheel.
func (m *maker) nextOf(byKind map[Kind][]weighed, kind Kind, asked map[string]bool) (Question, bool) {
	for len(byKind[kind]) > 0 {
		w := byKind[kind][0]
		byKind[kind] = byKind[kind][1:]
		if q, ok := w.question(m.options.Seed); ok && !asked[q.Stem] {
			asked[q.Stem] = true
			q.Why = m.faults.whyAsk(w.candidate)
			return q, true
		}
	}
	return Question{}, false
}
