package torque

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// MaxFigureDigits bounds the digits of a written figure.
const MaxFigureDigits = 40

// ErrNoFigure reports the use of a zero [Figure] where a value is needed.
var ErrNoFigure = errors.New("no figure")

// ErrNotDecimal reports a text that is not a plain decimal figure.
var ErrNotDecimal = errors.New("not a plain decimal: write digits with at most one decimal point, as in 5 or 5.0")

// Figure is a number as it was written or read off, with its unit: the digits
// are kept as text because they carry the resolution, "5.0" is not "5".
//
// Figures are comparable with ==, which compares the writing, not the value.
// The zero value means no figure: [Figure.IsZero] is true, Digits is empty and
// Torque fails with [ErrNoFigure].
type Figure struct {
	digits string
	unit   Unit
}

// ParseFigure checks and keeps the digits of a figure: an optional minus sign,
// ASCII digits, and a decimal point between digits where there is one. No
// exponent, no grouping, no comma, at most [MaxFigureDigits] digits.
func ParseFigure(digits string, unit Unit) (Figure, error) {
	if !unit.IsValid() {
		return Figure{}, fmt.Errorf("figure %q: %w", digits, ErrUnknownUnit)
	}
	if err := checkDecimal(digits); err != nil {
		return Figure{}, fmt.Errorf("figure %q: %w", digits, err)
	}
	return Figure{digits: digits, unit: unit}, nil
}

// checkDecimal reports whether a text is a plain decimal. Grouping, exponents
// and decimal commas are left to people and [ParseMarking].
func checkDecimal(digits string) error {
	unsigned := strings.TrimPrefix(digits, "-")
	whole, fraction, hasPoint := strings.Cut(unsigned, ".")
	switch {
	case !isDigits(whole), hasPoint && !isDigits(fraction):
		return ErrNotDecimal
	case len(whole)+len(fraction) > MaxFigureDigits:
		return fmt.Errorf("%w: more than %d digits", ErrNotDecimal, MaxFigureDigits)
	}
	return nil
}

// isDigits reports one or more ASCII digits.
func isDigits(text string) bool {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return false
		}
	}
	return text != ""
}

// IsZero reports whether f is the zero value, that is no figure. A written 0
// is a figure.
func (f Figure) IsZero() bool { return f.digits == "" }

// Digits returns the digits as written, with an ASCII decimal point.
func (f Figure) Digits() string { return f.digits }

// Unit returns the unit as written.
func (f Figure) Unit() Unit { return f.unit }

// Places returns the number of written decimals, 1 for "5.0".
func (f Figure) Places() int { return places(f.digits) }

// places returns the number of digits after the point.
func places(digits string) int {
	_, fraction, _ := strings.Cut(digits, ".")
	return len(fraction)
}

// String returns the figure with the symbol of its unit, "5.0 N·m", and
// "no figure" for the zero value.
func (f Figure) String() string {
	if f.IsZero() {
		return ErrNoFigure.Error()
	}
	return f.digits + " " + f.unit.Symbol()
}

// Rat returns the exact value in the figure's own unit as a new rational, zero
// for the zero value.
func (f Figure) Rat() *big.Rat {
	value := new(big.Rat)
	if f.IsZero() {
		return value
	}
	value.SetString(f.digits) // cannot fail: the digits were checked
	return value
}

// Sign returns -1, 0 or 1 as the figure is below, equal to or above zero; no
// figure is 0.
func (f Figure) Sign() int {
	switch {
	case !strings.ContainsAny(f.digits, "123456789"):
		return 0
	case f.digits[0] == '-':
		return -1
	}
	return 1
}

// Compare returns -1, 0 or 1 as the figure is below, equal to or above another,
// exactly and whatever their units; no figure counts as zero.
func (f Figure) Compare(other Figure) int {
	if f.unit == other.unit {
		// The unit does not matter, so neither does what the digits count.
		a, okA := exactNano(f.digits)
		b, okB := exactNano(other.digits)
		if okA && okB {
			return cmp.Compare(a, b)
		}
	}
	return f.newtonMeters().Cmp(other.newtonMeters())
}

// Torque returns the Torque nearest to the figure, ties to even. It fails with
// [ErrNoFigure] and [ErrOutOfRange].
func (f Figure) Torque() (Torque, error) {
	if f.IsZero() {
		return 0, ErrNoFigure
	}
	if value, ok := f.nano(); ok {
		return value, nil
	}
	value, err := FromRat(f.newtonMeters())
	if err != nil {
		return 0, fmt.Errorf("figure %v: %w", f, err)
	}
	return value, nil
}

// exactNano reads newton meters with at most nine decimals and six digits
// before the point, which a Torque holds exactly. Anything else is left to the
// rational.
func exactNano(digits string) (Torque, bool) {
	unsigned := strings.TrimPrefix(digits, "-")
	whole, fraction, _ := strings.Cut(unsigned, ".")
	if len(whole) > 6 || len(fraction) > 9 {
		return 0, false
	}
	var value Torque
	for i := range len(whole) {
		value = value*10 + Torque(whole[i]-'0')
	}
	for i := range 9 {
		value *= 10
		if i < len(fraction) {
			value += Torque(fraction[i] - '0')
		}
	}
	if len(unsigned) < len(digits) {
		value = -value
	}
	return value, true
}

// newtonMeters returns the exact value in newton meters.
func (f Figure) newtonMeters() *big.Rat {
	value := f.Rat()
	return value.Mul(value, f.unit.Factor())
}

// In returns the figure's exact value in another unit. It never goes through
// [Torque], so nothing is rounded.
func (f Figure) In(to Unit) Exact {
	if f.unit == to {
		return newExact(f.Rat(), to)
	}
	return newExact(divide(f.newtonMeters(), to.Factor()), to)
}

// Convert reads digits in one unit and returns the exact value in another.
func Convert(digits string, from, to Unit) (Exact, error) {
	figure, err := ParseFigure(digits, from)
	if err != nil {
		return Exact{}, fmt.Errorf("convert: %w", err)
	}
	if !to.IsValid() {
		return Exact{}, fmt.Errorf("convert %v: %w", figure, ErrUnknownUnit)
	}
	return figure.In(to), nil
}

// figureJSON is the form in JSON.
type figureJSON struct {
	Value string `json:"value"`
	Unit  Unit   `json:"unit"`
}

// MarshalJSON writes {"value":"5.0","unit":"N.m"}, and null for the zero value.
func (f Figure) MarshalJSON() ([]byte, error) {
	if f.IsZero() {
		return []byte("null"), nil
	}
	return json.Marshal(figureJSON{Value: f.digits, Unit: f.unit})
}

// UnmarshalJSON reads what [Figure.MarshalJSON] writes.
func (f *Figure) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*f = Figure{}
		return nil
	}
	var read struct {
		Value string `json:"value"`
		Unit  *Unit  `json:"unit"`
	}
	if err := json.Unmarshal(data, &read); err != nil {
		return fmt.Errorf("read figure: %w", err)
	}
	if read.Unit == nil {
		return fmt.Errorf("read figure %q: %w", read.Value, errNoUnit)
	}
	figure, err := ParseFigure(read.Value, *read.Unit)
	if err != nil {
		return fmt.Errorf("read figure: %w", err)
	}
	*f = figure
	return nil
}
