package fit

import (
	"fmt"
	"strconv"
	"strings"
)

// A Confidence says how far the limits behind a Result can be trusted.
type Confidence string

const (
	// Published: the limit was read in, or quoted from, a published document.
	Published Confidence = "published"
	// CommonPractice: workshops work by it; no source can be named.
	CommonPractice Confidence = "common practice, no source"
	// FromMemory: a dimension or limit recalled and not looked up.
	FromMemory Confidence = "from memory"
	// Computed: exact arithmetic on the figures given.
	Computed Confidence = "computed"
)

// A Result is what one rule found. The zero Result is "not checked".
type Result struct {
	Rule       string     // plain id of the rule: "spline-pattern"
	Check      string     // which point of the rule, where it has several: "width"
	Verdict    Verdict    //
	Measured   string     // what was measured or read, with units
	Instrument Instrument // what it was taken with
	Limit      string     // what it was held against, with units
	Margin     Margin     // what is left, negative when short
	// Uncertainty is how far a margin of length may be off, from the error of the
	// instrument. A plain fit always has at least this much margin.
	Uncertainty Length
	Needs       []string // what it fits with: "1.85 mm spacer inboard"
	// Numbers are figures the rule worked out, by name, as plain decimals in
	// millimeters ("spacers_mm": "7.5") or counts ("spacer_count": "3"). Nil if
	// there are none.
	Numbers    map[string]string
	Why        string     // the reason, in a mechanic's words
	Source     string     // where the limit comes from
	Confidence Confidence // how far to trust that source
}

// String is one line for a list: the rule, the verdict, what it needs, why.
func (r Result) String() string {
	text := r.Rule + ": " + r.Verdict.String()
	if r.Check != "" {
		text = r.Rule + " (" + r.Check + "): " + r.Verdict.String()
	}
	if r.Verdict == FitsWith {
		text += " " + strings.Join(r.Needs, " and ")
	}
	if r.Why != "" {
		text += ". " + r.Why
	}
	return text
}

// Worst returns the worst verdict among the results, [NotChecked] if there are
// none.
func Worst(results ...Result) Verdict {
	worst := NotChecked
	for _, r := range results {
		worst = max(worst, r.Verdict)
	}
	return worst
}

// A MarginKind says in what a [Margin] is counted.
type MarginKind uint8

const (
	// NoMargin is the zero value: the rule compares names, nothing is left over.
	NoMargin MarginKind = iota
	// LengthMargin is counted in Length.
	LengthMargin
	// CountMargin is counted in whole things: teeth, turns, pitches.
	CountMargin
)

// A Margin is the distance from the nearest limit, negative beyond it. The zero
// Margin means that there is none to state: the rule compares names, or the
// parts fit with something that takes up the whole difference.
type Margin struct {
	Kind   MarginKind
	Length Length // for LengthMargin
	Count  int    // for CountMargin
	Of     string // what is counted, in the plural: "teeth"
}

// String returns "1.85 mm", "2 teeth" or "".
func (m Margin) String() string {
	switch m.Kind {
	case NoMargin:
		return ""
	case LengthMargin:
		return m.Length.String()
	case CountMargin:
		return strings.TrimRight(strconv.Itoa(m.Count)+" "+m.Of, " ")
	}
	return fmt.Sprintf("margin of kind %d", uint8(m.Kind))
}

func lengthMargin(l Length) Margin { return Margin{Kind: LengthMargin, Length: l} }

func countMargin(n int, of string) Margin { return Margin{Kind: CountMargin, Count: n, Of: of} }
