package teaching

import (
	"slices"

	"github.com/tightwright/tightwright/procedure"
)

// An asker makes a question with the dice it is given, or reports that there is
// nothing to ask.
type asker func(d *dice) (Question, bool)

// A candidate is a question that could be asked. Making it can show that there
// is nothing to ask, such as a window that no mark of a scale lies in.
type candidate struct {
	id              string
	kind            Kind
	procedure, step string
	ask             asker
}

// StepRef is the step the candidate is about.
func (c *candidate) StepRef() procedure.StepRef {
	return procedure.StepRef{Procedure: c.procedure, Step: c.step}
}

// question makes the candidate's question.
func (c *candidate) question(seed uint64) (Question, bool) {
	d := newDice(seed, c.id)
	q, ok := c.ask(d)
	if !ok {
		return Question{}, false
	}
	q.ID, q.Kind = c.id, c.kind
	if q.Procedure == "" {
		q.Procedure, q.Step = c.procedure, c.step
	}
	q.mix(d)
	return q, true
}

// A pool holds every question that the procedures, the joint table and the
// tools give rise to.
type pool struct {
	all         []*candidate
	byProcedure map[string][]*candidate
	byKind      map[Kind][]*candidate
}

// newPool lists the candidates without making them: most are never asked.
func newPool(m *maker) *pool {
	p := &pool{byProcedure: map[string][]*candidate{}, byKind: map[Kind][]*candidate{}}
	for _, of := range m.procedures {
		for i := range of.Steps {
			p.add(m.askAboutStep(place{of, &of.Steps[i]}))
		}
		p.add(m.askAboutJoints(of))
		p.add(m.askAboutFit(of))
	}
	p.add(m.askAboutTools())
	return p
}

// add files candidates by what they are looked for by.
func (p *pool) add(candidates []candidate) {
	for i := range candidates {
		c := &candidates[i]
		p.all = append(p.all, c)
		p.byKind[c.kind] = append(p.byKind[c.kind], c)
		if c.procedure != "" {
			p.byProcedure[c.procedure] = append(p.byProcedure[c.procedure], c)
		}
	}
}

// fitting lists the questions that can be asked in a module with these skills:
// those about a procedure that ends in one of them, and those of a kind that
// belongs to one, if their procedure carries it. A question about tools alone
// fits wherever its kind belongs.
func (p *pool) fitting(skills []*skill) []*candidate {
	var out []*candidate
	seen := map[*candidate]bool{}
	add := func(c *candidate) {
		if !seen[c] {
			seen[c] = true
			out = append(out, c)
		}
	}
	for _, s := range skills {
		for _, own := range s.own {
			for _, c := range p.byProcedure[own.ID] {
				add(c)
			}
		}
		for _, info := range Kinds() {
			if !slices.Contains(info.Topics, s.ID) {
				continue
			}
			for _, c := range p.byKind[info.Kind] {
				if c.procedure == "" || len(s.in) == 0 || s.carriedBy[c.procedure] {
					add(c)
				}
			}
		}
	}
	return out
}

// candidate makes one about a step.
func (p place) candidate(kind Kind, detail string, ask asker) candidate {
	id := string(kind) + "/" + p.of.ID + "/" + p.step.ID
	if detail != "" {
		id += "/" + detail
	}
	return candidate{id: id, kind: kind, procedure: p.of.ID, step: p.step.ID, ask: ask}
}
