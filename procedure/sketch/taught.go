package sketch

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// Taught draws a step as it is taught, with no bike at hand: passes in percent,
// every prep that the materials can ask for, both hands where the thread can have
// either. Where a thread or a number is only known on the bike, nothing is said
// of it.
//
// Errors: as [Step].
func Taught(r *procedure.Resolved, step string) ([]Drawing, error) {
	for i := range r.Steps {
		if r.Steps[i].ID == step {
			return taughtView(r, &r.Steps[i]).draw()
		}
	}
	return nil, fmt.Errorf("draw step %q of %s: %w", step, r.ID, ErrNoStep)
}

func taughtView(r *procedure.Resolved, s *procedure.Step) *view {
	v := &view{id: s.ID, title: s.Title, accept: s.Accept, threads: taughtThreads(r, s)}
	if s.Prep != nil {
		v.threadPrep, v.facePrep = taughtPreps(s.Prep.Thread), taughtPreps(s.Prep.Face)
		v.where, v.zone = s.Prep.Where, s.Prep.Zone
	}
	if t := s.Torque; t != nil {
		v.torque = &procedure.PlannedTorque{Bolts: t.Bolts, Layout: t.Layout, Order: t.Order, Passes: t.Passes,
			Closing: t.Closing, ClosingLimit: t.ClosingLimit, ByFeel: t.ByFeel}
	}
	for _, c := range s.Checks {
		v.checks = append(v.checks, procedure.PlannedCheck{ID: c.ID, Kind: c.Kind, Ask: c.Ask, Unit: c.Unit, Min: c.Min, Max: c.Max, Gap: c.Gap})
		v.whens = append(v.whens, c.When.Words())
	}
	if s.Stack != nil {
		v.stack = &procedure.PlannedStack{}
		v.stack.ProudMin, v.stack.ProudMax = r.Proud(s.Stack.Proud)
	}
	return v
}

// taughtThreads lists the threads that the step can have, or none where one of
// them is only known on the bike.
func taughtThreads(r *procedure.Resolved, s *procedure.Step) []string {
	var out []string
	for _, c := range s.Threads {
		if c.Thread == "" {
			return nil
		}
		out = append(out, c.Thread)
	}
	if s.Torque == nil {
		return out
	}
	for _, c := range s.Torque.Joints {
		row, ok := r.Joint(c.Joint)
		if !ok || row.Thread == "" {
			return nil
		}
		out = append(out, row.Thread)
	}
	return out
}

func taughtPreps(choices []procedure.PrepChoice) []procedure.PlannedPrep {
	var out []procedure.PlannedPrep
	for _, c := range choices {
		out = append(out, procedure.PlannedPrep{Use: c.Use, Never: c.Never, Why: c.Why})
	}
	return out
}
