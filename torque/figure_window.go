package torque

import (
	"cmp"
	"fmt"
	"math/big"
)

// FigureWindow is a window whose limits are figures as they were written, in
// whatever unit. A side that is a zero [Figure] has no limit. Rounding it onto
// a scale and comparing its sides is exact, without a Torque between. The zero
// value states no limit.
type FigureWindow struct {
	Min     Figure `json:"min,omitzero"`
	Max     Figure `json:"max,omitzero"`
	Nominal Figure `json:"nominal,omitzero"`
}

// IsZero reports whether the window states no limit.
func (w FigureWindow) IsZero() bool { return w.Min.IsZero() && w.Max.IsZero() }

// Check reports a reversed window, [ErrReversed], and limits that are not
// positive, [ErrNotPositive], on the exact values.
func (w FigureWindow) Check() error {
	low, high, order := w.compare()
	switch {
	case low < 0, !w.Max.IsZero() && high <= 0:
		return fmt.Errorf("window %v: %w", w, ErrNotPositive)
	case !w.Min.IsZero() && !w.Max.IsZero() && order > 0:
		return fmt.Errorf("window %v: %w", w, ErrReversed)
	}
	return nil
}

// compare returns the signs of both limits and their order, exactly: as whole
// nanonewton meters where both can be held so, else as rationals.
func (w FigureWindow) compare() (low, high, order int) {
	a, okA := w.Min.nano()
	b, okB := w.Max.nano()
	if okA && okB {
		return cmp.Compare(a, 0), cmp.Compare(b, 0), cmp.Compare(a, b)
	}
	x, y := w.Min.newtonMeters(), w.Max.newtonMeters()
	return x.Sign(), y.Sign(), x.Cmp(y)
}

// nano returns the figure in whole nanonewton meters where that is exact; no
// figure is 0.
func (f Figure) nano() (Torque, bool) {
	if f.IsZero() {
		return 0, true
	}
	if f.unit != NewtonMeters {
		return 0, false
	}
	return exactNano(f.digits)
}

// Window returns the window with each figure as the nearest [Torque].
func (w FigureWindow) Window() (Window, error) {
	if err := w.Check(); err != nil {
		return Window{}, err
	}
	var out Window
	for _, side := range []struct {
		figure Figure
		value  *Torque
		has    *bool
	}{
		{w.Min, &out.min, &out.hasMin},
		{w.Max, &out.max, &out.hasMax},
	} {
		if side.figure.IsZero() {
			continue
		}
		value, err := side.figure.Torque()
		if err != nil {
			return Window{}, err
		}
		*side.value, *side.has = value, true
	}
	out, err := newWindow(out)
	if err != nil || w.Nominal.IsZero() {
		return out, err
	}
	nominal, err := w.Nominal.Torque()
	if err != nil {
		return Window{}, err
	}
	return out.WithNominal(nominal)
}

// RoundInward returns the lowest and the highest mark of a scale that lie
// inside the written limits, exactly: the minimum goes up, the maximum down, a
// limit on a mark stays. Errors are those of [Window.RoundInward].
func (w FigureWindow) RoundInward(scale Scale) (Marks, error) {
	if w.IsZero() {
		return Marks{}, fmt.Errorf("round %v inward: %w", w, ErrNoLimit)
	}
	if err := w.Check(); err != nil {
		return Marks{}, err
	}
	marks, err := scale.inside(bounds{min: w.Min.limit(), max: w.Max.limit()})
	if err != nil {
		return Marks{}, fmt.Errorf("round %v inward: %w", w, err)
	}
	return marks, nil
}

// limit is the exact value in newton meters, nil for no figure.
func (f Figure) limit() *big.Rat {
	if f.IsZero() {
		return nil
	}
	return f.newtonMeters()
}

// String returns the limits for people, as [Window.String] does, with the
// figures as they were written.
func (w FigureWindow) String() string {
	switch {
	case w.IsZero():
		return "no limit"
	case w.Max.IsZero():
		return "at least " + w.Min.String()
	case w.Min.IsZero():
		return "at most " + w.Max.String()
	}
	return w.Min.String() + " to " + w.Max.String()
}
