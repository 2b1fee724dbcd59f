package card

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// A job is the sheet of one procedure.
type job struct {
	Number   int
	Title    string
	Minutes  string
	After    string
	Steps    int
	Critical bool
	// Procedure is where it can be looked up, Edition and Revision which one it
	// is, Origin the layer of the catalogue that it is from.
	Procedure, Revision, Origin string
	Edition                     int
	Stops, Notes                []string
	Cautions                    []string
	StepCautions                []stepNote
	Fit                         []fit
	Joints                      []joint
	Waits                       []wait
	Holds                       []hold
	Skipped                     []string
}

// A stepNote is a sentence about one step.
type stepNote struct {
	Step int
	Text string
}

// A fit is the outcome of a fit rule.
type fit struct {
	Rule, Verdict, Found, Limit, Margin, Instrument string
	// Good says that it simply fits.
	Good bool
}

// A wait is a clock that runs after a step.
type wait struct {
	Step              int
	Title, Least, For string
	Longer            []string
	Why               string
	// Earliest is when it is over if all goes by the plan of the day.
	Earliest string
}

// A hold is a place for somebody else's signature.
type hold struct {
	Job     int
	Step    int
	Title   string
	Foreman bool
	LooksAt string
}

func newJob(w *procedure.Whole, at int) job {
	p := w.Jobs[at].Plan
	j := job{
		Number: at + 1, Title: p.Title, Minutes: durationText(time.Duration(p.Minutes) * time.Minute), Steps: len(p.Steps),
		After: after(w, w.Jobs[at].After), Critical: p.Risk == procedure.SafetyCritical, Procedure: p.Procedure,
		Revision: short(p.Revision), Edition: p.Edition, Origin: p.Origin, Cautions: p.Cautions,
	}
	for _, f := range p.Findings {
		switch {
		case f.Blocks && !slices.Contains(j.Stops, f.Text):
			j.Stops = append(j.Stops, f.Text)
		case !f.Blocks && !slices.Contains(j.Notes, f.Text):
			j.Notes = append(j.Notes, f.Text)
		}
	}
	for _, f := range p.Fit {
		j.Fit = append(j.Fit, newFit(f))
	}
	for _, s := range p.Skipped {
		j.Skipped = append(j.Skipped, s.Title+": "+sentence(s.Reason))
	}
	for i := range p.Steps {
		j.addStep(w, p, i)
	}
	return j
}

// after says which jobs come first, by number. Those that come before one of
// them anyway are not said again.
func after(w *procedure.Whole, ids []string) string {
	var implied, numbers []string
	for _, id := range ids {
		if j, ok := w.Job(id); ok {
			implied = append(implied, j.After...)
		}
	}
	for i, j := range w.Jobs {
		if id := j.Plan.Procedure; slices.Contains(ids, id) && !slices.Contains(implied, id) {
			numbers = append(numbers, strconv.Itoa(i+1))
		}
	}
	return list(numbers)
}

func newFit(f procedure.PlannedFit) fit {
	name := plain(f.Rule)
	if f.Check != "" {
		name += ", " + plain(f.Check)
	}
	verdict := plain(f.Verdict)
	if len(f.Needs) > 0 {
		verdict += " " + list(f.Needs)
	}
	return fit{Rule: name, Verdict: verdict, Found: f.Measured, Limit: f.Limit, Margin: f.Margin,
		Instrument: f.Instrument, Good: f.Verdict == "fits"}
}

func (j *job) addStep(w *procedure.Whole, p *procedure.Plan, at int) {
	s := &p.Steps[at]
	for _, c := range s.Cautions {
		j.StepCautions = append(j.StepCautions, stepNote{at + 1, c})
	}
	if s.Torque != nil || s.Thread != "" || s.ThreadPrep != nil || s.FacePrep != nil {
		j.Joints = append(j.Joints, newJoint(at+1, s, p.Blocked()))
	}
	if s.Hold != nil {
		j.Holds = append(j.Holds, hold{Job: j.Number, Step: at + 1, Title: lowerFirst(s.Title),
			Foreman: s.Hold.By == procedure.ForemanSigns, LooksAt: s.Hold.LooksAt})
	}
	for _, wt := range s.Waits {
		if applies(s, wt) {
			j.Waits = append(j.Waits, newWait(w, p, at, wt))
		}
	}
}

// applies reports whether a wait holds for the planned prep.
func applies(s *procedure.PlannedStep, w procedure.Wait) bool {
	return len(w.With) == 0 || s.ThreadPrep != nil && slices.Contains(w.With, s.ThreadPrep.Use)
}

func newWait(w *procedure.Whole, p *procedure.Plan, at int, wt procedure.Wait) wait {
	out := wait{Step: at + 1, Title: p.Steps[at].Title, Least: durationText(time.Duration(wt.For)), Why: wt.Why,
		For: beforeText(w, p, wt.Before)}
	for _, l := range wt.Longer {
		out.Longer = append(out.Longer, longerText(l))
	}
	if done, ok := doneAt(w, p.Procedure, at+1); ok {
		out.Earliest = clock(w.At, done+wt.For)
	}
	return out
}

// doneAt is the end of the stretch of the day in which a step, from 1, is done.
func doneAt(w *procedure.Whole, id string, step int) (procedure.Duration, bool) {
	for _, s := range w.Day {
		if s.Procedure == id && s.First <= step && step <= s.Last {
			return s.Start + s.For, true
		}
	}
	return 0, false
}

// beforeText says what has to wait.
func beforeText(w *procedure.Whole, p *procedure.Plan, before string) string {
	switch before {
	case procedure.BeforeFinishing:
		return "the job is finished"
	case procedure.BeforeReleasing:
		return "the bike leaves"
	}
	for i := range w.Jobs {
		if text := stepIn(w.Jobs[i].Plan, i+1, p, before); text != "" {
			return text
		}
	}
	return plain(before)
}

// stepIn names the step of a plan that waits, or is empty.
func stepIn(in *procedure.Plan, number int, p *procedure.Plan, before string) string {
	for i := range in.Steps {
		switch before {
		case in.Steps[i].ID:
			if in == p {
				return fmt.Sprintf("step %d, %s", i+1, lowerFirst(in.Steps[i].Title))
			}
		case in.Procedure + "/" + in.Steps[i].ID:
			return fmt.Sprintf("step %d of job %d, %s", i+1, number, lowerFirst(in.Steps[i].Title))
		}
	}
	return ""
}
