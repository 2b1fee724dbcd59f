package procedure

import (
	"math/big"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// Verdict is what a reading or a measure proves.
type Verdict uint8

// The verdicts. The zero value is none, for facts that are not judged.
const (
	// Conforming: inside the limits at the pinned probability.
	Conforming Verdict = iota + 1
	// Undecided: too near a limit for this tool or instrument to tell.
	Undecided
	// Nonconforming: outside at the pinned probability.
	Nonconforming
)

var verdictNames = []string{"", "conforming", "undecided", "nonconforming"}

// String returns the verdict in words.
func (v Verdict) String() string { return enumName(verdictNames, v) }

// MarshalText writes the verdict in words; the zero value is empty.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (v *Verdict) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*v = 0
		return nil
	}
	*v, err = enumParse[Verdict]("verdict", verdictNames, string(b))
	return err
}

// judgeTorque decides on a value inside the closed window w at probability p.
// The value carries the uncertainty of a tool within ±d (see package wrench);
// without one the value itself is compared.
func judgeTorque(w torque.Window, value torque.Torque, d wrench.Deviation, p float64) (Verdict, float64) {
	level, err := wrench.NewLevel(p)
	if err != nil {
		return Undecided, 0
	}
	j, err := level.Judge(w, value, d.Uncertainty())
	if err != nil {
		return Undecided, 0
	}
	return verdictOf(j.Outcome), j.Probability
}

func verdictOf(o wrench.Outcome) Verdict {
	switch o {
	case wrench.Conforming:
		return Conforming
	case wrench.Nonconforming:
		return Nonconforming
	case wrench.Undecided:
	}
	return Undecided
}

// judgeMeasure decides on a measured value with the instrument's error: well
// inside conforms, within the error of a limit is undecided, beyond it does
// not conform. Limits and error are exact decimals; nil means no limit. A
// value exactly on a limit with an exact instrument is inside. A lower limit
// of zero is the end of the quantity, not a limit that an instrument could
// miss: nothing found is nothing found.
func judgeMeasure(value, low, high, instrumentError *big.Rat) Verdict {
	margin := (*big.Rat)(nil)
	switch {
	case low == nil:
	case low.Sign() != 0:
		margin = ratSub(value, low)
	case value.Sign() < 0:
		return Nonconforming
	}
	if high != nil {
		if m := ratSub(high, value); margin == nil || m.Cmp(margin) < 0 {
			margin = m
		}
	}
	switch {
	case margin == nil || margin.Cmp(instrumentError) >= 0:
		return Conforming
	case margin.Cmp(new(big.Rat).Neg(instrumentError)) < 0:
		return Nonconforming
	}
	return Undecided
}
