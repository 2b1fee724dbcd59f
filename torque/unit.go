package torque

import (
	"errors"
	"fmt"
	"math/big"
)

// Unit is a unit of torque. The zero value is the newton meter.
type Unit uint8

// The units that are read and written. UCUM has no atom for the ounce-force;
// its code here is ounce times standard gravity times inch.
const (
	NewtonMeters             Unit = iota // N·m
	MillinewtonMeters                    // mN·m
	NewtonMillimeters                    // N·mm
	NewtonCentimeters                    // N·cm
	CentinewtonMeters                    // cN·m
	DecanewtonMeters                     // daN·m
	KilonewtonMeters                     // kN·m
	PoundForceInches                     // lbf·in
	PoundForceFeet                       // lbf·ft
	OunceForceInches                     // ozf·in
	GramForceCentimeters                 // gf·cm
	KilogramForceCentimeters             // kgf·cm
	KilogramForceMeters                  // kgf·m

	unitCount
)

// The exact definitions from which every factor follows (NIST SP 811, 2008
// edition, appendix B; the pound and the inch by the 1959 agreement, standard
// gravity by the 3rd CGPM, 1901). Each is a whole number of a power of ten.
const (
	poundE8       = 45_359_237 // 1 lb  = 0.45359237 kg
	inchE4        = 254        // 1 in  = 0.0254 m
	gravityE5     = 980_665    // g_n   = 9.80665 m/s²
	inchesPerFoot = 12
	sixteenthE4   = 625 // 1 oz = lb/16 = 0.0625 lb
)

// ErrUnknownUnit reports a text that is not a known unit of torque.
var ErrUnknownUnit = errors.New("unknown unit of torque")

// power is coefficient·10^-exponent, the exact factor to newton meters.
type power struct {
	coefficient uint64
	exponent    int
}

// unitFacts is what is known of a unit.
type unitFacts struct {
	ucum, symbol, name string
	factor             power
}

// units holds the facts by Unit. UCUM codes after UCUM 2.2 (2024-06-17).
var units = [unitCount]unitFacts{
	NewtonMeters:             {"N.m", "N·m", "newton meter", power{1, 0}},
	MillinewtonMeters:        {"mN.m", "mN·m", "millinewton meter", power{1, 3}},
	NewtonMillimeters:        {"N.mm", "N·mm", "newton millimeter", power{1, 3}},
	NewtonCentimeters:        {"N.cm", "N·cm", "newton centimeter", power{1, 2}},
	CentinewtonMeters:        {"cN.m", "cN·m", "centinewton meter", power{1, 2}},
	DecanewtonMeters:         {"daN.m", "daN·m", "decanewton meter", power{10, 0}},
	KilonewtonMeters:         {"kN.m", "kN·m", "kilonewton meter", power{1000, 0}},
	PoundForceInches:         {"[lbf_av].[in_i]", "lbf·in", "pound-force inch", power{poundE8 * gravityE5 * inchE4, 8 + 5 + 4}},
	PoundForceFeet:           {"[lbf_av].[ft_i]", "lbf·ft", "pound-force foot", power{poundE8 * gravityE5 * inchE4 * inchesPerFoot, 8 + 5 + 4}},
	OunceForceInches:         {"[oz_av].[g].[in_i]", "ozf·in", "ounce-force inch", power{poundE8 * sixteenthE4 * gravityE5 * inchE4, 8 + 4 + 5 + 4}},
	GramForceCentimeters:     {"gf.cm", "gf·cm", "gram-force centimeter", power{gravityE5, 3 + 5 + 2}},
	KilogramForceCentimeters: {"kgf.cm", "kgf·cm", "kilogram-force centimeter", power{gravityE5, 5 + 2}},
	KilogramForceMeters:      {"kgf.m", "kgf·m", "kilogram-force meter", power{gravityE5, 5}},
}

// Units returns all units, the newton meter first.
func Units() []Unit {
	all := make([]Unit, unitCount)
	for i := range all {
		all[i] = Unit(i)
	}
	return all
}

// IsValid reports whether u is one of the unit constants. The other methods
// treat an invalid unit as "unknown unit" with factor zero.
func (u Unit) IsValid() bool { return u < unitCount }

// UCUM returns the case-sensitive UCUM code, "N.m" or "[lbf_av].[in_i]".
func (u Unit) UCUM() string { return u.facts().ucum }

// Symbol returns the symbol for people, "N·m" or "lbf·in".
func (u Unit) Symbol() string { return u.facts().symbol }

// Name returns the name in words, singular, "newton meter".
func (u Unit) Name() string { return u.facts().name }

// String returns [Unit.Symbol].
func (u Unit) String() string { return u.Symbol() }

// Factor returns the exact number of newton meters in one unit, as a new
// rational.
func (u Unit) Factor() *big.Rat {
	factor := u.facts().factor
	return new(big.Rat).SetFrac(new(big.Int).SetUint64(factor.coefficient), pow10(factor.exponent))
}

// MarshalText returns the UCUM code. JSON uses the same text.
func (u Unit) MarshalText() ([]byte, error) {
	if !u.IsValid() {
		return nil, fmt.Errorf("write unit %d: %w", uint8(u), ErrUnknownUnit)
	}
	return []byte(u.UCUM()), nil
}

// UnmarshalText reads a UCUM code as [ParseUCUM] does.
func (u *Unit) UnmarshalText(text []byte) error {
	unit, err := ParseUCUM(string(text))
	if err != nil {
		return err
	}
	*u = unit
	return nil
}

// facts returns the row of a unit; an invalid one has a name and no factor.
func (u Unit) facts() unitFacts {
	if !u.IsValid() {
		const unknown = "unknown unit"
		return unitFacts{ucum: unknown, symbol: unknown, name: unknown}
	}
	return units[u]
}
