package procedure

import (
	"encoding/json"
	"fmt"
	"slices"
)

func (d *decision) swap(c SwapPart) (Entry, error) {
	j, ok := d.b.Job(c.Job)
	if !ok {
		return Entry{}, fmt.Errorf("build %s: job %q: %w", d.b.ID, c.Job, ErrNotFound)
	}
	if err := needs("role", c.Role, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	if c.Plan == nil {
		return Entry{}, errNoPlan()
	}
	if err := d.fresh(j.LastSeq); err != nil {
		return Entry{}, err
	}
	switch {
	case j.Closed():
		return Entry{}, refuse(RuleJobClosed, c.Job, "job %s is closed: open a new job for the new part", c.Job)
	case c.Plan.Procedure != j.Plan.Procedure:
		return Entry{}, refuse(RuleOtherProcedure, c.Job, "the new plan follows %s, the job %s", c.Plan.Procedure, j.Plan.Procedure)
	case c.Plan.Blocked():
		return Entry{}, refuse(RuleBlocked, c.Job, "the plan with the new part is stopped by a finding: %s", firstBlock(c.Plan))
	}
	if err := c.Plan.check(d.b.ID); err != nil {
		return Entry{}, err
	}
	_, digest, err := c.Plan.Encode()
	if err != nil {
		return Entry{}, err
	}
	w := d.swapVoids(j, c.Plan, c.Role)
	return entry(c.Job, PartSwapped{Role: c.Role, PlanDigest: digest, Revision: c.Plan.Revision,
		Engine: c.Plan.Engine, Reason: c.Reason, Voids: w.now, StillVoid: w.before}), nil
}

// swapVoids lists the results that the new part spoils: of steps that handle
// it, of steps that the new plan words differently, and of what leans on them.
// Other jobs have handled the part that is gone, unless they were planned with
// the new one.
func (d *decision) swapVoids(j *Job, plan *Plan, role string) spoiled {
	w := voidWalk{b: d.b, seen: map[string]bool{}}
	for _, s := range j.Steps {
		now, ok := plan.Step(s.Planned.ID)
		if !ok || slices.Contains(now.Parts, role) || !sameWork(s.Planned, now) {
			w.steps(j.Plan.Procedure, s.Planned.ID)
		}
	}
	for _, t := range d.b.Jobs {
		if t == j || t.Plan.SheetDigest == plan.SheetDigest {
			continue
		}
		for _, s := range t.Steps {
			if slices.Contains(s.Planned.Parts, role) {
				w.steps(t.Plan.Procedure, s.Planned.ID)
			}
		}
	}
	return w.sorted()
}

// sameWork reports whether two planned steps ask the hand for the same thing.
// Which tools lie on the rack that day does not matter, nor does the aim that
// they can reach: what was pulled is judged by the window.
func sameWork(a, b *PlannedStep) bool {
	return workOf(a) == workOf(b)
}

func workOf(s *PlannedStep) string {
	c := *s
	if s.Torque != nil {
		t := *s.Torque
		t.Choices, t.Aim = nil, 0
		c.Torque = &t
	}
	data, err := json.Marshal(c)
	if err != nil {
		return err.Error()
	}
	return string(data)
}
