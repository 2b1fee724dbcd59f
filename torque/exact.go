package torque

import (
	"math/big"
	"strings"
)

// Exact is the exact result of a conversion: a rational number and its unit.
// Values are immutable; the zero value is 0 N·m.
type Exact struct {
	value *big.Rat // nil for zero, never written to after construction
	unit  Unit
}

// newExact takes ownership of value.
func newExact(value *big.Rat, unit Unit) Exact { return Exact{value: value, unit: unit} }

// NewExact returns a copy of a rational with a unit. A nil value is zero.
func NewExact(value *big.Rat, unit Unit) Exact {
	if value == nil {
		return Exact{unit: unit}
	}
	return newExact(new(big.Rat).Set(value), unit)
}

// Unit returns the unit of the value.
func (e Exact) Unit() Unit { return e.unit }

// Rat returns a copy of the value in its own unit.
func (e Exact) Rat() *big.Rat { return new(big.Rat).Set(e.rat()) }

// rat returns the value itself, for reading only.
func (e Exact) rat() *big.Rat {
	if e.value == nil {
		return new(big.Rat)
	}
	return e.value
}

// Decimal returns the exact value as a decimal without trailing zeros and
// true. Where the decimal does not end, it returns the fraction in lowest
// terms, "10000000000000000/1129848290276167", and false.
func (e Exact) Decimal() (string, bool) {
	places, ends := e.rat().FloatPrec()
	if !ends {
		return e.rat().RatString(), false
	}
	return e.rat().FloatString(places), true
}

// Text returns the exact value as a decimal or, where that does not end, as a
// fraction; see [Exact.Decimal].
func (e Exact) Text() string {
	text, _ := e.Decimal()
	return text
}

// String returns [Exact.Text] with the symbol of the unit.
func (e Exact) String() string { return e.Text() + " " + e.unit.Symbol() }

// Float64 returns the nearest float64.
func (e Exact) Float64() float64 {
	value, _ := e.rat().Float64()
	return value
}

// In returns the same value in another unit, exactly.
func (e Exact) In(to Unit) Exact {
	if e.unit == to {
		return e
	}
	return newExact(divide(e.newtonMeters(), to.Factor()), to)
}

// Torque returns the nearest Torque, ties to even, or [ErrOutOfRange].
func (e Exact) Torque() (Torque, error) {
	return FromRat(e.newtonMeters())
}

// newtonMeters returns the exact value in newton meters.
func (e Exact) newtonMeters() *big.Rat {
	return new(big.Rat).Mul(e.rat(), e.unit.Factor())
}

// RoundPlaces returns the value with that many decimals, rounded half to even
// on the decimal digits (NIST SP 811, 2008, B.7.1). Negative counts round to
// tens, hundreds and so on; the count is held within ±[MaxFigureDigits].
func (e Exact) RoundPlaces(places int) string { return e.atPlaces(places, halfEven) }

// FloorPlaces returns the largest decimal with that many places that is not
// above the value: the way a maximum is rounded.
func (e Exact) FloorPlaces(places int) string { return e.atPlaces(places, floor) }

// CeilPlaces returns the smallest decimal with that many places that is not
// below the value: the way a minimum is rounded.
func (e Exact) CeilPlaces(places int) string { return e.atPlaces(places, ceiling) }

// RoundSignificant returns the value with that many significant digits (at
// least one), rounded half to even on the decimal digits (NIST SP 811, 2008,
// B.7.1). A carry into a new decade keeps the number of significant digits:
// 9.995 to three is 10.0.
func (e Exact) RoundSignificant(digits int) string {
	digits = min(max(digits, 1), MaxFigureDigits)
	if e.rat().Sign() == 0 {
		return e.RoundPlaces(digits - 1)
	}
	leading := decade(e.rat())
	text := e.RoundPlaces(digits - 1 - leading)
	carried, _ := new(big.Rat).SetString(text)
	if decade(carried) > leading {
		return e.RoundPlaces(digits - 2 - leading)
	}
	return text
}

// atPlaces rounds to a whole number of 10^-places and writes all its digits,
// trailing zeros too: they say how far the value was rounded.
func (e Exact) atPlaces(places int, way rounding) string {
	places = min(max(places, -MaxFigureDigits), MaxFigureDigits)
	scaled := new(big.Rat).Mul(e.rat(), powerOfTen(places))
	whole := roundRat(scaled, way)
	if places <= 0 {
		return whole.Mul(whole, pow10(-places)).String()
	}
	return placePoint(whole, places)
}

// placePoint writes a whole number of 10^-places as a decimal.
func placePoint(whole *big.Int, places int) string {
	digits := new(big.Int).Abs(whole).String()
	if missing := places + 1 - len(digits); missing > 0 {
		digits = strings.Repeat("0", missing) + digits
	}
	sign := ""
	if whole.Sign() < 0 {
		sign = "-"
	}
	point := len(digits) - places
	return sign + digits[:point] + "." + digits[point:]
}
