package audit

import "github.com/tightwright/tightwright/procedure"

// The rules. Rules about tools and skills that the bench knows too keep its
// codes.
const (
	RuleStepMissing       = "step-missing"
	RulePassesIncomplete  = "passes-incomplete"
	RuleOutOfOrder        = "out-of-order"
	RuleVoid              = "void-not-retaken"
	RuleVoidSinceFinished = "void-since-finished"
	RuleNonconforming     = "nonconforming"
	RuleOverWithdrawn     = "over-the-maximum-withdrawn"
	RuleUndecided         = "undecided-not-accepted"
	RulePrep              = "prep-not-as-planned"
	RuleHoldUnsigned      = "hold-unsigned"
	RuleOwnWork           = "signed-own-work"
	RuleRank              = "signed-without-rank"
	RuleSignedLate        = "signed-late"
	RuleSignedInSeconds   = "signed-in-seconds"
	RuleSkillMissing      = procedure.RuleSkillMissing
	RuleSkillLapsed       = procedure.RuleSkillLapsed
	RuleSignedUnskilled   = "signed-without-skill"
	RuleWait              = "wait-not-honored"
	RuleToolUnknown       = procedure.RuleToolUnknown
	RuleToolUncalibrated  = procedure.RuleToolUncalibrate
	RuleToolOverdue       = procedure.RuleToolOverdue
	RuleToolQuarantined   = procedure.RuleToolQuarantined
	RuleToolAway          = procedure.RuleToolAway
	RuleToolRange         = procedure.RuleToolRange
	RuleToolHand          = procedure.RuleToolHand
	RuleOutOfTolerance    = "possibly-out-of-tolerance"
	RuleTooFast           = "faster-than-plausible"
	RuleBatch             = "ticked-in-a-batch"
	RuleSameDigits        = "same-digits"
	RuleClockAhead        = "clock-ahead"
	RuleFromMemory        = "window-from-memory"
	RuleAgain             = "pulled-again"
	RuleOlderEdition      = "older-edition"
)

// A Rule says what a code stands for.
type Rule struct {
	Code string `json:"code"`
	// Looks says what the rule looks for.
	Looks string `json:"looks_for"`
}

// Rules lists every rule in the order in which findings of one step stand.
func Rules() []Rule {
	return []Rule{
		{RuleStepMissing, "a step that was passed by, or a finished job, without a result for one of its items"},
		{RulePassesIncomplete, "a bolt group without its last pass or without a closing round in which no bolt turned"},
		{RuleVoidSinceFinished, "a result that was spoiled after the job was finished"},
		{RuleVoid, "a result that a later hand spoiled and nobody took again"},
		{RuleNonconforming, "a value outside its limits, or a no to a question"},
		{RuleOverWithdrawn, "a reading above the maximum that was taken back as a slip"},
		{RuleUndecided, "a safety-critical result too near a limit to tell, without a foreman's word"},
		{RulePrep, "a thread or contact face prepared otherwise than planned"},
		{RuleOutOfOrder, "a fact that does not count, with the reason the bench gave"},
		{RuleHoldUnsigned, "a hold point that was passed without a signature"},
		{RuleOwnWork, "a signature for the signer's own work"},
		{RuleRank, "a signature by somebody who may not sign"},
		{RuleSignedLate, "a signature after the next step had begun"},
		{RuleSignedInSeconds, "a second signature seconds after the builder's last entry, on the same tablet"},
		{RuleSkillMissing, "work by somebody who had not shown a skill that it takes, in a job without a supervisor who had"},
		{RuleSkillLapsed, "work by somebody whose skill had lapsed, in a job without a supervisor who had it"},
		{RuleSignedUnskilled, "a signature by somebody who had not shown a skill that the work takes, or whose skill had lapsed"},
		{RuleWait, "work, finishing or release before a wait was over, worked out again from the clocks"},
		{RuleToolUnknown, "a reading with a tool that is not on the list"},
		{RuleToolUncalibrated, "a reading with a tool that had no calibration yet"},
		{RuleToolOverdue, "a reading with a tool past its due date"},
		{RuleToolQuarantined, "a reading with a tool that was set aside"},
		{RuleToolAway, "a reading with a tool that was not on site"},
		{RuleToolRange, "a reading outside the part of the scale that a tool is used at"},
		{RuleToolHand, "a reading in a direction that the tool was not calibrated in"},
		{RuleOutOfTolerance, "a reading with a tool that a calibration found out of tolerance, at its worst"},
		{RuleTooFast, "a job recorded in less time than it can be done in"},
		{RuleBatch, "several steps recorded by one person within seconds"},
		{RuleSameDigits, "the same digits at every pull on an indicating tool"},
		{RuleClockAhead, "a tablet that claims a time that had not come yet"},
		{RuleAgain, "a bolt that somebody else pulled again after its step was done, with nothing that had undone it"},
		{RuleOlderEdition, "work by an edition of a procedure that another had replaced by then"},
		{RuleFromMemory, "a window from memory that a foreman answered for by name"},
	}
}

// rulePlaces maps each code to its place in Rules.
func rulePlaces() map[string]int {
	places := map[string]int{}
	for i, r := range Rules() {
		places[r.Code] = i
	}
	return places
}
