package wrench

import (
	"fmt"
	"math"
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// Limits are tolerance limits as exact numbers in any one unit: a minimum, a
// maximum or both, included. The zero value has none. Values are not changed
// after they are made.
type Limits struct{ min, max *big.Rat } // nil: no limit

// NewLimits takes copies of the limits; nil is no limit. At least one is
// needed, and the minimum is not above the maximum. The error joins a
// [FieldError] for each mistake.
func NewLimits(minimum, maximum *big.Rat) (Limits, error) {
	var p problems
	switch {
	case minimum == nil && maximum == nil:
		p.add("max", RuleMissing, "give a minimum, a maximum or both: without a limit nothing can be decided")
	case minimum != nil && maximum != nil && minimum.Cmp(maximum) > 0:
		p.add("max", RuleReversedRange, "the maximum is not below the minimum")
	}
	if err := p.err(); err != nil {
		return Limits{}, err
	}
	return Limits{copied(minimum), copied(maximum)}, nil
}

// LimitsOf returns the limits of a window of written figures in newton meters.
func LimitsOf(w torque.FigureWindow) (Limits, error) {
	var low, high *big.Rat
	if !w.Min.IsZero() {
		low = w.Min.In(torque.NewtonMeters).Rat()
	}
	if !w.Max.IsZero() {
		high = w.Max.In(torque.NewtonMeters).Rat()
	}
	return NewLimits(low, high)
}

func copied(value *big.Rat) *big.Rat {
	if value == nil {
		return nil
	}
	return new(big.Rat).Set(value)
}

// Min returns a copy of the minimum, nil where there is none.
func (l Limits) Min() *big.Rat { return copied(l.min) }

// Max returns a copy of the maximum, nil where there is none.
func (l Limits) Max() *big.Rat { return copied(l.max) }

// IsZero reports whether there is no limit.
func (l Limits) IsZero() bool { return l.min == nil && l.max == nil }

// Contain reports whether a value lies within the limits or on one. It is
// exact. The zero Limits contain nothing.
func (l Limits) Contain(value *big.Rat) bool {
	return !l.IsZero() && (l.min == nil || l.min.Cmp(value) <= 0) && (l.max == nil || value.Cmp(l.max) <= 0)
}

// Guarded returns the acceptance limits: each limit moved inward by a guard
// band w, or outward where w is negative (JCGM 106:2012 8.3.2; ILAC-G8:09/2019
// 4.1, w = |TL - AL|). Where nothing is left the error is [ErrNoAcceptance]; a
// single value may be left.
func (l Limits) Guarded(w *big.Rat) (Limits, error) {
	guarded := Limits{copied(l.min), copied(l.max)}
	if l.min != nil {
		guarded.min.Add(guarded.min, w)
	}
	if l.max != nil {
		guarded.max.Sub(guarded.max, w)
	}
	if l.min != nil && l.max != nil && guarded.min.Cmp(guarded.max) > 0 {
		return Limits{}, ErrNoAcceptance
	}
	return guarded, nil
}

// Tails splits the probability for an estimate y with standard uncertainty u.
// The differences and the division are exact; only their result is rounded.
func (l Limits) Tails(y, u *big.Rat) Tails {
	low, high := math.Inf(-1), math.Inf(1)
	if l.min != nil {
		low = standardizedExact(new(big.Rat).Sub(l.min, y), u, -1)
	}
	if l.max != nil {
		high = standardizedExact(new(big.Rat).Sub(l.max, y), u, 1)
	}
	return NormalTails(low, high)
}

// standardizedExact is standardized for rationals.
func standardizedExact(difference, u *big.Rat, inside float64) float64 {
	if u.Sign() > 0 {
		z, _ := difference.Quo(difference, u).Float64()
		return z
	}
	return standardized(float64(difference.Sign()), 0, inside)
}

// Capability returns the measurement capability index C_m = (T_U - T_L)/(4·u),
// which with k = 2 is also the ratio of the half tolerance to the expanded
// uncertainty (JCGM 106:2012, from memory). ok is false with one limit only or
// without uncertainty.
func (l Limits) Capability(u *big.Rat) (index float64, ok bool) {
	if l.min == nil || l.max == nil || u.Sign() <= 0 {
		return 0, false
	}
	width := new(big.Rat).Sub(l.max, l.min)
	index, _ = width.Quo(width, new(big.Rat).Mul(u, big.NewRat(4, 1))).Float64()
	return index, true
}

// String returns the limits as decimals or fractions, without a unit.
func (l Limits) String() string {
	text := func(value *big.Rat) string { return torque.NewExact(value, torque.NewtonMeters).Text() }
	switch {
	case l.IsZero():
		return "no limit"
	case l.max == nil:
		return "at least " + text(l.min)
	case l.min == nil:
		return "at most " + text(l.max)
	}
	return fmt.Sprintf("%s to %s", text(l.min), text(l.max))
}
