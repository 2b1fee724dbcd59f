package wrench

import (
	"encoding/json"
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// settingDigits is how many digits of a setting are written where it is not
// rational.
const settingDigits = 20

// An ExactSetting is a torque worked out exactly, and the mark that stands for it
// where there is a tool.
type ExactSetting struct {
	// Setting is the nearest float64, in Unit.
	Setting float64 `json:"setting"`
	// Exact is the same as a decimal or, where that does not end, as a
	// fraction. Where the angle makes it irrational it is a decimal rounded to
	// 20 digits, and Rounded is true.
	Exact   string      `json:"exact"`
	Rounded bool        `json:"rounded,omitempty"`
	Unit    torque.Unit `json:"unit"`
	// Mark holds the digits of the mark on a tool, in MarkUnit.
	Mark     json.Number  `json:"mark,omitempty"`
	MarkUnit *torque.Unit `json:"mark_unit,omitempty"`

	low, high *big.Rat // what encloses it, in Unit
}

// newSetting takes ownership of its arguments.
func newSetting(low, high *big.Rat, unit torque.Unit) ExactSetting {
	s := ExactSetting{Unit: unit, low: low, high: high}
	middle := new(big.Rat).Add(low, high)
	exact := torque.NewExact(middle.Quo(middle, big.NewRat(2, 1)), unit)
	s.Setting, s.Exact = exact.Float64(), exact.Text()
	if low.Cmp(high) != 0 {
		s.Exact, s.Rounded = exact.RoundSignificant(settingDigits), true
	}
	return s
}

// Bound says which limit a single figure is. The zero value is the maximum,
// because a bare figure on a part is also its maximum.
type Bound uint8

const (
	// Maximum: the mark goes down.
	Maximum Bound = iota
	// Minimum: the mark goes up.
	Minimum
)

var boundWords = []string{"maximum", "minimum"}

// String returns "maximum" or "minimum".
func (b Bound) String() string { return word(boundWords, b) }

// MarshalText writes what [Bound.String] returns.
func (b Bound) MarshalText() ([]byte, error) { return wordText("bound", boundWords, b) }

// UnmarshalText reads what [Bound.MarshalText] writes.
func (b *Bound) UnmarshalText(text []byte) (err error) {
	*b, err = parseWord[Bound]("bound", boundWords, string(text))
	return err
}

// MarkOn returns the setting with its mark on a tool: the highest that is not
// above a maximum, the lowest that is not below a minimum, compared exactly. A
// setting on a mark stays there. The mark is in use and less than a graduation
// away; a fixed tool has to be fixed at the very setting. Else the error wraps
// [ErrNoSetting]. The tool's deviation plays no part: for that see
// [Wrench.Choose].
func (s ExactSetting) MarkOn(w *Wrench, bound Bound) (ExactSetting, error) {
	if s.low == nil {
		return s, fmt.Errorf("mark for a %v: %w", bound, torque.ErrNoFigure)
	}
	g := &w.grid
	k, ok := g.numberAt(g.ticksOf(s, bound), bound)
	if ok && w.kind == Fixed {
		ok = s.low.Cmp(s.high) == 0 && g.figure(k).In(s.Unit).Rat().Cmp(s.low) == 0
	}
	if !ok {
		return s, fmt.Errorf("mark for a %v of %s %v: %w on %v", bound, s.Exact, s.Unit, ErrNoSetting, w)
	}
	unit := g.unit
	s.Mark, s.MarkUnit = json.Number(g.figure(k).Digits()), &unit
	return s, nil
}

// ticksOf returns a setting in whole ticks: the highest at or below a maximum,
// the lowest at or above a minimum.
func (g *grid) ticksOf(s ExactSetting, bound Bound) *big.Int {
	scale := new(big.Rat).Quo(s.Unit.Factor(), g.unit.Factor())
	scale.Mul(scale, new(big.Rat).SetInt64(int64(power10(g.places))))
	if bound == Minimum {
		above := wholeBelow(scale.Neg(scale.Mul(scale, s.high)))
		return above.Neg(above)
	}
	return wholeBelow(scale.Mul(scale, s.low))
}

// numberAt returns the last mark at or below a tick, for a maximum, or the
// first at or above it, if it is in use and less than a step away.
func (g *grid) numberAt(tick *big.Int, bound Bound) (k uint64, ok bool) {
	low, high := g.tick(g.least), g.tick(g.last)
	if bound == Minimum {
		low -= min(low, g.step-1)
	} else {
		high += g.step - 1
	}
	if !tick.IsUint64() || tick.Uint64() < low || tick.Uint64() > high {
		return 0, false
	}
	if bound == Minimum {
		return max(g.from(tick.Uint64()), g.least), true
	}
	return g.to(tick.Uint64()), true
}
