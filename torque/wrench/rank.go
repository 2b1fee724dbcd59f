package wrench

import (
	"cmp"
	"math"
	"slices"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// A Task is a torque to be reached: where, in which direction, and when.
type Task struct {
	// Window and Aim are at the fastener; see [Wrench.Choose].
	Window torque.Window
	Aim    torque.Torque
	// Hand is the direction in which the thread tightens.
	Hand joint.Hand
	// At is when; a calibration counts from its time on until it is due.
	At time.Time
	// Allow says whether the tool's deviation comes off the window.
	Allow Allowance
}

// Ranked is one tool of a rack for a task: its setting, or why not.
type Ranked struct {
	// Tool is the name of Wrench.
	Tool   string  `json:"tool"`
	Wrench *Wrench `json:"-"`
	Able   bool    `json:"able"`
	// Choice is the setting of a tool that is able, Reasons why one is not.
	Choice  Choice       `json:"choice,omitzero"`
	Reasons []*ToolError `json:"reasons,omitempty"`
	// Graduation is the step between marks, 0 for a fixed tool. Share is the
	// setting as a part of the tool's maximum. Margin is what is left to the
	// nearer limit when the tool is as far off as it may be.
	Graduation torque.Torque `json:"graduation"`
	Share      float64       `json:"share"`
	Margin     torque.Torque `json:"margin"`
}

// middleShare is the middle of the range of use, and the middle point of the
// three at which ISO 6789:2003 6.5 has a tool measured.
const middleShare = 0.6

// Rank asks every tool of a rack and puts the able ones first: the finer
// graduation before the coarser, a fixed tool, which cannot be set wrong,
// before all; of equals the one used nearer to the middle of its range; of
// equals again the one with more left to the limits; else as on the rack. The
// order is common practice, no source. Tools that are not able follow in the
// order of the rack. A nil tool is left out.
func Rank(rack []*Wrench, task Task) []Ranked {
	ranked := make([]Ranked, 0, len(rack))
	rest := make([]Ranked, 0, len(rack))
	for _, w := range rack {
		if w == nil {
			continue
		}
		if r := w.rank(task); r.Able {
			ranked = append(ranked, r)
		} else {
			rest = append(rest, r)
		}
	}
	slices.SortStableFunc(ranked, compareAble)
	return append(ranked, rest...)
}

func compareAble(a, b Ranked) int {
	return cmp.Or(
		cmp.Compare(a.Graduation, b.Graduation),
		cmp.Compare(math.Abs(a.Share-middleShare), math.Abs(b.Share-middleShare)),
		cmp.Compare(b.Margin, a.Margin),
	)
}

func (w *Wrench) rank(task Task) Ranked {
	r := Ranked{Tool: w.id, Wrench: w, Reasons: w.Faults(0, task.Hand, task.At)}
	choice, reason, err := w.choose(task.Window, task.Aim, task.Allow)
	switch {
	case err != nil:
		r.Reasons = append(r.Reasons, &ToolError{Rule: RuleNoLimit, Tool: w.id})
	case reason != nil:
		r.Reasons = append(r.Reasons, reason)
	}
	if r.Able = len(r.Reasons) == 0; !r.Able {
		return r // a setting beside a tool that is not able would be used
	}
	r.Choice = choice
	if w.kind != Fixed {
		r.Graduation = w.grid.torqueOf(w.grid.step)
	}
	r.Share = float64(choice.Setting) / float64(w.grid.highest)
	high, _ := task.Window.Max()
	r.Margin = high - choice.Most
	if low, ok := task.Window.Min(); ok {
		r.Margin = min(r.Margin, choice.Least-low)
	}
	return r
}

// Faults lists why the tool cannot vouch for a reading in the direction of a
// thread at a time, nothing where it can. A reading of zero or less leaves the
// range of use out; it is a torque of the tool itself, without an adapter.
func (w *Wrench) Faults(reading torque.Torque, hand joint.Hand, at time.Time) []*ToolError {
	var faults []*ToolError
	c, in := &w.calibration, w.direction(hand)
	switch {
	case c.at.IsZero() || at.Before(c.at):
		faults = append(faults, &ToolError{Rule: RuleNotCalibrated, Tool: w.id})
	case !at.Before(c.due):
		faults = append(faults, &ToolError{Rule: RuleOverdue, Tool: w.id, Due: c.due})
	}
	switch {
	case c.at.IsZero(): // said before
	case !in.calibrated:
		faults = append(faults, &ToolError{Rule: RuleDirection, Tool: w.id, Hand: hand})
	case in.known && in.found.size() > w.deviation.size():
		faults = append(faults, &ToolError{Rule: RuleOutOfTolerance, Tool: w.id, Hand: hand, Deviation: w.deviation, Found: in.found})
	}
	if reading > 0 && (reading < w.grid.lowest || reading > w.grid.highest) {
		faults = append(faults, &ToolError{Rule: RuleOutOfRange, Tool: w.id, Delivered: reading,
			lowest: w.grid.lowest, highest: w.grid.highest})
	}
	return faults
}
