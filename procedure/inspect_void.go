package procedure

import (
	"slices"
	"strings"
)

// A StepRef names a step of a procedure.
type StepRef struct {
	Procedure string `json:"procedure"`
	Step      string `json:"step"`
}

// LeanOn lists the steps whose results a hand in the given step spoils: those
// it names and, through them, those these name, in all the procedures given.
// It is the same walk over the same edges as at the bench, for a bike that has
// every step. The list is in the order of the procedures and their steps and
// leaves out the step itself.
func LeanOn(procedures []*Resolved, of StepRef) []StepRef {
	seen := map[StepRef]bool{}
	spoilFrom(procedures, of, seen)
	delete(seen, of)
	var out []StepRef
	for _, p := range procedures {
		for i := range p.Steps {
			if ref := (StepRef{Procedure: p.ID, Step: p.Steps[i].ID}); seen[ref] {
				out = append(out, ref)
			}
		}
	}
	return slices.Clip(out)
}

func spoilFrom(procedures []*Resolved, of StepRef, seen map[StepRef]bool) {
	if seen[of] {
		return
	}
	seen[of] = true
	at := slices.IndexFunc(procedures, func(p *Resolved) bool { return p.ID == of.Procedure })
	if at < 0 {
		return
	}
	step, _, ok := procedures[at].Step(of.Step)
	if !ok {
		return
	}
	for _, target := range step.Voids {
		for _, next := range targets(procedures, of.Procedure, target) {
			spoilFrom(procedures, next, seen)
		}
	}
}

// targets spells out an edge: "step", "procedure/step" or "procedure/*".
func targets(procedures []*Resolved, from, edge string) []StepRef {
	proc, step, other := strings.Cut(edge, "/")
	if !other {
		proc, step = from, edge
	}
	var out []StepRef
	for _, p := range procedures {
		for i := range p.Steps {
			if p.ID == proc && (step == "*" || step == p.Steps[i].ID) {
				out = append(out, StepRef{Procedure: proc, Step: p.Steps[i].ID})
			}
		}
	}
	return out
}
