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
	// gone holds the entries that were withdrawn.
	gone map[string]bool
}

// A PlanSource finds a stored plan by its digest.
type PlanSource func(digest string) (*Plan, error)

// NewBuild returns the empty record of a build.
func NewBuild(id string, plans PlanSource) *Build {
	return &Build{ID: id, plans: plans, byID: map[string]int{}, gone: map[string]bool{}}
}

// Fold returns the state that entries, in order, lead to.
func Fold(id string, entries []Entry, plans PlanSource) (*Build, error) {
	b := NewBuild(id, plans)
	for _, e := range entries {
		if err := b.Apply(e); err != nil {
			return nil, err
		}
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
	Steps      []*StepState
	// Finished and Abandoned are the entries that closed the job, if any.
	Finished  *Envelope
	Abandoned *Envelope
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

// A StepState is how far one step has come.
type StepState struct {
	Planned *PlannedStep
	// Results holds the result that stands for each item.
	Results map[string]*Result
	Group   Group
	// Signed is the hold's signature, if one stands.
	Signed *Envelope
	// Rework names the nonconforming entry that must be reworked first.
	Rework string
	// Reworks counts how often the step was taken apart.
	Reworks int
	// LastSeq is the last entry that touched the step.
	LastSeq int64
}

// A Group is the progress through the passes of a torque step.
type Group struct {
	// Pass counts from 0; Round from 1 while closing rounds go on.
	Pass, Round int
	// Done holds the bolts taken in this pass or round; Turned says that one
	// of them moved in this round.
	Done   map[string]bool
	Turned bool
	// Closed says that the bolts hold: the last pass or a round in which
	// none moved is complete.
	Closed bool
}

// A Result is what stands for one item of a step.
type Result struct {
	Item      string
	Entry     Envelope
	Judgement Judgement
	// Shown is the result as a person reads it, such as "13 N·m".
	Shown string
	Tool  string
	// Void is the entry that spoiled the result, if any.
	Void *Envelope
	// AcceptedBy is the entry by which a foreman took an undecided result.
	AcceptedBy *Envelope

	// fact is the payload that gave the result.
	fact Payload
}

// Stands reports whether the result may be leaned on at a step of this risk.
func (r *Result) Stands(risk Risk) bool {
	if r == nil || r.Void != nil {
		return false
	}
	switch r.Judgement.Verdict {
	case Conforming:
		return true
	case Undecided:
		return risk < SafetyCritical || r.AcceptedBy != nil
	case Nonconforming:
	}
	return false
}

// PrepItem is the item of a step's prep.
const PrepItem = "prep"

// BoltItem and CheckItem name the items of a bolt and of a check.
func BoltItem(bolt string) string { return "bolt." + bolt }

// CheckItem names the item of a check.
func CheckItem(check string) string { return "check." + check }

// items lists what a step must have a result for, in the order of the work.
func (s *PlannedStep) items() []string {
	var out []string
	if s.ThreadPrep != nil || s.FacePrep != nil {
		out = append(out, PrepItem)
	}
	if s.Torque != nil {
		for _, b := range s.Torque.Order {
			out = append(out, BoltItem(b))
		}
	}
	for _, c := range s.Checks {
		out = append(out, CheckItem(c.ID))
	}
	return out
}

// Missing lists the items without a result that stands.
func (s *StepState) Missing() []string {
	var out []string
	for _, item := range s.Planned.items() {
		if !s.Results[item].Stands(s.Planned.Risk) {
			out = append(out, item)
		}
	}
	if len(out) == 0 && s.Planned.Torque != nil && !s.Group.Closed {
		out = append(out, BoltItem(s.nextBolt()))
	}
	return out
}

// Done reports whether all results stand; a hold may still be open.
func (s *StepState) Done() bool { return s.Rework == "" && len(s.Missing()) == 0 }

// HoldOpen reports whether the step's hold waits for a signature.
func (s *StepState) HoldOpen() bool { return s.Planned.Hold != nil && s.Signed == nil }

// Complete reports whether the step holds and is signed where it must be.
func (s *StepState) Complete() bool { return s.Done() && !s.HoldOpen() }

// nextBolt is the first bolt of the order not taken in this pass or round.
func (s *StepState) nextBolt() string {
	for _, b := range s.Planned.Torque.Order {
		if !s.Group.Done[b] {
			return b
		}
	}
	return s.Planned.Torque.Order[0]
}

// newJob builds the empty state of a plan.
func newJob(id string, plan *Plan, digest string, opened Envelope) *Job {
	j := &Job{ID: id, Plan: plan, PlanDigest: digest, Opened: opened, LastSeq: opened.Seq}
	for i := range plan.Steps {
		j.Steps = append(j.Steps, newStep(&plan.Steps[i]))
	}
	return j
}

func newStep(planned *PlannedStep) *StepState {
	s := &StepState{Planned: planned, Results: map[string]*Result{}}
	s.Group.Done = map[string]bool{}
	return s
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
