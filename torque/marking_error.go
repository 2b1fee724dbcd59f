package torque

import "fmt"

// Reasons why a marking is refused. They are codes for programs; the words for
// people are in [MarkingError.Error]. A marking that could be refused for more
// than one reason carries the first that is met from left to right, characters
// before words and words before figures.
const (
	ReasonEmpty                = "empty"
	ReasonMissingUnit          = "missing_unit"
	ReasonMissingValue         = "missing_value"
	ReasonReversedRange        = "reversed_range"
	ReasonAmbiguousUnit        = "ambiguous_unit"
	ReasonAmbiguousNumber      = "ambiguous_number"
	ReasonNotTorque            = "not_torque"
	ReasonTorquePlusAngle      = "torque_plus_angle"
	ReasonNegative             = "negative"
	ReasonNotPositive          = "not_positive"
	ReasonMalformed            = "malformed"
	ReasonExponentNotAllowed   = "exponent_not_allowed"
	ReasonOutOfRange           = "out_of_range"
	ReasonNotANumber           = "not_a_number"
	ReasonMultipleValues       = "multiple_values"
	ReasonVulgarFraction       = "vulgar_fraction"
	ReasonSuperscript          = "superscript"
	ReasonInvisibleCharacter   = "invisible_character"
	ReasonControlCharacter     = "control_character"
	ReasonMixedScript          = "mixed_script"
	ReasonUnknownUnit          = "unknown_unit"
	ReasonMixedUnits           = "mixed_units"
	ReasonAlternateDisagrees   = "alternate_disagrees"
	ReasonConflictingQualifier = "conflicting_qualifier"
	ReasonApproximate          = "approximate"
	ReasonExtraText            = "extra_text"
	ReasonNoTorque             = "no_torque"
)

// MarkingError says why a marking was refused and what to write instead.
type MarkingError struct {
	Reason   string // one of the Reason constants
	Text     string // the marking as given
	Accepted string // what would be accepted instead, for a person
}

// Error returns one line with the marking quoted, the reason in words and what
// would be accepted.
func (e *MarkingError) Error() string {
	return fmt.Sprintf("marking %s: %s; %s", quoteShort(e.Text), reasonText(e.Reason), e.Accepted)
}

// quoteShort quotes a text so that nothing in it stays invisible.
func quoteShort(text string) string {
	const longest = 60
	if runes := []rune(text); len(runes) > longest {
		return fmt.Sprintf("%+q…", string(runes[:longest]))
	}
	return fmt.Sprintf("%q", text)
}

type reasonWords struct{ meaning, accepted string }

// reasons has what each reason means and what to do about it, both as half
// sentences that fit after the marking in an error of one line. It is only read.
var reasons = map[string]reasonWords{
	ReasonEmpty:                {"nothing is written", "write a figure with its unit, as in 5 N·m"},
	ReasonMissingUnit:          {"a number has no unit", "write the unit after the numbers, as in 5 N·m to 7 N·m or 5-7 N·m"},
	ReasonMissingValue:         {"there is no number", "write a number with the unit, as in 5 N·m"},
	ReasonReversedRange:        {"the first limit is above the second", "write the smaller number first, as in 5-7 N·m"},
	ReasonAmbiguousUnit:        {"the capitals of the unit leave more than one reading", "write N·m if newton meter is meant (nm is a nanometer, n.m. a nautical mile)"},
	ReasonAmbiguousNumber:      {"the number can be read in more than one way", "write it without grouping and with a decimal point between digits, as in 1234 or 1.234"},
	ReasonNotTorque:            {"the unit is not one of torque", "write a torque such as 5 N·m, 44 lbf·in or 50 kgf·cm"},
	ReasonTorquePlusAngle:      {"a turning angle is added to the torque", "enter torque and angle as two separate steps"},
	ReasonNegative:             {"a number is negative", "write positive numbers; for a range the smaller first, as in 5-7 N·m"},
	ReasonNotPositive:          {"a limit is zero or less", "write torques above zero"},
	ReasonMalformed:            {"the signs do not form a torque", "write one of 5 N·m, 5-7 N·m, max 5 N·m, min 5 N·m or 8 ± 1 N·m"},
	ReasonExponentNotAllowed:   {"a power of ten is written", "write the number out, as in 500 N·mm"},
	ReasonOutOfRange:           {"no part has such a torque", "write a torque between 0.00001 N·m and 20000 N·m, in at most 15 digits"},
	ReasonNotANumber:           {"this is not a number", "write the digits 0 to 9"},
	ReasonMultipleValues:       {"there is more than one value", "write one torque; a range as 5-7 N·m"},
	ReasonVulgarFraction:       {"a fraction is written", "write a decimal, as in 0.5 N·m"},
	ReasonSuperscript:          {"a raised or lowered character is written", "leave out footnote marks and write plain digits"},
	ReasonInvisibleCharacter:   {"there is a character that cannot be seen", "type the marking again"},
	ReasonControlCharacter:     {"there is a control character", "type the marking again on one line"},
	ReasonMixedScript:          {"a letter only looks like the right one", "type the unit again in one alphabet (in-lb has a small L)"},
	ReasonUnknownUnit:          {"the unit is not known", "write one of N·m, mN·m, N·mm, N·cm, cN·m, daN·m, kN·m, lbf·in, lbf·ft, ozf·in, gf·cm, kgf·cm, kgf·m"},
	ReasonMixedUnits:           {"the two ends have different units", "write both numbers in one unit, the other unit in brackets"},
	ReasonAlternateDisagrees:   {"the second value is not the same torque as the first", "look at the part again and enter the value that its maker confirms"},
	ReasonConflictingQualifier: {"the words for a limit contradict the rest", "write one of max 5 N·m, min 5 N·m or 5-7 N·m"},
	ReasonApproximate:          {"the value is only approximate", "find the exact figure; write limits as 5-7 N·m"},
	ReasonExtraText:            {"there is more than a torque", "write the torque alone and enter conditions, threads and tools in their own fields"},
	ReasonNoTorque:             {"no torque is written", "write a figure with its unit, as in 5 N·m, or leave the torque unknown"},
}

// reasonText returns the meaning of a reason in words.
func reasonText(reason string) string {
	if words, known := reasons[reason]; known {
		return words.meaning
	}
	return reason
}

// refuse returns the error for a marking with the standard mend.
func refuse(reason, text string) *MarkingError {
	return &MarkingError{Reason: reason, Text: text, Accepted: reasons[reason].accepted}
}
