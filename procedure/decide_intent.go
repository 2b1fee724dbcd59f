package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

func (d *decision) sign(c SignHold) (Entry, error) {
	j, s, err := d.b.jobAndStep(c.Job, c.Step)
	if err != nil {
		return Entry{}, err
	}
	if err := needs("saw", string(c.Saw)); err != nil {
		return Entry{}, err
	}
	if err := d.fresh(s.LastSeq); err != nil {
		return Entry{}, err
	}
	switch {
	case s.Planned.Hold == nil:
		return Entry{}, refuse(RuleNoHold, c.Step, "step %q has no hold point on this bike", s.Planned.Title)
	case s.Signed != nil:
		return Entry{}, refuse(RuleSigned, c.Step, "step %q is signed already", s.Planned.Title)
	case !s.Done():
		return Entry{}, refuse(RuleUnfinished, c.Step, "step %q is not done: %s", s.Planned.Title, s.lacks())
	case j.worked(s)[d.call.By.Person]:
		return Entry{}, refuse(RuleOwnWork, c.Step, "nobody signs for own work: ask another person to look")
	case s.Planned.Hold.By == ForemanSigns && !d.call.By.Rank.MayRelease():
		return Entry{}, refuse(RuleRank, c.Step, "this hold needs the foreman")
	case !d.call.By.Rank.MaySecond():
		return Entry{}, refuse(RuleRank, c.Step, "the second person must be a senior builder or the foreman")
	}
	if err := d.mayJudge(j, c.Step); err != nil {
		return Entry{}, err
	}
	return entry(c.Job, HoldSigned{Step: c.Step, Saw: c.Saw, Rank: d.call.By.Rank}), nil
}

// worked lists who gave the results that stand in a step.
func (j *Job) worked(s *StepState) map[string]bool {
	who := map[string]bool{}
	for _, r := range s.Results {
		if r.Void == nil {
			who[r.Entry.Actor] = true
		}
	}
	return who
}

// lacks says what a step still needs, for a person.
func (s *StepState) lacks() string {
	if s.Rework != "" {
		return "a result does not conform, follow the rework path"
	}
	missing := s.Missing()
	if len(missing) == 0 {
		return ""
	}
	item := missing[0]
	r := s.Results[item]
	switch {
	case r == nil:
		return fmt.Sprintf("%s has no result", s.Planned.ItemWords(item))
	case r.Void != nil:
		return fmt.Sprintf("%s is void since entry %d and must be taken again", s.Planned.ItemWords(item), r.Void.Seq)
	case r.Judgement.Verdict == Undecided:
		return fmt.Sprintf("%s is undecided and needs the foreman", s.Planned.ItemWords(item))
	case r.Judgement.Verdict == Nonconforming:
		return fmt.Sprintf("%s does not conform and must be taken again", s.Planned.ItemWords(item))
	}
	return "the passes are not complete"
}

