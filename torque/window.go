package torque

import (
	"errors"
	"fmt"
)

// ErrDisjoint reports two windows that have no torque in common.
var ErrDisjoint = errors.New("windows have no torque in common")

// ErrReversed reports a minimum above the maximum.
var ErrReversed = errors.New("minimum is above maximum")

// ErrNotPositive reports a limit that no tightening torque can have: a
// negative minimum or tolerance, a maximum or nominal of zero or less.
var ErrNotPositive = errors.New("torque must be positive")

// Window is the range of torques allowed for a joint, limits included. It has
// a minimum, a maximum or both, and may carry the nominal value it was stated
// with. Windows are comparable with ==.
//
// The zero value states no limit. It contains nothing, because where no limit
// is known no torque can be called right, and it leaves the other side of an
// intersection as it is.
type Window struct {
	min, max, nominal          Torque
	hasMin, hasMax, hasNominal bool
}

// NewWindow returns the closed range from min to max. A minimum of zero is
// allowed. Errors: [ErrNotPositive], [ErrReversed], [ErrOutOfRange].
func NewWindow(min, max Torque) (Window, error) {
	return newWindow(Window{min: min, max: max, hasMin: true, hasMax: true})
}

// AtMost returns the window with a maximum only.
func AtMost(max Torque) (Window, error) {
	return newWindow(Window{max: max, hasMax: true})
}

// AtLeast returns the window with a minimum only.
func AtLeast(min Torque) (Window, error) {
	return newWindow(Window{min: min, hasMin: true})
}

// PlusMinus returns the window nominal ± tolerance.
func PlusMinus(nominal, tolerance Torque) (Window, error) {
	if tolerance < 0 {
		return Window{}, fmt.Errorf("window %v ± %v: %w", nominal, tolerance, ErrNotPositive)
	}
	if !nominal.inWireRange() || !tolerance.inWireRange() {
		return Window{}, fmt.Errorf("window %v ± %v: %w", nominal, tolerance, ErrOutOfRange)
	}
	window, err := NewWindow(nominal-tolerance, nominal+tolerance)
	if err != nil {
		return Window{}, err
	}
	return window.WithNominal(nominal)
}

// newWindow checks what every window must be.
func newWindow(w Window) (Window, error) {
	switch {
	case !w.min.inWireRange() || !w.max.inWireRange():
		return Window{}, fmt.Errorf("window %v: %w", w, ErrOutOfRange)
	case w.hasMin && w.min < 0, w.hasMax && w.max <= 0:
		return Window{}, fmt.Errorf("window %v: %w", w, ErrNotPositive)
	case w.hasMin && w.hasMax && w.min > w.max:
		return Window{}, fmt.Errorf("window %v: %w", w, ErrReversed)
	}
	return w, nil
}

// WithNominal returns the window with a nominal value, which must be positive
// and lie inside.
func (w Window) WithNominal(nominal Torque) (Window, error) {
	switch {
	case nominal <= 0:
		return Window{}, fmt.Errorf("nominal %v: %w", nominal, ErrNotPositive)
	case !w.Contains(nominal):
		return Window{}, fmt.Errorf("nominal %v outside %v: %w", nominal, w, ErrDisjoint)
	}
	w.nominal, w.hasNominal = nominal, true
	return w, nil
}

// Min returns the minimum, and false where there is none.
func (w Window) Min() (Torque, bool) { return w.min, w.hasMin }

// Max returns the maximum, and false where there is none.
func (w Window) Max() (Torque, bool) { return w.max, w.hasMax }

// Nominal returns the nominal value, and false where there is none.
func (w Window) Nominal() (Torque, bool) { return w.nominal, w.hasNominal }

// IsZero reports whether the window states no limit.
func (w Window) IsZero() bool { return !w.hasMin && !w.hasMax }

// Contains reports whether t lies in the window, limits included. A window
// without a minimum reaches down to anything, the zero Window contains nothing.
func (w Window) Contains(t Torque) bool {
	return !w.IsZero() && (!w.hasMin || w.min <= t) && (!w.hasMax || t <= w.max)
}

// Intersect returns the torques allowed by both windows: the higher minimum
// and the lower maximum. The order of the two does not matter. A nominal value
// survives where it lies inside and the other window does not name another
// one. Without a common torque the error is [ErrDisjoint].
func (w Window) Intersect(other Window) (Window, error) {
	both := Window{hasMin: w.hasMin || other.hasMin, hasMax: w.hasMax || other.hasMax}
	both.min = governing(w.hasMin, other.hasMin, w.min, other.min, w.min > other.min)
	both.max = governing(w.hasMax, other.hasMax, w.max, other.max, w.max < other.max)
	if both.hasMin && both.hasMax && both.min > both.max {
		return Window{}, fmt.Errorf("%v and %v: %w", w, other, ErrDisjoint)
	}
	nominal := governing(w.hasNominal, other.hasNominal, w.nominal, other.nominal, true)
	agreed := !w.hasNominal || !other.hasNominal || w.nominal == other.nominal
	if (w.hasNominal || other.hasNominal) && agreed && both.Contains(nominal) {
		both.nominal, both.hasNominal = nominal, true
	}
	return both, nil
}

// governing picks the only limit given or, of two, the tighter one.
func governing(hasFirst, hasSecond bool, first, second Torque, firstTighter bool) Torque {
	switch {
	case !hasSecond, hasFirst && firstTighter:
		return first
	default:
		return second
	}
}
