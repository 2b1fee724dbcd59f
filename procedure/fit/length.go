package fit

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// A Length is a signed distance in nanometers, used like [time.Duration]:
// 36750 * fit.Micrometer, 3 * fit.Inch. The zero Length is no distance. The
// largest is about nine million kilometers, so sums of bicycle parts never
// overflow. Every decimal of a millimeter down to the sixth place, and every
// binary fraction of the inch down to 1/64, is held exactly.
type Length int64

// Units of length. An inch is 25.4 mm exactly (international yard and pound
// agreement of 1959; NIST SP 811:2008, B.8).
const (
	Nanometer  Length = 1
	Micrometer        = 1000 * Nanometer
	Millimeter        = 1000 * Micrometer
	Centimeter        = 10 * Millimeter
	Meter             = 1000 * Millimeter
	Inch              = 25_400_000 * Nanometer
)

// ErrLength says that a text is not a length.
var ErrLength = errors.New("not a length")

// Millimeters returns l as a number of millimeters, for arithmetic that is not
// exact anyway.
func (l Length) Millimeters() float64 { return float64(l) / float64(Millimeter) }

// FromMillimeters returns the length nearest to mm millimeters. Numbers that
// are not finite or beyond the range give 0.
func FromMillimeters(mm float64) Length {
	nm := math.RoundToEven(mm * float64(Millimeter))
	if math.IsNaN(nm) || math.Abs(nm) >= math.MaxInt64 {
		return 0
	}
	return Length(nm)
}

// Abs returns l without its sign.
func (l Length) Abs() Length { return max(l, -l) }

// hundredths rounds a computed length to 0.01 mm, finer than any bench
// instrument: more digits would promise what the figures don't hold.
func (l Length) hundredths() Length {
	const step = 10 * Micrometer
	if l < 0 {
		return -(-l).hundredths()
	}
	return (l + step/2) / step * step
}

// String writes l exactly in millimeters, without needless zeros: "36.75 mm".
func (l Length) String() string {
	var room [32]byte // the longest is 24 bytes
	text, magnitude := room[:0], uint64(l)
	if l < 0 {
		text, magnitude = append(text, '-'), -magnitude
	}
	text = strconv.AppendUint(text, magnitude/uint64(Millimeter), 10)
	rest := magnitude % uint64(Millimeter)
	if rest > 0 {
		text = append(text, '.')
	}
	for place := uint64(Millimeter) / 10; rest > 0; place /= 10 {
		text = append(text, '0'+byte(rest/place))
		rest %= place
	}
	return string(append(text, " mm"...))
}

// MarshalText writes l as [Length.String] does.
func (l Length) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads l as [ParseLength] does.
func (l *Length) UnmarshalText(text []byte) error {
	v, err := ParseLength(string(text))
	if err != nil {
		return err
	}
	*l = v
	return nil
}

// units in the order in which suffixes are tried.
var units = []struct {
	suffix string
	length Length
}{
	{"mm", Millimeter}, {"cm", Centimeter}, {"m", Meter},
	{"inches", Inch}, {"inch", Inch}, {"in", Inch}, {"″", Inch}, {`"`, Inch},
}

// lengthSigns maps what people type to the signs the parser knows.
var lengthSigns = strings.NewReplacer(",", ".", "\u00a0", " ", "\u202f", " ", "−", "-")

// ParseLength reads a number and its unit: "36.75 mm", "1.37 in", "9/16 in",
// "1-1/8 in", "41 cm". A decimal comma is read as a point; a sign may lead. The
// written figure is converted exactly and then rounded to the nanometer, ties
// to even. Errors wrap [ErrLength] and say how to write it.
func ParseLength(text string) (Length, error) {
	l, err := parseLength(text)
	if err != nil {
		if len(text) > 60 {
			text = strings.ToValidUTF8(text[:60], "") + "…"
		}
		return 0, fmt.Errorf("parse length %q: %w: %s", text, ErrLength, err.Error())
	}
	return l, nil
}

func parseLength(text string) (Length, error) {
	if len(text) > 60 {
		return 0, errors.New("too long")
	}
	if number, ok := strings.CutSuffix(text, " mm"); ok {
		if l, ok := exactLength(number, Millimeter); ok {
			return l, nil // as a sheet has it
		}
	}
	plain := strings.ToLower(strings.TrimSpace(lengthSigns.Replace(text)))
	for _, u := range units {
		if number, ok := strings.CutSuffix(plain, u.suffix); ok {
			return scale(strings.TrimSpace(number), u.length)
		}
	}
	return 0, errors.New(`no unit; write it like "36.75 mm" or "1.37 in"`)
}

// exactLength reads a plain decimal of at most nine digits that is a whole
// number of nanometers; anything else is left to the rational.
func exactLength(number string, unit Length) (Length, bool) {
	whole, fraction, hasPoint := strings.Cut(number, ".")
	if whole == "" || hasPoint && fraction == "" || len(whole)+len(fraction) > 9 {
		return 0, false
	}
	var n, power Length = 0, 1
	for _, c := range []byte(whole + fraction) {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + Length(c-'0')
	}
	for range fraction {
		power *= 10
	}
	if n > maxExact/unit || n*unit%power != 0 {
		return 0, false
	}
	return n * unit / power, true
}

// maxExact keeps the product of digits and unit inside a Length.
const maxExact = Length(1) << 62

// scale returns number × unit, rounded to the nanometer.
func scale(number string, unit Length) (Length, error) {
	if l, ok := exactLength(number, unit); ok {
		return l, nil
	}
	body, isNegative := strings.CutPrefix(number, "-")
	if !isNegative {
		body = strings.TrimPrefix(body, "+")
	}
	r, err := parseRat(body)
	if err != nil {
		return 0, err
	}
	if isNegative {
		r.Neg(r)
	}
	return roundToNanometer(r.Mul(r, big.NewRat(int64(unit), 1)))
}

// parseRat reads "1.37", "9/16", "1-1/8" and "1 1/8".
func parseRat(text string) (*big.Rat, error) {
	whole, fraction := "0", text
	if at := strings.IndexAny(text, " -"); at > 0 && strings.Contains(text, "/") {
		whole, fraction = text[:at], text[at+1:]
	}
	if strings.Trim(whole, "0123456789") != "" || strings.Trim(fraction, "0123456789./") != "" {
		return nil, fmt.Errorf("%q is not a number", text)
	}
	a, ok1 := new(big.Rat).SetString(whole)
	b, ok2 := new(big.Rat).SetString(fraction)
	if !ok1 || !ok2 || strings.HasSuffix(fraction, ".") || strings.HasPrefix(fraction, ".") {
		return nil, fmt.Errorf("%q is not a number", text)
	}
	return a.Add(a, b), nil
}

func roundToNanometer(r *big.Rat) (Length, error) {
	// Twice the value, floored, tells the three cases apart exactly.
	floor := new(big.Int).Div(r.Num(), r.Denom())
	rest := new(big.Rat).Sub(r, new(big.Rat).SetInt(floor))
	half := rest.Cmp(big.NewRat(1, 2))
	if half > 0 || half == 0 && floor.Bit(0) == 1 {
		floor.Add(floor, big.NewInt(1))
	}
	if !floor.IsInt64() {
		return 0, errors.New("out of range")
	}
	return Length(floor.Int64()), nil
}
