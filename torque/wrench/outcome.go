package wrench

// Outcome is what a reading proves about a limit or a window. The zero value
// is no outcome.
type Outcome uint8

const (
	// Conforming is inside, at the required probability.
	Conforming Outcome = iota + 1
	// Undecided is too near to a limit to be told with this uncertainty.
	Undecided
	// Nonconforming is outside, at the required probability.
	Nonconforming
)

var outcomeWords = []string{"", "conforming", "undecided", "nonconforming"}

// String returns "conforming", "undecided", "nonconforming", or nothing.
func (o Outcome) String() string { return word(outcomeWords, o) }

// MarshalText writes what [Outcome.String] returns.
func (o Outcome) MarshalText() ([]byte, error) { return wordText("outcome", outcomeWords, o) }

// UnmarshalText reads what [Outcome.MarshalText] writes.
func (o *Outcome) UnmarshalText(text []byte) (err error) {
	*o, err = parseWord[Outcome]("outcome", outcomeWords, string(text))
	return err
}

// Rule is a way to decide from a reading and its uncertainty. The zero value
// is ByProbability.
type Rule uint8

const (
	// ByProbability decides on the conformance probability p_c itself:
	// conforming where it reaches the level, nonconforming where 1-p_c does,
	// undecided between (JCGM 106:2012 7.3, 7.4). It alone stays right where
	// the uncertainty is not small against the tolerance, because it counts the
	// tails at both limits.
	ByProbability Rule = iota
	// Simple compares the reading with the limits and leaves the uncertainty
	// out (JCGM 106:2012 8.2; ILAC-G8:09/2019 4.2.1, binary statement for
	// simple acceptance).
	Simple
	// Guarded accepts what lies inside the limits by a guard band w and rejects
	// the rest (JCGM 106:2012 8.3.2; ILAC-G8:09/2019 4.2.2, binary statement
	// with guard band).
	Guarded
	// GuardedBothWays accepts by w inside the limits and rejects by more than w
	// outside; what lies between is undecided (ILAC-G8:09/2019 4.2.3,
	// non-binary statement with guard band: its conditional pass is undecided
	// and within, its conditional fail undecided and not within).
	GuardedBothWays
)

var ruleWords = []string{"by-probability", "simple", "guarded", "guarded-both-ways"}

// String returns "by-probability", "simple", "guarded" or "guarded-both-ways".
func (r Rule) String() string { return word(ruleWords, r) }

// MarshalText writes what [Rule.String] returns.
func (r Rule) MarshalText() ([]byte, error) { return wordText("decision rule", ruleWords, r) }

// UnmarshalText reads what [Rule.MarshalText] writes.
func (r *Rule) UnmarshalText(text []byte) (err error) {
	*r, err = parseWord[Rule]("decision rule", ruleWords, string(text))
	return err
}
