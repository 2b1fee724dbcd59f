package script

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// Domain is a bench without a server: the pure state machine, with nothing
// between the script and the rules.
type Domain struct {
	procedures map[string]*procedure.Resolved
	ranks      map[string]procedure.Rank
	tools      []procedure.Tool
	sheets     map[string]*procedure.Sheet
	builds     map[string]*procedure.Build
	plans      map[string]*procedure.Plan
	audit      func(*procedure.Build, []procedure.Tool, Hand) ([]Found, error)
	seq        int64
}

// NewDomain returns a bench with these procedures. audit is asked for the
// findings of a build; the packages of the auditor lie above this one.
func NewDomain(procedures []*procedure.Resolved, audit func(*procedure.Build, []procedure.Tool, Hand) ([]Found, error)) *Domain {
	d := &Domain{procedures: map[string]*procedure.Resolved{}, ranks: map[string]procedure.Rank{},
		sheets: map[string]*procedure.Sheet{}, builds: map[string]*procedure.Build{},
		plans: map[string]*procedure.Plan{}, audit: audit}
	for _, r := range procedures {
		d.procedures[r.ID] = r
	}
	return d
}

// Enrol implements Bench.
func (d *Domain) Enrol(name string, rank procedure.Rank) error {
	d.ranks[name] = rank
	return nil
}

// AddTool implements Bench.
func (d *Domain) AddTool(t procedure.Tool) error {
	if err := t.Check(); err != nil {
		return err
	}
	d.tools = append(d.tools, t)
	return nil
}

// AddBuild implements Bench.
func (d *Domain) AddBuild(id string, sheet *procedure.Sheet) error {
	s := *sheet
	s.Build = id
	d.sheets[id] = &s
	d.builds[id] = procedure.NewBuild(id, d.plan)
	return nil
}

func (d *Domain) plan(digest string) (*procedure.Plan, error) {
	p, ok := d.plans[digest]
	if !ok {
		return nil, fmt.Errorf("plan %s: %w", digest, procedure.ErrNotFound)
	}
	return p, nil
}

// Quarantine implements Bench.
func (d *Domain) Quarantine(at Hand, tool, reason string) error {
	i := slices.IndexFunc(d.tools, func(t procedure.Tool) bool { return t.ID == tool })
	if i < 0 {
		return fmt.Errorf("tool %s: %w", tool, procedure.ErrNotFound)
	}
	d.tools[i].Quarantines = append(slices.Clip(d.tools[i].Quarantines), procedure.Quarantine{From: at.Now, Reason: reason})
	return nil
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
		By: procedure.Actor{Person: at.Person, Rank: d.ranks[at.Person]}, Moment: moment(at, d.seq), Tools: d.tool})
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

func moment(at Hand, seq int64) procedure.Moment {
	us, zero := at.Now.UnixMicro(), int64(0)
	return procedure.Moment{Tablet: at.Tablet, TabletSeq: seq, Boot: at.Tablet, MonotonicUS: us,
		TabletUS: us, ServerUS: us, OffsetUS: &zero}
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
		return procedure.OpenJob{Job: r.Open.Job, Plan: p}, nil, d.keep(p)
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
	return d.audit(d.builds[at.Build], d.tools, at)
}
