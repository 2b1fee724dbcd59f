package procedure

import (
	"cmp"
	"slices"
	"strings"
)

// spoiled is what one hand spoiled: results that stood until now, and results
// that were void before.
type spoiled struct{ now, before []ResultRef }

// voids lists the results that a hand in step s of job j spoils: those of the
// steps it names and, through them, of the steps these name, here and in the
// other jobs of the build. Jobs by the same procedure are about the same
// joints, so the step itself is spoiled in them. The lists are in order and
// hold each result once.
func (d *decision) voids(j *Job, s *StepState) spoiled {
	w := voidWalk{b: d.b, seen: map[string]bool{stepKey(j, s): true}}
	w.steps(j.Plan.Procedure, s.Planned.ID)
	w.from(j, s)
	return w.sorted()
}

// reworkVoids lists what taking the steps from first to last apart spoils:
// their own results, what leans on them, and everything that leans on those.
func (d *decision) reworkVoids(j *Job, first, last int) spoiled {
	w := voidWalk{b: d.b, seen: map[string]bool{}}
	for i := first; i <= last; i++ {
		w.steps(j.Plan.Procedure, j.Steps[i].Planned.ID)
	}
	return w.sorted()
}

// A voidWalk follows the void map over the jobs of a build.
type voidWalk struct {
	b    *Build
	seen map[string]bool
	spoiled
}

func stepKey(j *Job, s *StepState) string { return j.ID + "/" + s.Planned.ID }

// from follows the edges that leave a step.
func (w *voidWalk) from(j *Job, s *StepState) {
	for _, target := range s.Planned.Voids {
		proc, step, other := strings.Cut(target, "/")
		if !other {
			proc, step = j.Plan.Procedure, target
		}
		w.steps(proc, step)
	}
}

// steps spoils a step, or all of them, in every job by a procedure.
func (w *voidWalk) steps(procedure, step string) {
	for _, t := range w.b.Jobs {
		for _, s := range t.Steps {
			if t.Plan.Procedure == procedure && (step == "*" || s.Planned.ID == step) {
				w.spoil(t, s)
			}
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
		w.add(ResultRef{Job: j.ID, Step: s.Planned.ID, Item: item}, r)
	}
	w.from(j, s)
}

// and joins two lists in this order.
func (s spoiled) and(t spoiled) spoiled {
	return spoiled{slices.Concat(s.now, t.now), slices.Concat(s.before, t.before)}
}

// spoil writes down what the judged fact spoiled.
func (jd *Judgement) spoil(s spoiled) { jd.Voids, jd.StillVoid = s.now, s.before }

func (s *spoiled) add(ref ResultRef, r *Result) {
	if r.Void == nil {
		s.now = append(s.now, ref)
	} else {
		s.before = append(s.before, ref)
	}
}

func (w *voidWalk) sorted() spoiled {
	slices.SortFunc(w.now, ResultRef.compare)
	slices.SortFunc(w.before, ResultRef.compare)
	return w.spoiled
}

func (r ResultRef) compare(o ResultRef) int {
	return cmp.Or(cmp.Compare(r.Job, o.Job), cmp.Compare(r.Step, o.Step), cmp.Compare(r.Item, o.Item))
}
