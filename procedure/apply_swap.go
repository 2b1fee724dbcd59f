package procedure

import (
	"fmt"
	"slices"
)

func (b *Build) applySwap(e Entry, p PartSwapped) error {
	j, ok := b.Job(e.Job)
	if !ok {
		return fmt.Errorf("build %s: entry %s: job %q: %w", b.ID, e.ID, e.Job, ErrNotFound)
	}
	plan, err := b.plan(p.PlanDigest)
	if err != nil {
		return fmt.Errorf("build %s: plan %s of job %s: %w", b.ID, p.PlanDigest, e.Job, err)
	}
	b.applyVoids(e, VoidsOf(p))
	for _, o := range b.Jobs {
		if o != j && o.handles(p.Role) && o.Plan.SheetDigest != plan.SheetDigest {
			env := e.Envelope
			o.Outdated = &env
			b.touch(o, nil, e.Seq)
		}
	}
	old := j.Steps
	j.Plan, j.PlanDigest, j.Steps, j.Outdated = plan, p.PlanDigest, nil, nil
	for i := range plan.Steps {
		s := newStep(&plan.Steps[i])
		for _, o := range old {
			if o.Planned.ID == s.Planned.ID {
				s.keep(o)
			}
		}
		s.LastSeq = e.Seq
		j.Steps = append(j.Steps, s)
	}
	b.touch(j, nil, e.Seq)
	return nil
}

// handles reports whether a step of the job handles the part in a role.
func (j *Job) handles(role string) bool {
	return slices.ContainsFunc(j.Steps, func(s *StepState) bool { return slices.Contains(s.Planned.Parts, role) })
}

// keep carries the state of a step over to the plan after a swap. Results of
// items that the new plan does not ask for stay in the record and not here.
func (s *StepState) keep(o *StepState) {
	for _, item := range s.Planned.items() {
		if r, ok := o.Results[item]; ok {
			s.Results[item] = r
		}
	}
	s.Signed, s.Rework, s.Reworks = o.Signed, o.Rework, o.Reworks
	if t, was := s.Planned.Torque, o.Planned.Torque; t != nil && was != nil &&
		slices.Equal(t.Order, was.Order) && slices.Equal(t.Passes, was.Passes) {
		s.Group = o.Group
	}
}
