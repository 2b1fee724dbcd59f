package procedure

import (
	"sort"
	"strings"
)

// voids lists the results that a hand in step s of job j spoils: those of the
// steps it names and, through them, of the steps these name, here and in the
// other jobs of the build. The list is in order and holds each result once.
func (d *decision) voids(j *Job, s *StepState) []ResultRef {
	w := voidWalk{b: d.b, seen: map[string]bool{stepKey(j, s): true}}
	w.from(j, s)
	return w.sorted()
}

// reworkVoids lists what taking the steps from first to last apart spoils:
// their own results, what leans on them, and everything that leans on those.
func (d *decision) reworkVoids(j *Job, first, last int) []ResultRef {
	w := voidWalk{b: d.b, seen: map[string]bool{}}
	for i := first; i <= last; i++ {
		w.spoil(j, j.Steps[i])
	}
	return w.sorted()
}

// A voidWalk follows the void map over the jobs of a build.
type voidWalk struct {
	b    *Build
	seen map[string]bool
	out  []ResultRef
}

func stepKey(j *Job, s *StepState) string { return j.ID + "/" + s.Planned.ID }

// from follows the edges that leave a step.
func (w *voidWalk) from(j *Job, s *StepState) {
	for _, target := range s.Planned.Voids {
		proc, step, other := strings.Cut(target, "/")
		if !other {
			proc, step = j.Plan.Procedure, target
		}
		for _, t := range w.b.Jobs {
			if t.Plan.Procedure != proc || (!other && t != j) {
				continue
			}
			w.steps(t, step)
		}
	}
}

func (w *voidWalk) steps(t *Job, step string) {
	for _, s := range t.Steps {
		if step == "*" || s.Planned.ID == step {
			w.spoil(t, s)
		}
	}
}

// spoil marks the results of a step and goes on from there. A step without
// results is passed through: what leaned on it leaned on nothing.
func (w *voidWalk) spoil(j *Job, s *StepState) {
	if w.seen[stepKey(j, s)] {
		return
	}
	w.seen[stepKey(j, s)] = true
	for item, r := range s.Results {
		if r.Void == nil {
			w.out = append(w.out, ResultRef{Job: j.ID, Step: s.Planned.ID, Item: item})
		}
	}
	w.from(j, s)
}

func (w *voidWalk) sorted() []ResultRef {
	sort.Slice(w.out, func(a, b int) bool {
		x, y := w.out[a], w.out[b]
		if x.Job != y.Job {
			return x.Job < y.Job
		}
		if x.Step != y.Step {
			return x.Step < y.Step
		}
		return x.Item < y.Item
	})
	return w.out
}
