package procedure

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

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
		return fmt.Sprintf("%s has no result", itemWords(item))
	case r.Void != nil:
		return fmt.Sprintf("%s is void since entry %d and must be taken again", itemWords(item), r.Void.Seq)
	case r.Judgement.Verdict == Undecided:
		return fmt.Sprintf("%s is undecided and needs the foreman", itemWords(item))
	case r.Judgement.Verdict == Nonconforming:
		return fmt.Sprintf("%s does not conform and must be taken again", itemWords(item))
	}
	return "the passes are not complete"
}

// itemWords names an item as it is spoken: "bolt A", "check rock", "prep".
func itemWords(item string) string {
	return strings.NewReplacer(".", " ", "-", " ").Replace(item)
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
	if !d.call.By.Rank.MayRelease() {
		return Entry{}, refuse(RuleRank, c.Joint, "only the foreman answers for a window from memory")
	}
	return entry("", FigureAccepted{Joint: c.Joint, Window: c.Window, Reason: c.Reason, Rank: d.call.By.Rank}), nil
}

func (d *decision) withdraw(c WithdrawEntry) (Entry, error) {
	if err := needs("entry", c.Entry, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	if !slices.Contains([]string{CauseMisTap, CauseWrongBike, CauseDoubtful}, c.Cause) {
		return Entry{}, &FieldError{Path: "cause", Rule: "unknown-cause",
			Text: fmt.Sprintf("write %s, %s or %s", CauseMisTap, CauseWrongBike, CauseDoubtful)}
	}
	was, err := d.fact(c.Entry)
	if err != nil {
		return Entry{}, err
	}
	return entry(was.Job, EntryWithdrawn{Entry: c.Entry, Cause: c.Cause, Reason: c.Reason, MovedTo: c.MovedTo}), nil
}

// fact finds an entry that this person may correct.
func (d *decision) fact(id string) (Entry, error) {
	was, ok := d.b.Entry(id)
	if !ok {
		return Entry{}, fmt.Errorf("build %s: entry %q: %w", d.b.ID, id, ErrNotFound)
	}
	switch {
	case factStep(was.Payload) == "":
		return Entry{}, refuse(RuleNotAFact, id, "only readings, measures, looks, photos, prep, rework and signatures can be corrected")
	case d.b.gone[id]:
		return Entry{}, refuse(RuleWithdrawn, id, "this entry was withdrawn already")
	case was.Actor != d.call.By.Person && !d.call.By.Rank.MayRelease():
		return Entry{}, refuse(RuleNotYours, id, "an entry is corrected by the person who made it, or by the foreman")
	}
	return was, nil
}

func (d *decision) correctTool(c CorrectTool) (Entry, error) {
	if err := needs("entry", c.Entry, "tool", c.Tool, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	was, err := d.fact(c.Entry)
	if err != nil {
		return Entry{}, err
	}
	r, ok := was.Payload.(ReadingTaken)
	if !ok {
		return Entry{}, refuse(RuleNotAFact, c.Entry, "only a reading has a tool to correct")
	}
	j, s, err := d.b.jobAndStep(was.Job, r.Step)
	if err != nil {
		return Entry{}, err
	}
	return entry(was.Job, ToolCorrected{Entry: c.Entry, Tool: c.Tool, Reason: c.Reason,
		Judgement: d.judgeTool(j, s, r, c.Tool, was.when())}), nil
}

// judgeTool judges a reading again for another tool. One that did not count
// only because of its tool is judged whole, against the present state; of any
// other, whether it was in order stands as it was judged at the time.
func (d *decision) judgeTool(j *Job, s *StepState, r ReadingTaken, id string, at Moment) Judgement {
	was := r.Judgement
	r.Tool = id
	if !was.Counts && isToolRule(was.Rule) {
		r.Judgement = d.judgeReading(j, s, r, at)
		r.Judgement.Voids = d.readingVoids(j, s, r)
		return r.Judgement
	}
	jd := Judgement{Counts: was.Counts, Rule: was.Rule, Text: was.Text, Pass: was.Pass, Round: was.Round}
	t := s.Planned.Torque
	jd.Verdict, jd.Probability = d.readingVerdict(j, t, r, at, jd.Pass == len(t.Passes)-1)
	tool, ok := d.call.Tools(id)
	if !ok {
		jd.Counts, jd.Rule, jd.Text = false, RuleToolUnknown, fmt.Sprintf("there is no tool %q on the rack", id)
		return jd
	}
	check := tool.PassFaults
	if jd.Pass == len(t.Passes)-1 {
		check = tool.Faults
	}
	if faults := check(r.Value, s.Planned.Hand, at.Best()); len(faults) > 0 {
		jd.Counts, jd.Rule, jd.Text = false, faults[0].Rule, faults[0].Text
	}
	return jd
}

func (d *decision) swap(c SwapPart) (Entry, error) {
	j, ok := d.b.Job(c.Job)
	if !ok {
		return Entry{}, fmt.Errorf("build %s: job %q: %w", d.b.ID, c.Job, ErrNotFound)
	}
	if err := needs("role", c.Role, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
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
	_, digest, err := c.Plan.Encode()
	if err != nil {
		return Entry{}, err
	}
	return entry(c.Job, PartSwapped{Role: c.Role, PlanDigest: digest, Revision: c.Plan.Revision,
		Engine: c.Plan.Engine, Reason: c.Reason, Voids: d.swapVoids(j, c.Plan, c.Role)}), nil
}

// swapVoids lists the results that the new part spoils: of steps that handle
// it, of steps that the new plan words differently, and of what leans on them.
func (d *decision) swapVoids(j *Job, plan *Plan, role string) []ResultRef {
	w := voidWalk{b: d.b, seen: map[string]bool{}}
	for _, s := range j.Steps {
		now, ok := plan.Step(s.Planned.ID)
		if !ok || slices.Contains(now.Parts, role) || !sameWork(s.Planned, now) {
			w.spoil(j, s)
		}
	}
	return w.sorted()
}

// sameWork reports whether two planned steps ask the hand for the same thing.
// Which tools lie on the rack that day does not matter.
func sameWork(a, b *PlannedStep) bool {
	return workOf(a) == workOf(b)
}

func workOf(s *PlannedStep) string {
	c := *s
	if s.Torque != nil {
		t := *s.Torque
		t.Choices = nil
		c.Torque = &t
	}
	data, err := json.Marshal(c)
	if err != nil {
		return err.Error()
	}
	return string(data)
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
	if err := j.open(BeforeFinish); err != nil {
		return Entry{}, err
	}
	if left := j.waitLeft(BeforeFinishing, d.call.Moment); left > 0 {
		return Entry{}, refuse(RuleWait, c.Job, "the job must wait another %s before it is finished", roundUp(left))
	}
	return entry(c.Job, JobFinished{}), nil
}

// open reports the first step of a due that does not hold.
func (j *Job) open(due Due) error {
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
		if err := j.open(due); err != nil {
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
