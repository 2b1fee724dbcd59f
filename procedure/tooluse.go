package procedure

import (
	"fmt"
	"math/big"
	"slices"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// Rules by which a tool cannot vouch for a reading. They stand in entries and
// findings and never change their meaning.
const (
	RuleToolUnknown     = "tool-unknown"
	RuleToolUncalibrate = "tool-never-calibrated"
	RuleToolOverdue     = "tool-overdue"
	RuleToolQuarantined = "tool-quarantined"
	RuleToolAway        = "tool-not-on-site"
	RuleToolRange       = "tool-out-of-range"
	RuleToolHand        = "tool-not-calibrated-in-this-direction"
	RuleToolOffScale    = "setting-not-on-the-scale"
)

// isToolRule reports whether a rule is about the tool and nothing else.
func isToolRule(rule string) bool {
	switch rule {
	case RuleToolUnknown, RuleToolUncalibrate, RuleToolOverdue, RuleToolQuarantined,
		RuleToolAway, RuleToolRange, RuleToolHand:
		return true
	}
	return false
}

// A ToolFault says why a tool cannot vouch for a torque at a time.
type ToolFault struct {
	Rule string `json:"rule"`
	Text string `json:"text"`
}

// Faults lists why the tool cannot vouch for tightening to t by a thread of
// this hand at that time; none means that it can.
func (t *Tool) Faults(value torque.Torque, hand joint.Hand, at time.Time) []ToolFault {
	var faults []ToolFault
	add := func(rule, format string, args ...any) {
		faults = append(faults, ToolFault{Rule: rule, Text: fmt.Sprintf(format, args...)})
	}
	if t.quarantinedAt(at) {
		add(RuleToolQuarantined, "%s is set aside: take another tool", t.ID)
	}
	if t.awayAt(at) {
		add(RuleToolAway, "%s was not on site: check which tool it was", t.ID)
	}
	cal, ok := t.calibrationAt(at)
	switch {
	case !ok:
		add(RuleToolUncalibrate, "%s has no calibration on record: take another tool", t.ID)
	case !at.Before(cal.Due):
		add(RuleToolOverdue, "%s was due for calibration on %s: take another tool", t.ID, cal.Due.Format(time.DateOnly))
	}
	if ok && !slices.Contains(cal.Hands, hand) {
		add(RuleToolHand, "%s was not calibrated in the %s direction: take one that was", t.ID, hand)
	}
	low, high, err := t.useRange()
	if err != nil || value < low || value > high {
		add(RuleToolRange, "%s is used from %v to %v: %v is outside", t.ID, low, high, value)
	}
	return faults
}

// PermittedDeviation returns the deviation the tool is held to, as a fraction
// of the reference value: what its calibration says, else 6 % for a tool
// whose maximum is 10 N·m or less and 4 % above (ISO 6789:2003, setting tool
// with graduated scale, as reviewed in a torque tool user manual; the
// boundary belongs to the tool, not to the reading).
func (t *Tool) PermittedDeviation(at time.Time) *big.Rat {
	if cal, ok := t.calibrationAt(at); ok && cal.DeviationPercent != "" {
		if r, err := parseDecimal(cal.DeviationPercent); err == nil {
			return r.Quo(r, big.NewRat(100, 1))
		}
	}
	if _, high, err := t.scale(); err == nil && high <= 10*torque.NewtonMeter {
		return big.NewRat(6, 100)
	}
	return big.NewRat(4, 100)
}
