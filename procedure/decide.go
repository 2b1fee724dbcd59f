package procedure

import (
	"fmt"
	"time"
)

// An Actor is the person whose call it is, as the server knows them.
type Actor struct {
	Person string
	Rank   Rank
	// Skills is what the person has shown to be able to do; nil where the shop
	// keeps no register of the person, which holds nobody up.
	Skills *SkillRegister
}

// A Call is what Decide needs to know beside the record and the command.
type Call struct {
	// EntryID is made by the client and names the entry for ever.
	EntryID  string
	Workshop string
	By       Actor
	// BasedOn is the last sequence the person had seen; 0 makes no claim.
	BasedOn int64
	Moment  Moment
	// Tools finds a tool of the rack by id; nil knows none.
	Tools ToolSource
}

// A ToolSource finds a tool of the rack, or reports false.
type ToolSource func(id string) (*Tool, bool)

// Decide judges a command against the record and returns the entry to append,
// without changing anything. Facts always give an entry: one that does not
// count says which rule it broke. Intentions give an entry, a *RefusedError
// with the rule, or a *ConflictError when what they rest on has changed since
// BasedOn. A *FieldError or ErrNotFound means that the command names what is
// not there.
func (b *Build) Decide(cmd Command, call Call) (Entry, error) {
	if err := call.check(b.Seq); err != nil {
		return Entry{}, err
	}
	if call.Tools == nil {
		call.Tools = func(string) (*Tool, bool) { return nil, false }
	}
	d := decision{b: b, call: call}
	e, err := d.decide(cmd)
	if err != nil {
		return Entry{}, err
	}
	e.Schema = EntrySchema
	e.ID, e.Workshop, e.Build, e.Seq = call.EntryID, call.Workshop, b.ID, b.Seq+1
	e.Kind, e.Actor, e.BasedOn, e.Moment = e.Payload.Kind(), call.By.Person, call.BasedOn, call.Moment
	return e, nil
}

func (c Call) check(last int64) error {
	var p problems
	if !validID(c.EntryID) {
		p.add("entry_id", "malformed-id", "write 1 to 63 lower-case letters, digits and hyphens, such as a UUID, not %q", c.EntryID)
	}
	if c.By.Person == "" {
		p.add("person", "missing", "start a session as an enrolled person first")
	}
	if c.By.Rank > Foreman {
		p.add("person", "unknown-rank", "there is no rank %v", c.By.Rank)
	}
	if c.BasedOn < 0 || c.BasedOn > last {
		p.add("based_on", "out-of-range", "the record has entries 1 to %d, so %d was not seen", last, c.BasedOn)
	}
	return p.err()
}

type decision struct {
	b    *Build
	call Call
}

func (d *decision) decide(cmd Command) (Entry, error) {
	switch c := cmd.(type) {
	case OpenJob:
		return d.open(c)
	case TakeReading:
		return d.reading(c)
	case TakeMeasure:
		return d.measure(c)
	case TakeLook:
		return d.look(c)
	case TakePhoto:
		return d.photo(c)
	case DoPrep:
		return d.prep(c)
	case BeginRework:
		return d.rework(c)
	case SignHold:
		return d.sign(c)
	case AcceptResult:
		return d.accept(c)
	case AcceptFigure:
		return d.acceptFigure(c)
	case WithdrawEntry:
		return d.withdraw(c)
	case CorrectTool:
		return d.correctTool(c)
	case SwapPart:
		return d.swap(c)
	case FinishJob:
		return d.finish(c)
	case AbandonJob:
		return d.abandon(c)
	case ReleaseBuild:
		return d.release()
	}
	return Entry{}, fmt.Errorf("build %s: command %T is not handled", d.b.ID, cmd)
}

func (d *decision) open(c OpenJob) (Entry, error) {
	if !validID(c.Job) {
		return Entry{}, &FieldError{Path: "job", Rule: "malformed-id",
			Text: "write 1 to 63 lower-case letters, digits and hyphens"}
	}
	if _, taken := d.b.Job(c.Job); taken {
		return Entry{}, refuse(RuleTaken, c.Job, "build %s has a job %s already: choose another id", d.b.ID, c.Job)
	}
	if c.Plan == nil {
		return Entry{}, errNoPlan()
	}
	for _, j := range d.b.Jobs {
		if j.Plan.Procedure == c.Plan.Procedure && !j.Closed() {
			return Entry{}, refuse(RuleJobOpen, j.ID, "job %s follows the same procedure on this bike and is open: go on with it, or abandon it first", j.ID)
		}
	}
	if c.Plan.Blocked() {
		return Entry{}, refuse(RuleBlocked, c.Plan.Procedure, "the plan is stopped by a finding: %s", firstBlock(c.Plan))
	}
	if err := c.Plan.check(d.b.ID); err != nil {
		return Entry{}, err
	}
	if err := d.mayOpen(c); err != nil {
		return Entry{}, err
	}
	_, digest, err := c.Plan.Encode()
	if err != nil {
		return Entry{}, err
	}
	p := JobOpened{Procedure: c.Plan.Procedure, Revision: c.Plan.Revision, PlanDigest: digest, Engine: c.Plan.Engine}
	if c.Supervisor != nil {
		p.Supervisor, p.SupervisorRank = c.Supervisor.Person, c.Supervisor.Rank
	}
	return entry(c.Job, p), nil
}

func firstBlock(p *Plan) string {
	for _, f := range p.Findings {
		if f.Blocks {
			return f.Text
		}
	}
	return ""
}

func entry(job string, p Payload) Entry {
	return Entry{Envelope: Envelope{Job: job}, Payload: p}
}

// obstacle says why a fact of that moment in a step does not count yet, if
// anything.
func (d *decision) obstacle(j *Job, s *StepState, at Moment) (rule, text string) {
	if !j.takes(s) {
		return RuleJobClosed, fmt.Sprintf("job %s is closed", j.ID)
	}
	if s.Planned.Due == BeforeRelease && j.Finished == nil {
		return RuleJobOpen, "this step comes after the job is finished"
	}
	for _, earlier := range j.Steps[:j.index(s.Planned.ID)] {
		if earlier.Planned.Due != s.Planned.Due {
			continue
		}
		if !earlier.Done() {
			return RuleEarlierStep, fmt.Sprintf("the earlier step %q is not done: do it first", earlier.Planned.Title)
		}
		if earlier.HoldOpen() {
			return RuleHoldUnsigned, fmt.Sprintf("%q waits for the %s: have it looked at first", earlier.Planned.Title, words(earlier.Planned.Hold.By.String()))
		}
	}
	if left := d.b.stepWait(j, s.Planned.ID, at); left > 0 {
		return RuleWait, fmt.Sprintf("wait another %s before this step", roundUp(left))
	}
	if s.Rework != "" {
		return RuleReworkFirst, "the last result does not conform: follow the rework path first"
	}
	return "", ""
}

// fresh reports a conflict when something the command rests on was touched
// after the sequence that the person had seen.
func (d *decision) fresh(lastSeq int64) error {
	if d.call.BasedOn > 0 && lastSeq > d.call.BasedOn {
		return &ConflictError{Since: d.call.BasedOn, Changed: lastSeq}
	}
	return nil
}

func roundUp(t time.Duration) time.Duration {
	return (t + time.Minute - 1).Truncate(time.Minute)
}

// needs reports the fields that must not be empty, as path, value pairs.
func needs(pairs ...string) error {
	var p problems
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] == "" {
			p.add(pairs[i], "missing", "this field is required")
		}
	}
	return p.err()
}
