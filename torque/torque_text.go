package torque

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// nanoPlaces is the number of decimals of a newton meter that Torque holds.
const nanoPlaces = 9

// String returns the exact torque in newton meters with its unit, "5 N·m" or
// "0.000000001 N·m", without trailing zeros.
func (t Torque) String() string {
	var room [32]byte // the longest is 24 bytes
	text := append(t.appendDecimal(room[:0]), ' ')
	return string(append(text, NewtonMeters.Symbol()...))
}

// Format implements [fmt.Formatter].
//
//	%v %s    5.25 N·m     exact, with the unit
//	%.1v     5.2 N·m      that many decimals, half to even on the digits
//	%q       "5.25 N·m"   quoted
//	%f %.1f  5.25  5.2    the number of newton meters alone, same rounding
//	%d       5250000000   whole nanonewton meters
//
// The flags + (sign always), - (left-justify), 0 (pad numbers with zeros) and
// space, and a width in characters work as for numbers. Any other verb prints
// the usual bad-verb text.
func (t Torque) Format(state fmt.State, verb rune) {
	switch verb {
	case 'd':
		fmt.Fprintf(state, fmt.FormatString(state, verb), int64(t))
	case 'v', 's':
		pad(state, t.number(state)+" "+NewtonMeters.Symbol(), false)
	case 'q':
		pad(state, strconv.Quote(t.number(state)+" "+NewtonMeters.Symbol()), false)
	case 'f', 'F':
		pad(state, t.number(state), true)
	default:
		fmt.Fprintf(state, "%%!%c(torque.Torque=%s)", verb, t.String())
	}
}

// number is the decimal text asked for by a precision and the sign flags.
func (t Torque) number(state fmt.State) string {
	text := t.decimal()
	if places, given := state.Precision(); given {
		text = newExact(t.Rat(), NewtonMeters).RoundPlaces(places)
	}
	switch {
	case strings.HasPrefix(text, "-"):
		return text
	case state.Flag('+'):
		return "+" + text
	case state.Flag(' '):
		return " " + text
	}
	return text
}

// pad writes a text in the width asked for, counted in characters.
func pad(state fmt.State, text string, numeric bool) {
	width, _ := state.Width()
	missing := max(0, width-utf8.RuneCountInString(text))
	switch {
	case state.Flag('-'):
		text += strings.Repeat(" ", missing)
	case numeric && state.Flag('0'):
		sign := len(text) - len(strings.TrimLeft(text, "+- "))
		text = text[:sign] + strings.Repeat("0", missing) + text[sign:]
	default:
		text = strings.Repeat(" ", missing) + text
	}
	fmt.Fprint(state, text)
}

// decimal is the shortest exact decimal in newton meters.
func (t Torque) decimal() string {
	var room [32]byte
	return string(t.appendDecimal(room[:0]))
}

func (t Torque) appendDecimal(text []byte) []byte {
	magnitude := uint64(t)
	if t < 0 {
		text, magnitude = append(text, '-'), -magnitude
	}
	text = strconv.AppendUint(text, magnitude/uint64(NewtonMeter), 10)
	rest := magnitude % uint64(NewtonMeter)
	if rest == 0 {
		return text
	}
	text = append(text, '.')
	for place := uint64(NewtonMeter) / 10; rest > 0; place /= 10 {
		text = append(text, '0'+byte(rest/place))
		rest %= place
	}
	return text
}

// MarshalText returns the exact torque with its UCUM unit, "5 N.m". A torque
// beyond ±[MaxWire] could not be read back and is refused. JSON uses the same
// text.
func (t Torque) MarshalText() ([]byte, error) {
	if !t.inWireRange() {
		return nil, fmt.Errorf("write torque %v: %w", t, ErrOutOfRange)
	}
	return []byte(t.decimal() + " " + NewtonMeters.UCUM()), nil
}

// UnmarshalText reads what [Torque.MarshalText] writes: a decimal with a point
// and at most nine decimals, one space, N.m. Nothing is rounded, so a text
// that a Torque cannot hold exactly is refused.
func (t *Torque) UnmarshalText(text []byte) error {
	digits, code, found := strings.Cut(string(text), " ")
	if !found || code != NewtonMeters.UCUM() {
		return fmt.Errorf("read torque %q: want a decimal, one space and N.m, as in %q", text, "5 N.m")
	}
	figure, err := ParseFigure(digits, NewtonMeters)
	if err != nil {
		return fmt.Errorf("read torque %q: %w", text, err)
	}
	if figure.Places() > nanoPlaces {
		return fmt.Errorf("read torque %q: more than nine decimals", text)
	}
	value, err := figure.Torque()
	if err != nil {
		return fmt.Errorf("read torque %q: %w", text, err)
	}
	*t = value
	return nil
}

// Parse reads a decimal figure and a unit that [ParseUnit] knows, as in
// "5 N·m", "5 N.m" or "44 lbf·in", and returns the nearest Torque, ties to
// even. For what is stamped on parts use [ParseMarking], to keep a figure as
// written use [ParseFigure].
func Parse(text string) (Torque, error) {
	trimmed := strings.TrimSpace(text)
	end := strings.IndexFunc(trimmed, func(r rune) bool {
		return !unicode.IsDigit(r) && !strings.ContainsRune("+-.,", r)
	})
	if end < 0 {
		return 0, fmt.Errorf("parse torque %q: %w", text, errNoUnit)
	}
	unit, err := ParseUnit(strings.TrimSpace(trimmed[end:]))
	if err != nil {
		return 0, fmt.Errorf("parse torque %q: %w", text, err)
	}
	figure, err := ParseFigure(trimmed[:end], unit)
	if err != nil {
		return 0, fmt.Errorf("parse torque %q: %w", text, err)
	}
	value, err := figure.Torque()
	if err != nil {
		return 0, fmt.Errorf("parse torque %q: %w", text, err)
	}
	return value, nil
}
