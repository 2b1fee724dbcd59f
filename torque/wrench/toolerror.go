package wrench

import (
	"encoding/json"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// Rules of a [ToolError]. They are codes for machines and never change their
// meaning.
const (
	// RuleNotCalibrated: no calibration was made by then.
	RuleNotCalibrated = "tool-never-calibrated"
	// RuleOverdue: the next calibration was due by then.
	RuleOverdue = "tool-overdue"
	// RuleDirection: not calibrated in the direction of the thread.
	RuleDirection = "tool-not-calibrated-in-this-direction"
	// RuleOutOfTolerance: found further off than permitted at calibration.
	RuleOutOfTolerance = "tool-out-of-tolerance"
	// RuleOutOfRange: the window lies below or above the range of use.
	RuleOutOfRange = "tool-out-of-range"
	// RuleOffScale: no mark lies where the torque stays inside the window.
	RuleOffScale = "setting-not-on-the-scale"
	// RuleTooCoarse: the permitted deviation is wider than the window.
	RuleTooCoarse = "deviation-wider-than-window"
	// RuleNoLimit: the window has no maximum.
	RuleNoLimit = "no-limit-known"
)

// A ToolError says why a tool cannot do a step. Fields that do not belong to the
// rule are zero.
type ToolError struct {
	Rule string
	Tool string
	// Nearest is the mark that comes nearest to the window. There the torque at
	// the fastener may become Delivered, which misses Limit on that Side by By,
	// rounded up to a whole nanonewton meter. A reading out of range has no
	// nearest mark and stands in Delivered.
	Nearest   torque.Figure
	Side      Side
	Delivered torque.Torque
	Limit     torque.Torque
	By        torque.Torque
	// Deviation is that of the tool, Needed the largest with which a tool could
	// hold the window.
	Deviation Deviation
	Needed    Deviation
	// Hand, Due and Found tell of the calibration.
	Hand  joint.Hand
	Due   time.Time
	Found Deviation

	window          torque.Window
	lowest, highest torque.Torque
}

// Error says for people what stands in the way and what would help.
func (r *ToolError) Error() string {
	name := r.Tool
	if name == "" {
		name = "the tool"
	}
	switch r.Rule {
	case RuleNotCalibrated:
		return name + " has no calibration on record by then: take another tool"
	case RuleOverdue:
		return name + " was due for calibration on " + r.Due.Format(time.DateOnly) + ": take another tool"
	case RuleDirection:
		return name + " was not calibrated in the " + r.Hand.String() + " direction: take one that was"
	case RuleOutOfTolerance:
		return name + " was found " + r.Found.String() + " off, permitted is " + r.Deviation.String() + ": take another tool"
	case RuleNoLimit:
		return "no maximum is known: read the part or its manual and enter the figure"
	case RuleTooCoarse:
		return name + " may be " + r.Deviation.String() + " off, more than " + r.window.String() + " allows: take a tool within " + r.Needed.String()
	case RuleOutOfRange:
		return name + " is used from " + brief(r.lowest) + " to " + brief(r.highest) + ": " + r.miss()
	}
	return "no mark of " + name + " keeps the torque within " + r.window.String() + ": " + r.miss()
}

// miss tells of the nearest mark, or of the reading.
func (r *ToolError) miss() string {
	switch {
	case r.Nearest.IsZero():
		return brief(r.Delivered) + " is outside"
	case r.Side == TooLow:
		return "at " + r.Nearest.String() + " the joint may get only " + brief(r.Delivered) + ", " + brief(r.By) + " under the minimum"
	}
	return "at " + r.Nearest.String() + " the joint may get " + brief(r.Delivered) + ", " + brief(r.By) + " over the maximum"
}

// brief writes a torque with at most three decimals where that leaves
// something to read, else in full.
func brief(t torque.Torque) string {
	const milli = torque.MillinewtonMeter
	if t < 10*milli {
		return t.String()
	}
	return ((t + milli/2) / milli * milli).String()
}

// Unwrap returns [ErrNoSetting].
func (r *ToolError) Unwrap() error { return ErrNoSetting }

// MarshalJSON writes the rule, the text for people, and the nearest mark where
// there is one.
func (r *ToolError) MarshalJSON() ([]byte, error) {
	out := struct {
		Rule    string         `json:"rule"`
		Text    string         `json:"text"`
		Nearest *torque.Figure `json:"nearest,omitempty"`
		Side    Side           `json:"side,omitzero"`
		By      torque.Torque  `json:"by,omitzero"`
		Needed  Deviation      `json:"needed_percent,omitzero"`
	}{Rule: r.Rule, Text: r.Error(), Side: r.Side, By: r.By, Needed: r.Needed}
	if !r.Nearest.IsZero() {
		out.Nearest = &r.Nearest
	}
	return json.Marshal(out)
}

// refuse says why no mark in use does, top being the last tick that does not
// deliver too much.
func (w *Wrench) refuse(window torque.Window, d Deviation, top uint64) *ToolError {
	if needed := largestDeviation(window); needed < d {
		return &ToolError{Rule: RuleTooCoarse, Tool: w.id, Deviation: d, Needed: needed, window: window}
	}
	return w.offScale(window, d, top)
}

// largestDeviation is (max-min)/(max+min), from min·(1+d) = max·(1-d): a tool
// that may be further off cannot hold the window, whatever its scale.
func largestDeviation(window torque.Window) Deviation {
	low, _ := window.Min()
	high, _ := window.Max()
	return Deviation(product(uint64(high-low), uint64(deviationWhole)).floorOver(uint64(high + low)).clamped())
}

// offScale finds the mark in use that misses the window by least: the last one
// that does not deliver too much, which then may deliver too little, or the one
// above it.
func (w *Wrench) offScale(window torque.Window, d Deviation, top uint64) *ToolError {
	g := &w.grid
	low, hasLow := window.Min()
	high, _ := window.Max()
	r := &ToolError{Rule: RuleOffScale, Tool: w.id, Deviation: d, window: window, lowest: g.lowest, highest: g.highest}
	above := max(g.from(top+1), g.least)
	if hasLow && above > g.least {
		k := min(above-1, g.last)
		least, _ := w.lever.delivered(g.torqueOf(g.tick(k)), d)
		r.Nearest, r.Side, r.Delivered, r.Limit, r.By = g.figure(k), TooLow, least, low, low-least
	}
	if above <= g.last {
		_, most := w.lever.delivered(g.torqueOf(g.tick(above)), d)
		if r.Side == 0 || most-high < r.By {
			r.Nearest, r.Side, r.Delivered, r.Limit, r.By = g.figure(above), TooHigh, most, high, most-high
		}
	}
	if from, to := w.lever.settings(low, high, d); to < g.lowest || from > g.highest {
		r.Rule = RuleOutOfRange
	}
	return r
}
