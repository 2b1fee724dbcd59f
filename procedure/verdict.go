package procedure

import (
	"math"
	"math/big"

	"github.com/tightwright/tightwright/torque"
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

// judgeTorque decides on a value inside the closed window w. With allowance
// for the tool, the value carries a standard uncertainty u = d·value/√3: the
// permitted deviation d is the half width of a rectangular distribution
// (JCGM 100:2008 4.3.7), and the conformance probability is
// Φ((max−v)/u) − Φ((min−v)/u) (JCGM 106:2012 7.4). It conforms from p
// upwards, does not from 1−p downwards, and is undecided between. Without
// allowance the value itself is compared (simple acceptance, ILAC-G8:09/2019
// 4.2), and the probability is 1 or 0.
func judgeTorque(w torque.Window, value torque.Torque, d *big.Rat, p float64) (Verdict, float64) {
	if d.Sign() == 0 {
		if w.Contains(value) {
			return Conforming, 1
		}
		return Nonconforming, 0
	}
	dev, _ := d.Float64()
	u := dev * value.NewtonMeters() / math.Sqrt(3)
	pc := conformance(w, value.NewtonMeters(), u)
	switch {
	case pc >= p:
		return Conforming, pc
	case pc <= 1-p:
		return Nonconforming, pc
	}
	return Undecided, pc
}

// conformance is the probability that a normal value with mean y and standard
// uncertainty u lies in the window, each tail by erfc (JCGM 106:2012 7.3, 7.4).
func conformance(w torque.Window, y, u float64) float64 {
	if u <= 0 {
		u = math.SmallestNonzeroFloat64
	}
	outside := 0.0
	if hi, ok := w.Max(); ok {
		outside += 0.5 * math.Erfc((hi.NewtonMeters()-y)/(u*math.Sqrt2))
	}
	if lo, ok := w.Min(); ok {
		outside += 0.5 * math.Erfc((y-lo.NewtonMeters())/(u*math.Sqrt2))
	}
	return 1 - outside
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
