package script

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/torque"
)

// An Auditor lists what is found on a build with what the shop knows.
type Auditor func(build *procedure.Build, view audit.View) ([]Found, error)

// Domain is a bench without a server: the pure state machine, with nothing
// between the script and the rules.
type Domain struct {
	procedures map[string]*procedure.Resolved
	people     map[string]procedure.Actor
	ranks      []audit.RankSince
	skills     []audit.SkillsSince
	editions   []audit.EditionSince
	tools      []procedure.Tool
	sheets     map[string]*procedure.Sheet
	builds     map[string]*procedure.Build
	plans      map[string]*procedure.Plan
	audit      Auditor
	seq        int64
}

// NewDomain returns a bench with these procedures. auditor is asked for the
// findings of a build.
func NewDomain(procedures []*procedure.Resolved, auditor Auditor) *Domain {
	d := &Domain{people: map[string]procedure.Actor{},
		sheets: map[string]*procedure.Sheet{}, builds: map[string]*procedure.Build{},
		plans: map[string]*procedure.Plan{}, audit: auditor}
	d.use(procedures, time.Time{})
	return d
}

// use plans by these procedures from a time on.
func (d *Domain) use(procedures []*procedure.Resolved, since time.Time) {
	before := d.procedures
	d.procedures = map[string]*procedure.Resolved{}
	for _, r := range procedures {
		if old, ok := before[r.ID]; !ok || old.Revision != r.Revision {
			d.editions = append(d.editions, audit.EditionSince{Procedure: r.ID, Revision: r.Revision.String(), Since: since})
		}
		d.procedures[r.ID] = r
	}
}

func (d *Domain) plan(digest string) (*procedure.Plan, error) {
	p, ok := d.plans[digest]
	if !ok {
		return nil, fmt.Errorf("plan %s: %w", digest, procedure.ErrNotFound)
	}
	return p, nil
}

// Plan implements Bench.
func (d *Domain) Plan(at Hand, id string) (*PlanView, error) {
	p, err := d.newPlan(at, id, d.sheets[at.Build])
	if err != nil {
		return nil, err
	}
	return ViewPlan(p), nil
}

func (d *Domain) newPlan(at Hand, id string, sheet *procedure.Sheet) (*procedure.Plan, error) {
	res, ok := d.procedures[id]
	if !ok {
		return nil, fmt.Errorf("procedure %s: %w", id, procedure.ErrNotFound)
	}
	return procedure.NewPlan(res, sheet, d.tools, at.Now, procedure.Policy{Accepted: d.builds[at.Build].Accepted})
}

// Job implements Bench.
func (d *Domain) Job(at Hand, id string) (*JobView, error) {
	b := d.builds[at.Build]
	g, err := b.Guide(id, moment(at, d.seq))
	if err != nil {
		return nil, err
	}
	j, _ := b.Job(id)
	return ViewJob(j.Plan, g), nil
}

// Do implements Bench.
func (d *Domain) Do(at Hand, r Request) (*Outcome, error) {
	cmd, sheet, err := d.command(at, r)
	if err != nil {
		return nil, err
	}
	d.seq++
	b := d.builds[at.Build]
	e, err := b.Decide(cmd, procedure.Call{EntryID: r.Entry, Workshop: "script",
		By: d.people[at.Person], Moment: momentOf(at, r, d.seq), Tools: d.tool})
	var refused *procedure.RefusedError
	if errors.As(err, &refused) {
		return &Outcome{Refused: refused.Rule, Text: refused.Text}, nil
	}
	if err != nil {
		return nil, err
	}
	if sheet != nil {
		d.sheets[at.Build] = sheet
	}
	return outcome(e), b.Apply(e)
}

func (d *Domain) tool(id string) (*procedure.Tool, bool) {
	for i := range d.tools {
		if d.tools[i].ID == id {
			return &d.tools[i], true
		}
	}
	return nil, false
}

// moment is when a tablet says that it happened.
func moment(at Hand, seq int64) procedure.Moment {
	m := procedure.Moment{Tablet: at.Tablet, TabletSeq: seq, Boot: at.Tablet, MonotonicUS: at.When().UnixMicro(),
		TabletUS: at.TabletTime().UnixMicro(), ServerUS: at.Now.UnixMicro()}
	if !at.Unmeasured {
		offset := -at.Ahead.Microseconds()
		m.OffsetUS = &offset
	}
	return m
}

// momentOf is the moment of a request. What the bench plans is told by the
// clock of the bench.
func momentOf(at Hand, r Request, seq int64) procedure.Moment {
	if r.Open != nil || r.Part != nil {
		return procedure.Moment{Tablet: at.Tablet, ServerUS: at.Now.UnixMicro()}
	}
	return moment(at, seq)
}

