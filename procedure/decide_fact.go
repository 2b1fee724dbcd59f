package procedure

import (
	"fmt"
	"math/big"
	"strings"
)

// check finds a check of the wanted kind in a step.
func (d *decision) check(job, step, check string, kind CheckKind) (*Job, *StepState, *PlannedCheck, error) {
	j, s, err := d.b.jobAndStep(job, step)
	if err != nil {
		return nil, nil, nil, err
	}
	for i := range s.Planned.Checks {
		c := &s.Planned.Checks[i]
		if c.ID != check {
			continue
		}
		if c.Kind != kind {
			return nil, nil, nil, &FieldError{Path: "check", Rule: "wrong-kind",
				Text: fmt.Sprintf("check %q of step %q asks for a %v, not for a %v", check, step, c.Kind, kind)}
		}
		return j, s, c, nil
	}
	return nil, nil, nil, &FieldError{Path: "check", Rule: "unknown-check",
		Text: fmt.Sprintf("step %q has no check %q on this bike", step, check)}
}

// judge makes the judgement of a fact that is no reading.
func (d *decision) judge(j *Job, s *StepState, v Verdict) Judgement {
	rule, text := d.obstacle(j, s, d.call.Moment)
	jd := Judgement{Counts: rule == "", Rule: rule, Text: text, Verdict: v}
	return jd
}

func (d *decision) measure(c TakeMeasure) (Entry, error) {
	j, s, pc, err := d.check(c.Job, c.Step, c.Check, Measure)
	if err != nil {
		return Entry{}, err
	}
	value, err := parseDecimal(c.Value)
	if err != nil {
		return Entry{}, &FieldError{Path: "value", Rule: "malformed-number", Text: err.Error()}
	}
	if c.Unit != pc.Unit {
		return Entry{}, &FieldError{Path: "unit", Rule: "wrong-unit",
			Text: fmt.Sprintf("this check is measured in %s, not in %q: send its unit as %q", UnitWords(pc.Unit), c.Unit, pc.Unit)}
	}
	v := judgeMeasure(value, optional(pc.Min), optional(pc.Max), orZero(pc.Error))
	jd := d.judge(j, s, v)
	jd.spoil(d.voids(j, s))
	instrument := c.Instrument
	if instrument == "" {
		instrument = pc.Instrument
	}
	return entry(c.Job, MeasureTaken{Step: c.Step, Check: c.Check, Value: c.Value, Unit: c.Unit,
		Instrument: instrument, Judgement: jd}), nil
}

func optional(text string) *big.Rat {
	if text == "" {
		return nil
	}
	r, err := parseDecimal(text)
	if err != nil {
		return nil
	}
	return r
}

func orZero(text string) *big.Rat {
	if r := optional(text); r != nil {
		return r
	}
	return new(big.Rat)
}

func (d *decision) look(c TakeLook) (Entry, error) {
	j, s, _, err := d.check(c.Job, c.Step, c.Check, Look)
	if err != nil {
		return Entry{}, err
	}
	v := Conforming
	if !c.OK {
		v = Nonconforming
	}
	jd := d.judge(j, s, v)
	if s.handsOnly() {
		jd.spoil(d.voids(j, s))
	}
	return entry(c.Job, LookTaken{Step: c.Step, Check: c.Check, OK: c.OK, Note: c.Note, Judgement: jd}), nil
}

// handsOnly reports that looks are the only trace a hand leaves in the step,
// so that a new look means that the hand was there again. Where the step has
// prep or bolts, looking again disturbs nothing.
func (s *StepState) handsOnly() bool {
	return s.Planned.Torque == nil && s.Planned.ThreadPrep == nil && s.Planned.FacePrep == nil
}

func (d *decision) photo(c TakePhoto) (Entry, error) {
	j, s, _, err := d.check(c.Job, c.Step, c.Check, Photo)
	if err != nil {
		return Entry{}, err
	}
	if err := needs("picture", string(c.Picture)); err != nil {
		return Entry{}, err
	}
	return entry(c.Job, PhotoTaken{Step: c.Step, Check: c.Check, Picture: c.Picture,
		Judgement: d.judge(j, s, Conforming)}), nil
}

func (d *decision) prep(c DoPrep) (Entry, error) {
	j, s, err := d.b.jobAndStep(c.Job, c.Step)
	if err != nil {
		return Entry{}, err
	}
	if s.Planned.ThreadPrep == nil && s.Planned.FacePrep == nil {
		return Entry{}, &FieldError{Path: "step", Rule: "no-prep-here",
			Text: fmt.Sprintf("step %q has no prep on this bike", c.Step)}
	}
	if max(c.Thread, c.Face) > CarbonPaste {
		return Entry{}, &FieldError{Path: "thread", Rule: "unknown-prep", Text: "say what was put on: " + strings.Join(prepNames[1:], ", ")}
	}
	v := Conforming
	if !asPlanned(s.Planned.ThreadPrep, c.Thread) || !asPlanned(s.Planned.FacePrep, c.Face) {
		v = Nonconforming
	}
	jd := d.judge(j, s, v)
	jd.spoil(s.bolts(j).and(d.voids(j, s)))
	return entry(c.Job, PrepDone{Step: c.Step, Thread: c.Thread, Face: c.Face, Batch: c.Batch,
		Metal: c.Metal, Celsius: c.Celsius, Judgement: jd}), nil
}

// asPlanned compares what was put on with the plan. A surface the plan says
// nothing about must have nothing on it.
func asPlanned(plan *PlannedPrep, used Prep) bool {
	if plan == nil {
		return used == 0
	}
	return plan.Use == used
}

// bolts lists the bolts of the step that have a result: new prep means that
// the joint was apart.
func (s *StepState) bolts(j *Job) spoiled {
	var out spoiled
	if s.Planned.Torque == nil {
		return out
	}
	for _, bolt := range s.Planned.Torque.Bolts {
		if r := s.Results[BoltItem(bolt)]; r != nil {
			out.add(ResultRef{Job: j.ID, Step: s.Planned.ID, Item: BoltItem(bolt)}, r)
		}
	}
	return out
}

func (d *decision) rework(c BeginRework) (Entry, error) {
	j, s, err := d.b.jobAndStep(c.Job, c.Step)
	if err != nil {
		return Entry{}, err
	}
	if err := needs("reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	from := c.From
	if from == "" {
		from = c.Step
	}
	first, last := j.index(from), j.index(s.Planned.ID)
	if first < 0 || first > last {
		return Entry{}, &FieldError{Path: "from", Rule: "unknown-step",
			Text: fmt.Sprintf("rework goes back to step %q or an earlier one, not to %q", c.Step, from)}
	}
	w := d.reworkVoids(j, first, last)
	return entry(c.Job, ReworkBegun{Step: c.Step, From: from, Reason: c.Reason,
		Voids: w.now, StillVoid: w.before}), nil
}
