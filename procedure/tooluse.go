package procedure

import (
	"errors"
	"time"

	"github.com/tightwright/tightwright/torque/wrench"
)

// Rules by which a tool cannot vouch for a reading. They stand in entries and
// findings and never change their meaning.
const (
	RuleToolUnknown     = "tool-unknown"
	RuleToolUncalibrate = wrench.RuleNotCalibrated
	RuleToolOverdue     = wrench.RuleOverdue
	RuleToolQuarantined = "tool-quarantined"
	RuleToolAway        = "tool-not-on-site"
	RuleToolRange       = wrench.RuleOutOfRange
	RuleToolHand        = wrench.RuleDirection
	RuleToolOffScale    = wrench.RuleOffScale
	RuleToolTooCoarse   = wrench.RuleTooCoarse
	RuleToolOff         = wrench.RuleOutOfTolerance
)

// isToolRule reports whether a rule is about the tool and nothing else.
func isToolRule(rule string) bool {
	switch rule {
	case RuleToolUnknown, RuleToolUncalibrate, RuleToolOverdue, RuleToolQuarantined,
		RuleToolAway, RuleToolRange, RuleToolHand, RuleToolOff:
		return true
	}
	return false
}

// A ToolFault says why a tool cannot vouch for a torque at a time.
type ToolFault struct {
	Rule string `json:"rule"`
	Text string `json:"text"`
}

// absences lists why the tool was not to be had at all then.
func (t *Tool) absences(at time.Time) []ToolFault {
	var faults []ToolFault
	if t.quarantinedAt(at) {
		faults = append(faults, ToolFault{Rule: RuleToolQuarantined, Text: t.ID + " is set aside: take another tool"})
	}
	if t.awayAt(at) {
		faults = append(faults, ToolFault{Rule: RuleToolAway, Text: t.ID + " was not on site: check which tool it was"})
	}
	return faults
}

// asToolError finds the refusal of package wrench in an error.
func asToolError(err error) (*wrench.ToolError, bool) { return errors.AsType[*wrench.ToolError](err) }