// command completes the request with what a server would add: plans, and the
// keyed digests of notes, for which the note itself stands here. A swap gives
// the sheet with the new part as well.
func (d *Domain) command(at Hand, r Request) (procedure.Command, *procedure.Sheet, error) {
	note := procedure.NoteRef(r.Note)
	switch {
	case r.Open != nil:
		p, err := d.newPlan(at, r.Open.Procedure, d.sheets[at.Build])
		if err != nil {
			return nil, nil, err
		}
		o := procedure.OpenJob{Job: r.Open.Job, Plan: p}
		if name := r.Open.Supervisor; name != "" {
			s, ok := d.people[name]
			if !ok {
				return nil, nil, fmt.Errorf("supervisor %s: %w", name, procedure.ErrNotFound)
			}
			o.Supervisor = &s
		}
		return o, nil, d.keep(p)
	case r.Part != nil:
		sheet := WithPart(d.sheets[at.Build], r.Part.Part)
		j, ok := d.builds[at.Build].Job(r.Part.Job)
		if !ok {
			return nil, nil, procedure.ErrNotFound
		}
		p, err := d.newPlan(at, j.Plan.Procedure, sheet)
		if err != nil {
			return nil, nil, err
		}
		return procedure.SwapPart{Job: r.Part.Job, Role: r.Part.Part.Role, Plan: p, Reason: note}, sheet, d.keep(p)
	}
	cmd := withNote(r.Command, note)
	if a, ok := cmd.(procedure.AcceptFigure); ok {
		var err error
		a.Window, err = d.fromMemory(at, a.Joint)
		return a, nil, err
	}
	return cmd, nil, nil
}

// fromMemory asks the plans of the build for the window of a joint.
func (d *Domain) fromMemory(at Hand, joint string) (torque.Window, error) {
	for _, id := range slices.Sorted(maps.Keys(d.procedures)) {
		p, err := d.newPlan(at, id, d.sheets[at.Build])
		if err != nil {
			return torque.Window{}, err
		}
		for _, s := range p.Steps {
			if s.Torque != nil && s.Torque.Joint == joint && !s.Torque.Window.IsZero() {
				return s.Torque.Window, nil
			}
		}
	}
	return torque.Window{}, fmt.Errorf("no plan of build %s has the joint %s", at.Build, joint)
}

func (d *Domain) keep(p *procedure.Plan) error {
	_, digest, err := p.Encode()
	if err != nil {
		return err
	}
	d.plans[digest] = p
	return nil
}

// withNote puts the note where the command carries one.
func withNote(c procedure.Command, note procedure.NoteRef) procedure.Command {
	switch c := c.(type) {
	case procedure.TakePhoto:
		c.Picture = "picture"
		return c
	case procedure.BeginRework:
		c.Reason = note
		return c
	case procedure.SignHold:
		c.Saw = note
		return c
	case procedure.AcceptResult:
		c.Reason = note
		return c
	case procedure.AcceptFigure:
		c.Reason = note
		return c
	case procedure.WithdrawEntry:
		c.Reason = note
		return c
	case procedure.CorrectTool:
		c.Reason = note
		return c
	case procedure.AbandonJob:
		c.Reason = note
		return c
	}
	return c
}

// WithPart returns the sheet with one part in the place of the old one.
func WithPart(s *procedure.Sheet, part procedure.Part) *procedure.Sheet {
	c := *s
	c.Parts = slices.Clone(s.Parts)
	if i := slices.IndexFunc(c.Parts, func(p procedure.Part) bool { return p.Role == part.Role }); i >= 0 {
		c.Parts[i] = part
	} else {
		c.Parts = append(c.Parts, part)
	}
	return &c
}

func outcome(e procedure.Entry) *Outcome {
	o := &Outcome{Seq: e.Seq}
	var jd procedure.Judgement
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken:
		jd = p.Judgement
	case procedure.MeasureTaken:
		jd = p.Judgement
	case procedure.LookTaken:
		jd = p.Judgement
	case procedure.PhotoTaken:
		jd = p.Judgement
	case procedure.PrepDone:
		jd = p.Judgement
	case procedure.ToolCorrected:
		jd = p.Judgement
	case procedure.JobOpened:
		o.Supervisor = p.Supervisor
		return o
	case procedure.ReworkBegun:
		o.Voids = p.Voids
		return o
	case procedure.PartSwapped:
		o.Voids = p.Voids
		return o
	default:
		return o
	}
	o.Judgement, o.Voids = &jd, jd.Voids
	return o
}

// Audit implements Bench.
func (d *Domain) Audit(at Hand) ([]Found, error) {
	return d.audit(d.builds[at.Build], audit.View{At: at.Now, Tools: d.tools, Ranks: d.ranks, Skills: d.skills, Editions: d.editions})
}
