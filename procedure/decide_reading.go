package procedure

import (
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

func (d *decision) reading(c TakeReading) (Entry, error) {
	j, s, err := d.b.jobAndStep(c.Job, c.Step)
	if err != nil {
		return Entry{}, err
	}
	value, err := d.checkReading(c, s)
	if err != nil {
		return Entry{}, err
	}
	r := ReadingTaken{Step: c.Step, Bolt: c.Bolt, Figure: c.Figure, Value: value, Tool: c.Tool,
		Turned: c.Turned, AngleDeg: c.AngleDeg, From: c.From}
	at := c.when(d.call)
	r.Judgement = d.judgeReading(j, s, r, pulled{at: at, later: c.later(at)})
	r.Judgement.spoil(d.readingVoids(j, s, r))
	e := entry(c.Job, r)
	e.Happened = c.Happened
	return e, nil
}

// when is the moment of the pull. None is later than the command.
func (c TakeReading) when(call Call) Moment {
	if c.Happened == nil || c.Happened.Best().After(call.Moment.Best()) {
		return call.Moment
	}
	return *c.Happened
}

// later tells the entries after a pull that was moved here; nil means none.
func (c TakeReading) later(at Moment) func(Entry) bool {
	if c.Happened == nil {
		return nil
	}
	return func(e Entry) bool { return e.when().Best().After(at.Best()) }
}

// pulled says when a pull was made, and which entries came after it.
type pulled struct {
	at    Moment
	later func(Entry) bool
}

// checkReading refuses what cannot be a reading of this step at all.
func (d *decision) checkReading(c TakeReading, s *StepState) (torque.Torque, error) {
	var p problems
	if s.Planned.Torque == nil {
		p.add("step", "no-torque-here", "step %q tightens nothing", c.Step)
		return 0, p.err()
	}
	if !slices.Contains(s.Planned.Torque.Bolts, c.Bolt) {
		p.add("bolt", "unknown-bolt", "step %q has the bolts %v, not %q", c.Step, s.Planned.Torque.Bolts, c.Bolt)
	}
	if !validID(c.Tool) {
		p.add("tool", "malformed-id", "say which tool was used, by its id on the rack")
	}
	if c.AngleDeg != "" {
		if a, err := parseDecimal(c.AngleDeg); err != nil || a.Sign() < 0 {
			p.add("angle_deg", "malformed-number", "write the angle in degrees as a plain decimal, not %q", c.AngleDeg)
		}
	}
	value, err := c.Figure.Torque()
	if err != nil {
		p.take("figure", err)
	} else if value <= 0 {
		p.add("figure", "not-positive", "a reading is above zero")
	}
	return value, p.err()
}

// judgeReading says whether the reading counts and what it proves.
func (d *decision) judgeReading(j *Job, s *StepState, r ReadingTaken, pull pulled) Judgement {
	t := s.Planned.Torque
	jd := Judgement{Pass: s.Group.Pass, Round: s.Group.Round}
	full := jd.Pass == len(t.Passes)-1
	jd.Verdict, jd.Probability = d.readingVerdict(j, t, r, pull.at, full)
	jd.Retake = jd.Verdict == Nonconforming && t.isShort(r.Value)
	jd.Rule, jd.Text = d.obstacle(j, s, pull.at)
	if jd.Rule == "" {
		jd.Rule, jd.Text = d.readingObstacle(s, r, pull.at, full)
	}
	if jd.Rule == "" && d.overtaken(j, s, pull.later) {
		jd.Rule, jd.Text = RuleOvertaken, "the step has gone on since this pull: take it again"
	}
	jd.Counts = jd.Rule == ""
	return jd
}

// readingVerdict judges a reading of the full value by the window. In an
// earlier pass only the maximum matters.
func (d *decision) readingVerdict(j *Job, t *PlannedTorque, r ReadingTaken, at Moment, full bool) (Verdict, float64) {
	w := t.judgedBy(full)
	var deviation wrench.Deviation
	if tool, ok := d.call.Tools(r.Tool); ok && j.Plan.Allowance == AllowTool {
		deviation = tool.deviationAt(at.Best())
	}
	return judgeTorque(w, r.Value, deviation, j.Plan.Policy.probability())
}

// judgedBy is the window that a reading of the last pass, or of an earlier one,
// is judged by.
func (t *PlannedTorque) judgedBy(full bool) torque.Window {
	if full && !t.ByFeel {
		return t.Window
	}
	return noMinimum(t.Window)
}

// noMinimum returns the window without its lower end.
func noMinimum(w torque.Window) torque.Window {
	if high, ok := w.Max(); ok {
		if open, err := torque.AtMost(high); err == nil {
			return open
		}
	}
	return w
}

// readingObstacle lists what only a reading can run into: the tool, the prep,
// the order and the pass.
func (d *decision) readingObstacle(s *StepState, r ReadingTaken, at Moment, full bool) (rule, text string) {
	if rule, text = d.toolObstacle(s, r, at, full); rule != "" {
		return rule, text
	}
	if (s.Planned.ThreadPrep != nil || s.Planned.FacePrep != nil) && !s.Results[PrepItem].Stands(s.Planned.Risk) {
		return RulePrepMissing, "the prep of this step is not recorded: prepare the joint and record it first"
	}
	if s.Group.Closed {
		if r.Turned && s.Planned.Torque.relaxes() {
			return RuleGroupDisturbed, "this bolt turned after the closing pass: take the whole closing pass again"
		}
		return "", ""
	}
	if next := s.nextBolt(); r.Bolt != next {
		return RuleBoltOrder, fmt.Sprintf("the next bolt is %s: keep to the order of the drawing", next)
	}
	if !full {
		return passObstacle(s.Planned.Torque, s.Group.Pass, r)
	}
	return "", ""
}

// toolObstacle says why the tool cannot vouch for the reading.
func (d *decision) toolObstacle(s *StepState, r ReadingTaken, at Moment, full bool) (rule, text string) {
	tool, ok := d.call.Tools(r.Tool)
	if !ok {
		return RuleToolUnknown, fmt.Sprintf("there is no tool %q on the rack: enrol it or correct the tool", r.Tool)
	}
	check := tool.PassFaults
	if full {
		check = tool.Faults
	}
	if faults := check(r.Value, s.Planned.Hand, at.Best()); len(faults) > 0 {
		return faults[0].Rule, faults[0].Text
	}
	return "", ""
}

// isShort reports whether a value lies below the window.
func (t *PlannedTorque) isShort(value torque.Torque) bool {
	low, _ := t.Window.Min()
	return value < low
}

// relaxes reports whether a bolt that moves disturbs what was found closed.
func (t *PlannedTorque) relaxes() bool { return t.Closing || len(t.Order) > 1 }

// passTolerancePercent is how far from an early pass's setting a reading may
// be and still be that pass (common practice, no source): passes set position,
// they are not evidence.
const passTolerancePercent = 25

func passObstacle(t *PlannedTorque, pass int, r ReadingTaken) (rule, text string) {
	want := t.Aim * torque.Torque(t.Passes[pass]) / 100
	if slack := want * passTolerancePercent / 100; r.Value >= want-slack && r.Value <= want+slack {
		return "", ""
	}
	if mark, ok := t.passMark(r.Tool, pass); ok && r.Value == mark {
		return "", "" // as near as this tool's scale comes from below
	}
	return RulePassSetting, fmt.Sprintf("pass %d is taken at about %v: set the tool and take it again", pass+1, want)
}

// passMark is the mark that the plan gives for a pass of this tool.
func (t *PlannedTorque) passMark(tool string, pass int) (torque.Torque, bool) {
	for _, c := range t.Choices {
		if c.Tool == tool && pass < len(c.Passes) {
			mark, err := c.Passes[pass].Torque()
			return mark, err == nil
		}
	}
	return 0, false
}

// readingVoids lists what a pull spoiled: what leaned on this step, and the
// bolt's own neighbours when it moved in a closed group or out of turn.
func (d *decision) readingVoids(j *Job, s *StepState, r ReadingTaken) spoiled {
	voids := d.voids(j, s)
	if r.Judgement.Counts || !r.Turned || !s.Group.Closed {
		return voids
	}
	return s.bolts(j).and(voids)
}
