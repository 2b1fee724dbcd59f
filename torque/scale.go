package torque

import (
	"errors"
	"fmt"
	"math/big"
)

// ErrVanishes reports a window in which a scale has no mark.
var ErrVanishes = errors.New("no mark of the scale lies in the window")

// ErrNoLimit reports a window without limits where one is needed.
var ErrNoLimit = errors.New("no limit is known")

// ErrScale reports a scale that cannot be used.
var ErrScale = errors.New("unusable scale")

// Scale is the row of marks of a wrench or a display: First, First + Step,
// First + 2·Step and so on up to Last. All three are decimal digits in Unit.
//
// Step is required and at least 1 nN·m. An empty First puts the marks on whole
// multiples of Step, the lowest being Step itself; an empty Last leaves the
// scale open at the top.
type Scale struct {
	Unit  Unit   `json:"unit"`
	Step  string `json:"step"`
	First string `json:"first,omitempty"`
	Last  string `json:"last,omitempty"`
}

// Marks are the marks of a scale that stand for the limits of a window. A side
// that the window does not have is a zero [Figure].
type Marks struct {
	Min, Max Figure
}

// Check reports whether the scale can be used; the error wraps [ErrScale].
func (s Scale) Check() error {
	_, err := s.grid()
	return err
}

// Below returns the highest mark that is not above the value, exactly. The
// error is [ErrVanishes] where the scale starts above it.
func (s Scale) Below(value Exact) (Figure, error) {
	g, err := s.grid()
	if err != nil {
		return Figure{}, err
	}
	return g.mark(g.below(value.newtonMeters()))
}

// Above returns the lowest mark that is not below the value, exactly. The
// error is [ErrVanishes] where the scale ends below it.
func (s Scale) Above(value Exact) (Figure, error) {
	g, err := s.grid()
	if err != nil {
		return Figure{}, err
	}
	return g.mark(g.above(value.newtonMeters()))
}

// RoundInward returns the lowest and the highest mark of a scale inside the
// window. Limits never move outwards, and one that is on a mark does not move:
// a mark is inside when its Torque is. (The rule is in ASME A112.18.1-2018/CSA
// B125.1-18 Annex A.2 e; NIST SP 811 has none for limits.) Where no mark is
// inside, the error is [ErrVanishes]; a window is never widened.
//
// A Window holds its limits to the nanonewton meter. To round limits as they
// were written, without that step between, use [FigureWindow.RoundInward].
func (w Window) RoundInward(scale Scale) (Marks, error) {
	if w.IsZero() {
		return Marks{}, fmt.Errorf("round %v inward: %w", w, ErrNoLimit)
	}
	var limits bounds
	// Half a nanonewton meter outside a limit is still the same Torque.
	half := big.NewRat(1, 2*int64(NewtonMeter))
	if w.hasMin {
		limits.min = new(big.Rat).Sub(w.min.Rat(), half)
		limits.minHolds = func(mark Torque) bool { return mark >= w.min }
	}
	if w.hasMax {
		limits.max = new(big.Rat).Add(w.max.Rat(), half)
		limits.maxHolds = func(mark Torque) bool { return mark <= w.max }
	}
	marks, err := scale.inside(limits)
	if err != nil {
		return Marks{}, fmt.Errorf("round %v inward: %w", w, err)
	}
	return marks, nil
}
