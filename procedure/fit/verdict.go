package fit

import (
	"errors"
	"fmt"
)

// A Verdict is the outcome of a rule. The values are ordered: a larger one is
// worse news, and the worst of several rules governs.
type Verdict uint8

const (
	// NotChecked is the zero value: no rule has spoken.
	NotChecked Verdict = iota
	// Fits: the parts go together as they are.
	Fits
	// FitsWith: they go together with what Result.Needs names.
	FitsWith
	// TryAndMeasure: the rule can't decide. Assemble dry, measure, then decide.
	TryAndMeasure
	// DoesNotFit: the parts do not belong together.
	DoesNotFit
)

// ErrVerdict says that a text names no verdict.
var ErrVerdict = errors.New("no such verdict")

var verdictNames = [...]string{
	NotChecked:    "not checked",
	Fits:          "fits",
	FitsWith:      "fits with",
	TryAndMeasure: "try and measure",
	DoesNotFit:    "does not fit",
}

// String returns the verdict in words: "fits", "fits with", "try and measure",
// "does not fit", or "not checked".
func (v Verdict) String() string {
	if int(v) < len(verdictNames) {
		return verdictNames[v]
	}
	return fmt.Sprintf("verdict %d", uint8(v))
}

// MarshalText writes v as [Verdict.String] does.
func (v Verdict) MarshalText() ([]byte, error) {
	if int(v) >= len(verdictNames) {
		return nil, fmt.Errorf("%w: %d", ErrVerdict, uint8(v))
	}
	return []byte(v.String()), nil
}

// UnmarshalText reads what [Verdict.MarshalText] wrote.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, name := range verdictNames {
		if name == string(text) {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("%w: %q", ErrVerdict, clip(string(text)))
}