func (d *decision) accept(c AcceptResult) (Entry, error) {
	if err := needs("reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	_, s, r := d.b.resultOf(c.Entry)
	if r == nil || r.Void != nil {
		return Entry{}, fmt.Errorf("build %s: entry %q gives no result that stands: %w", d.b.ID, c.Entry, ErrNotFound)
	}
	if err := d.fresh(s.LastSeq); err != nil {
		return Entry{}, err
	}
	switch {
	case r.Judgement.Verdict != Undecided:
		return Entry{}, refuse(RuleNotUndecided, c.Entry, "only an undecided result can be accepted; this one is %v", r.Judgement.Verdict)
	case !d.call.By.Rank.MayRelease():
		return Entry{}, refuse(RuleRank, c.Entry, "an undecided result needs the foreman")
	case r.Entry.Actor == d.call.By.Person:
		return Entry{}, refuse(RuleOwnWork, c.Entry, "nobody accepts own work: ask another foreman")
	}
	was, _ := d.b.Entry(c.Entry)
	return entry(was.Job, ResultAccepted{Entry: c.Entry, Reason: c.Reason, Rank: d.call.By.Rank}), nil
}

func (d *decision) acceptFigure(c AcceptFigure) (Entry, error) {
	if err := needs("joint", c.Joint, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	if _, ok := c.Window.Max(); !ok {
		return Entry{}, &FieldError{Path: "window", Rule: "missing", Text: "say which window is answered for, as the plan shows it"}
	}
	if !d.call.By.Rank.MayRelease() {
		return Entry{}, refuse(RuleRank, c.Joint, "only the foreman answers for a window from memory")
	}
	return entry("", FigureAccepted{Joint: c.Joint, Window: c.Window, Reason: c.Reason, Rank: d.call.By.Rank}), nil
}

func (d *decision) finish(c FinishJob) (Entry, error) {
	j, ok := d.b.Job(c.Job)
	if !ok {
		return Entry{}, fmt.Errorf("build %s: job %q: %w", d.b.ID, c.Job, ErrNotFound)
	}
	if j.Closed() {
		return Entry{}, refuse(RuleJobClosed, c.Job, "job %s is closed already", c.Job)
	}
	if err := d.fresh(j.LastSeq); err != nil {
		return Entry{}, err
	}
	if err := d.b.open(j, BeforeFinish); err != nil {
		return Entry{}, err
	}
	if j.Outdated != nil {
		return Entry{}, refuse(RuleOutdated, c.Job, "a part of this job was swapped in job %s since it was planned: swap it here too, so that its own limits hold", j.Outdated.Job)
	}
	if left := j.waitLeft(BeforeFinishing, d.call.Moment); left > 0 {
		return Entry{}, refuse(RuleWait, c.Job, "the job must wait another %s before it is finished", roundUp(left))
	}
	return entry(c.Job, JobFinished{}), nil
}

// open reports the first step of a due that does not hold.
func (b *Build) open(j *Job, due Due) error {
	for _, s := range j.Steps {
		if s.Planned.Due != due {
			continue
		}
		if !s.Done() {
			return refuse(RuleUnfinished, s.Planned.ID, "step %q is not done: %s", s.Planned.Title, s.lacks())
		}
		if s.HoldOpen() {
			return refuse(RuleHoldUnsigned, s.Planned.ID, "step %q waits for the %s", s.Planned.Title, words(s.Planned.Hold.By.String()))
		}
		if b.tooEarly(j, s) {
			return refuse(RuleWait, s.Planned.ID, "step %q was done before the wait for it was over: do it again", s.Planned.Title)
		}
	}
	return nil
}

func (d *decision) abandon(c AbandonJob) (Entry, error) {
	j, ok := d.b.Job(c.Job)
	if !ok {
		return Entry{}, fmt.Errorf("build %s: job %q: %w", d.b.ID, c.Job, ErrNotFound)
	}
	if err := needs("reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	if j.Closed() {
		return Entry{}, refuse(RuleJobClosed, c.Job, "job %s is closed already", c.Job)
	}
	if err := d.fresh(j.LastSeq); err != nil {
		return Entry{}, err
	}
	return entry(c.Job, JobAbandoned{Reason: c.Reason}), nil
}

// release lets the bike go when every job holds, later steps and waits
// included, and a foreman who did none of the safety-critical work says so.
func (d *decision) release() (Entry, error) {
	if !d.call.By.Rank.MayRelease() {
		return Entry{}, refuse(RuleRank, d.b.ID, "only the foreman releases a bike")
	}
	if err := d.fresh(d.lastSeq()); err != nil {
		return Entry{}, err
	}
	done := 0
	for _, j := range d.b.Jobs {
		if j.Abandoned != nil || d.b.Superseded(j) {
			continue
		}
		if err := d.releasable(j); err != nil {
			return Entry{}, err
		}
		done++
	}
	switch {
	case done == 0:
		return Entry{}, refuse(RuleNothingBuilt, d.b.ID, "no finished job on this build: there is nothing to release")
	case d.b.Released != nil:
		return Entry{}, refuse(RuleReleased, d.b.ID, "this build is released already")
	}
	return entry("", BuildReleased{Rank: d.call.By.Rank}), nil
}

func (d *decision) lastSeq() int64 {
	var last int64
	for _, j := range d.b.Jobs {
		last = max(last, j.LastSeq)
	}
	return last
}

func (d *decision) releasable(j *Job) error {
	if j.Finished == nil {
		return refuse(RuleJobOpen, j.ID, "job %s is open: finish it first", j.ID)
	}
	for _, due := range []Due{BeforeFinish, BeforeRelease} {
		if err := d.b.open(j, due); err != nil {
			return err
		}
	}
	if left := max(j.waitLeft(BeforeFinishing, d.call.Moment), j.waitLeft(BeforeReleasing, d.call.Moment)); left > 0 {
		return refuse(RuleWait, j.ID, "job %s must wait another %s before the bike leaves", j.ID, roundUp(left))
	}
	for _, s := range j.Steps {
		if s.Planned.Risk == SafetyCritical && s.Planned.Torque != nil && j.worked(s)[d.call.By.Person] {
			return refuse(RuleOwnWork, s.Planned.ID, "nobody releases own work on a safety-critical joint: ask another foreman")
		}
	}
	return nil
}

// FromMemory returns the joints of a plan whose window a foreman would have
// to answer for, with that window.
func (p *Plan) FromMemory() map[string]torque.Window {
	out := map[string]torque.Window{}
	for _, s := range p.Steps {
		if t := s.Torque; t != nil && t.Confidence <= FromMemory && s.Risk == SafetyCritical {
			out[t.Joint] = t.Window
		}
	}
	return out
}
