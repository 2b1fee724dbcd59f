package audit

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// Job examines one job of a build, open or finished, and returns what it finds,
// worst class first. An abandoned job lacks nothing, but what happened in it
// did happen.
//
// The error is a joined [procedure.FieldError] for a view that cannot be used,
// or wraps [procedure.ErrNotFound] when the build has no such job.
func Job(build *procedure.Build, job string, view View) ([]Finding, error) {
	if err := view.check(); err != nil {
		return nil, err // joined, so that all mistakes are seen
	}
	j, ok := build.Job(job)
	if !ok {
		return nil, fmt.Errorf("audit job %s of build %s: %w", job, build.ID, procedure.ErrNotFound)
	}
	h := readHistory(build)
	x := newExaminer(build, j, &view, h)
	x.examine()
	return sorted(build, x.found), nil
}

// Build examines every job of a build and what concerns the bike as a whole:
// its release, and the clocks of entries that belong to no job. Errors are
// those of a view that cannot be used.
func Build(build *procedure.Build, view View) ([]Finding, error) {
	if err := view.check(); err != nil {
		return nil, err
	}
	h := readHistory(build)
	var found []Finding
	for _, j := range build.Jobs {
		x := newExaminer(build, j, &view, h)
		x.examine()
		found = append(found, x.found...)
	}
	x := newExaminer(build, nil, &view, h)
	x.releases()
	x.clocks()
	return sorted(build, append(found, x.found...)), nil
}

// An examiner looks at one job, or at the build as a whole when job is nil.
type examiner struct {
	build *procedure.Build
	job   *procedure.Job
	view  *View
	tools map[string]*procedure.Tool
	*history
	// facts are the job's own, in order.
	facts []fact
	found []Finding
}

// newExaminer readies one look at a job, or at the build when job is nil.
func newExaminer(build *procedure.Build, job *procedure.Job, view *View, h *history) *examiner {
	x := &examiner{build: build, job: job, view: view, tools: view.tools(), history: h}
	if job != nil {
		x.facts = h.factsOf(job.ID)
	}
	return x
}

// examine runs every rule over the job. The order does not matter: findings
// are sorted afterwards.
func (x *examiner) examine() {
	x.states()
	x.values()
	x.order()
	x.signatures()
	x.skills()
	x.acceptances()
	x.waits()
	x.readings()
	x.again()
	x.editions()
	x.patterns()
	x.clocks()
	x.windows()
}

// add takes a finding, fills in the job and the class, and joins it with one
// that says the same in the same words: entries that show the same thing are
// one finding, open while one of them is.
func (x *examiner) add(f Finding, step *procedure.StepState) {
	if x.job != nil {
		f.Job, f.Procedure = x.job.ID, x.job.Plan.Procedure
	}
	if step != nil {
		f.Step = step.Planned.ID
		f.Risk = step.Planned.Risk
	}
	if f.Risk == 0 && x.job != nil {
		f.Risk = x.job.Plan.Risk
	}
	for i := range x.found {
		if g := &x.found[i]; g.sameAs(f) {
			g.Entries = append(g.Entries, f.Entries...)
			g.Status = min(g.Status, f.Status)
			return
		}
	}
	x.found = append(x.found, f)
}

// sameAs reports whether two findings differ in their evidence only.
func (f *Finding) sameAs(g Finding) bool {
	return f.Rule == g.Rule && f.Job == g.Job && f.Step == g.Step && f.Item == g.Item && f.Tool == g.Tool &&
		f.Because == g.Because && f.Text == g.Text && f.Sure == g.Sure && f.Note == g.Note
}

// ref names an entry as evidence.
func ref(e procedure.Envelope) EntryRef {
	return EntryRef{ID: e.ID, Seq: e.Seq, Actor: e.Actor}
}

// refs names several.
func refs(envelopes ...procedure.Envelope) []EntryRef {
	out := make([]EntryRef, 0, len(envelopes))
	for _, e := range envelopes {
		out = append(out, ref(e))
	}
	return out
}
