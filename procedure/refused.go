package procedure

import (
	"errors"
	"fmt"
)

// ErrNotFound says that the thing a command names is not in the record.
var ErrNotFound = errors.New("not in the record")

// A RefusedError says why an intention was refused. Nothing was recorded.
type RefusedError struct {
	// Rule is the rule that refused it, Subject what it is about.
	Rule, Subject string
	// Text says why and what to do instead.
	Text string
}

// Error says why and what to do instead.
func (e *RefusedError) Error() string { return e.Text }

func refuse(rule, subject, format string, args ...any) error {
	return &RefusedError{Rule: rule, Subject: subject, Text: fmt.Sprintf(format, args...)}
}

// A ConflictError says that what an intention rested on has changed since the
// sequence its author had seen. Look at the entries after Since, then decide
// again.
type ConflictError struct {
	// Since is the last sequence the author had seen, Changed the later
	// entry that touched what the command rests on.
	Since, Changed int64
}

// Error says what happened and what to do.
func (e *ConflictError) Error() string {
	return fmt.Sprintf("entry %d changed what this rests on after entry %d: look at what was recorded meanwhile and decide again", e.Changed, e.Since)
}

// Rules by which facts do not count and intentions are refused.
const (
	RuleJobClosed      = "job-closed"
	RuleJobOpen        = "job-open"
	RuleEarlierStep    = "earlier-step-open"
	RuleHoldUnsigned   = "hold-unsigned"
	RuleWait           = "wait-not-over"
	RuleReworkFirst    = "rework-first"
	RuleBoltOrder      = "bolt-out-of-order"
	RulePassSetting    = "not-the-pass-setting"
	RuleGroupDisturbed = "group-disturbed"
	RuleClosingLimit   = "closing-limit"
	RulePrepMissing    = "prep-missing"
	RuleOvertaken      = "step-went-on"
	RuleBlocked        = "plan-blocked"
	RuleTaken          = "job-id-taken"
	RuleUnfinished     = "step-incomplete"
	RuleNoHold         = "no-hold-here"
	RuleSigned         = "already-signed"
	RuleOwnWork        = "own-work"
	RuleRank           = "rank-too-low"
	RuleSkillMissing   = "skill-missing"
	RuleSkillLapsed    = "skill-lapsed"
	RuleNotUndecided   = "not-undecided"
	RuleNotAFact       = "not-a-fact"
	RuleWithdrawn      = "already-withdrawn"
	RuleNotYours       = "not-your-entry"
	RuleReleased       = "already-released"
	RuleNothingBuilt   = "no-job"
	RuleOtherProcedure = "other-procedure"
	RuleOutdated       = "plan-outdated"
	RuleConflict       = "changed-meanwhile"
)
