package teaching

import (
	"cmp"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// leanOn is [procedure.LeanOn] over the procedures of the maker, which finds a
// procedure by its id and looks only at those that the edges lead to: a shop
// may have a thousand.
func (m *maker) leanOn(of procedure.StepRef) []procedure.StepRef {
	seen := map[procedure.StepRef]bool{}
	m.spoilFrom(of, seen)
	delete(seen, of)
	out := make([]procedure.StepRef, 0, len(seen))
	for ref := range seen {
		out = append(out, ref)
	}
	slices.SortFunc(out, func(a, b procedure.StepRef) int {
		return cmp.Or(cmp.Compare(m.place[a.Procedure], m.place[b.Procedure]), cmp.Compare(m.stepPlace(a), m.stepPlace(b)))
	})
	return out
}

// stepPlace is the place of a step in its procedure.
func (m *maker) stepPlace(of procedure.StepRef) int {
	_, i, _ := m.byID[of.Procedure].Step(of.Step)
	return i
}

func (m *maker) spoilFrom(of procedure.StepRef, seen map[procedure.StepRef]bool) {
	if seen[of] {
		return
	}
	p := m.byID[of.Procedure]
	if p == nil {
		return
	}
	step, _, ok := p.Step(of.Step)
	if !ok {
		return
	}
	seen[of] = true
	for _, edge := range step.Voids {
		id, name, other := strings.Cut(edge, "/")
		switch {
		case !other:
			m.spoilFrom(procedure.StepRef{Procedure: of.Procedure, Step: edge}, seen)
		case name != "*":
			m.spoilFrom(procedure.StepRef{Procedure: id, Step: name}, seen)
		case m.byID[id] != nil:
			for i := range m.byID[id].Steps {
				m.spoilFrom(procedure.StepRef{Procedure: id, Step: m.byID[id].Steps[i].ID}, seen)
			}
		}
	}
}
