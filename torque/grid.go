package torque

import (
	"fmt"
	"math/big"
)

// grid is a checked Scale: mark number k stands for first + k·step, where k
// runs from 0 to last (nil: no end).
type grid struct {
	unit        Unit
	first, step *big.Rat // in unit
	last        *big.Int
	places      int
}

// bounds are limits in newton meters, nil where there is none. A mark on or
// inside a bound must also pass its test where there is one.
type bounds struct {
	min, max           *big.Rat
	minHolds, maxHolds func(mark Torque) bool
}

// grid checks a scale. Steps below a nanonewton meter are refused, because then
// one Torque would have more than one mark.
func (s Scale) grid() (grid, error) {
	step, err := s.digits("step", s.Step)
	if err != nil {
		return grid{}, err
	}
	if new(big.Rat).Mul(step, s.Unit.Factor()).Cmp(NanonewtonMeter.Rat()) < 0 {
		return grid{}, fmt.Errorf("scale step %q: %w: must be at least 1 nN·m", s.Step, ErrScale)
	}
	g := grid{unit: s.Unit, first: step, step: step, places: max(places(s.Step), places(s.First))}
	if s.First != "" {
		if g.first, err = s.digits("first mark", s.First); err != nil {
			return grid{}, err
		}
	}
	if g.first.Sign() < 0 {
		return grid{}, fmt.Errorf("scale first mark %q: %w: must not be negative", s.First, ErrScale)
	}
	if s.Last == "" {
		return g, nil
	}
	last, err := s.digits("last mark", s.Last)
	if err != nil {
		return grid{}, err
	}
	if last.Cmp(g.first) < 0 {
		return grid{}, fmt.Errorf("scale last mark %q: %w: below the first", s.Last, ErrScale)
	}
	g.last = g.number(last, floor)
	return g, nil
}

// digits reads one of the three numbers of a scale.
func (s Scale) digits(what, text string) (*big.Rat, error) {
	figure, err := ParseFigure(text, s.Unit)
	if err != nil {
		return nil, fmt.Errorf("scale %s: %w: %w", what, ErrScale, err)
	}
	return figure.Rat(), nil
}

// number returns the number of the mark at, below or above a value in g.unit.
func (g grid) number(value *big.Rat, way rounding) *big.Int {
	steps := new(big.Rat).Sub(value, g.first)
	return roundRat(steps.Quo(steps, g.step), way)
}

// below returns the number of the highest mark not above a torque. It is
// negative where the scale begins above it.
func (g grid) below(newtonMeters *big.Rat) *big.Int {
	k := g.number(new(big.Rat).Quo(newtonMeters, g.unit.Factor()), floor)
	if g.last != nil && k.Cmp(g.last) > 0 {
		return new(big.Int).Set(g.last)
	}
	return k
}

// above returns the number of the lowest mark not below a torque. It is larger
// than the last where the scale ends below it.
func (g grid) above(newtonMeters *big.Rat) *big.Int {
	k := g.number(new(big.Rat).Quo(newtonMeters, g.unit.Factor()), ceiling)
	if k.Sign() < 0 {
		return new(big.Int)
	}
	return k
}

// mark writes mark number k, or reports that the scale has no such mark.
func (g grid) mark(k *big.Int) (Figure, error) {
	if k.Sign() < 0 || g.last != nil && k.Cmp(g.last) > 0 {
		return Figure{}, ErrVanishes
	}
	value := new(big.Rat).SetInt(k)
	value.Add(value.Mul(value, g.step), g.first)
	return ParseFigure(value.FloatString(g.places), g.unit)
}

// inside returns the outermost marks within the limits: up from the minimum,
// down from the maximum. Limits that cross on the way have no mark between.
func (s Scale) inside(limits bounds) (Marks, error) {
	g, err := s.grid()
	if err != nil {
		return Marks{}, err
	}
	var marks Marks
	if limits.min != nil {
		if marks.Min, err = g.settle(g.above(limits.min), 1, limits.minHolds); err != nil {
			return Marks{}, err
		}
	}
	if limits.max != nil {
		if marks.Max, err = g.settle(g.below(limits.max), -1, limits.maxHolds); err != nil {
			return Marks{}, err
		}
		if marks.Max.Rat().Sign() == 0 {
			return Marks{}, ErrVanishes // the mark 0 is no torque to stay under
		}
	}
	if limits.min != nil && limits.max != nil && marks.Min.Rat().Cmp(marks.Max.Rat()) > 0 {
		return Marks{}, ErrVanishes
	}
	return marks, nil
}

// settle returns mark k if it holds, else its inner neighbor. One step is
// enough: a mark can fail its test by half a nanonewton meter at most, and
// marks are at least a whole one apart.
func (g grid) settle(k *big.Int, inward int64, holds func(Torque) bool) (Figure, error) {
	figure, err := g.mark(k)
	if err != nil || holds == nil {
		return figure, err
	}
	value, err := figure.Torque()
	if err != nil {
		return Figure{}, err
	}
	if holds(value) {
		return figure, nil
	}
	return g.mark(k.Add(k, big.NewInt(inward)))
}
