package procedure

import "slices"

// waysBack lets every rework path lead to a step of this plan: where the step
// it names does not hold on this bike, to the nearest earlier one that does,
// else to the step itself.
func (p *planner) waysBack() {
	for i := range p.plan.Steps {
		s := &p.plan.Steps[i]
		for k := range s.Rework {
			from := s.Rework[k].From
			if from == "" || from == stopWord {
				continue
			}
			if to := p.nearest(from); to != from {
				s.Rework = slices.Clone(s.Rework) // it is the definition's
				s.Rework[k].From = to
			}
		}
	}
}

// nearest returns the step itself where the plan has it, else the last one
// before it that the plan has; empty where there is none.
func (p *planner) nearest(step string) string {
	nearest := ""
	for _, s := range p.res.Steps {
		if _, ok := p.plan.Step(s.ID); ok {
			nearest = s.ID
		}
		if s.ID == step {
			break
		}
	}
	return nearest
}
