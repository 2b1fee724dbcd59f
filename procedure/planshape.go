package procedure

import (
	"fmt"
	"slices"
)

// check reports why no job on this build can follow the plan, whatever its
// findings say.
func (p *Plan) check(build string) error {
	var out problems
	if p.Build != "" && p.Build != build {
		out.add("plan", "other-build", "the plan was made for build %s, not for %s: plan the job for this bike", p.Build, build)
	}
	if len(p.Steps) == 0 {
		out.add("plan", "no-steps", "nothing of the procedure holds on this bike: choose the one for these parts")
	}
	out.take("plan", p.whole())
	return out.err()
}

// whole reports steps that could never be worked: a group without bolts or
// passes, or with bolts that the order leaves out.
func (p *Plan) whole() error {
	var out problems
	for i := range p.Steps {
		t := p.Steps[i].Torque
		if t == nil {
			continue
		}
		at := fmt.Sprintf("steps[%d].torque", i)
		bolts, order := slices.Sorted(slices.Values(t.Bolts)), slices.Sorted(slices.Values(t.Order))
		if len(order) == 0 || !slices.Equal(bolts, order) {
			out.add(at+".order", "not-the-bolts", "the order names each bolt once")
		}
		if len(t.Passes) == 0 {
			out.add(at+".passes", "missing", "a group has at least one pass")
		}
	}
	return out.err()
}

func errNoPlan() error {
	return &FieldError{Path: "plan", Rule: "missing", Text: "plan the job for this bike first"}
}
