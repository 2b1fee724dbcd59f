package procedure

import (
	"fmt"
	"slices"
)

// A Build is the state of one bike's record: what a fold of its entries
// gives. It is made by Fold or NewBuild and changed by Apply only.
type Build struct {
	ID string
	// Seq is the sequence of the last entry applied.
	Seq      int64
	Jobs     []*Job
	Accepted []Acceptance
	// Released is the entry that let the bike leave, if one stands.
	Released *Envelope

	plans   PlanSource
	entries []Entry
	byID    map[string]int
	// gone holds the entries that were withdrawn, corrected how readings are
	// judged with the tool that they were last corrected to.
	gone      map[string]bool
	corrected map[string]Judgement
}

// A PlanSource finds a stored plan by its digest.
type PlanSource func(digest string) (*Plan, error)

// NewBuild returns the empty record of a build.
func NewBuild(id string, plans PlanSource) *Build {
	return &Build{ID: id, plans: plans, byID: map[string]int{},
		gone: map[string]bool{}, corrected: map[string]Judgement{}}
}

// Fold returns the state that entries, in order, lead to: the same as applying
// them one by one, but withdrawn entries are known from the start, so that a
// record with many of them is folded once.
func Fold(id string, entries []Entry, plans PlanSource) (*Build, error) {
	b := NewBuild(id, plans)
	for _, e := range entries {
		if err := b.add(e); err != nil {
			return nil, err
		}
	}
	if err := b.refold(); err != nil {
		return nil, err
	}
	return b, nil
}

// Job returns a job by id, or false.
func (b *Build) Job(id string) (*Job, bool) {
	for _, j := range b.Jobs {
		if j.ID == id {
			return j, true
		}
	}
	return nil, false
}

// Entry returns an entry by its id, or false.
func (b *Build) Entry(id string) (Entry, bool) {
	i, ok := b.byID[id]
	if !ok {
		return Entry{}, false
	}
	return b.entries[i], true
}

// Entries returns the record in order. The slice is not to be changed.
func (b *Build) Entries() []Entry { return slices.Clip(b.entries) }

// IsWithdrawn reports whether a fact was taken back.
func (b *Build) IsWithdrawn(entryID string) bool { return b.gone[entryID] }

// A Job is one procedure on one bike.
type Job struct {
	ID         string
	Plan       *Plan
	PlanDigest string
	Opened     Envelope
	// Supervisor is the person who stays with the work, empty when nobody was
	// named.
	Supervisor string
	Steps      []*StepState
	// Finished and Abandoned are the entries that closed the job, if any.
	Finished  *Envelope
	Abandoned *Envelope
	// Outdated is the entry of another job that swapped a part which this one
	// handles, until this job is planned with the new part as well.
	Outdated *Envelope
	// LastSeq is the last entry that touched the job.
	LastSeq int64
}

// Superseded reports whether the same procedure was begun again on this bike
// in a later job that was not abandoned: what the older job says of the joints
// is history then, and the newer one answers for them.
func (b *Build) Superseded(j *Job) bool {
	return slices.ContainsFunc(b.Jobs, func(o *Job) bool {
		return o.Opened.Seq > j.Opened.Seq && o.Plan.Procedure == j.Plan.Procedure && o.Abandoned == nil
	})
}

// Closed reports whether the job was finished or abandoned.
func (j *Job) Closed() bool { return j.Finished != nil || j.Abandoned != nil }

// Step returns the state of a step, or false.
func (j *Job) Step(id string) (*StepState, bool) {
	for _, s := range j.Steps {
		if s.Planned.ID == id {
			return s, true
		}
	}
	return nil, false
}

func (j *Job) index(id string) int {
	return slices.IndexFunc(j.Steps, func(s *StepState) bool { return s.Planned.ID == id })
}

// newJob builds the empty state of a plan.
func newJob(id string, plan *Plan, digest string, opened Envelope) *Job {
	j := &Job{ID: id, Plan: plan, PlanDigest: digest, Opened: opened, LastSeq: opened.Seq}
	for i := range plan.Steps {
		j.Steps = append(j.Steps, newStep(&plan.Steps[i]))
	}
	return j
}

// touch marks that an entry concerned the step.
func (b *Build) touch(j *Job, s *StepState, seq int64) {
	j.LastSeq = max(j.LastSeq, seq)
	if s != nil {
		s.LastSeq = max(s.LastSeq, seq)
	}
}

func (b *Build) jobAndStep(job, step string) (*Job, *StepState, error) {
	j, ok := b.Job(job)
	if !ok {
		return nil, nil, fmt.Errorf("build %s: job %q: %w", b.ID, job, ErrNotFound)
	}
	s, ok := j.Step(step)
	if !ok {
		return nil, nil, &FieldError{Path: "step", Rule: "unknown-step",
			Text: fmt.Sprintf("the plan of job %s has no step %q: open the job again to see its steps", job, step)}
	}
	return j, s, nil
}
