package torque

import (
	"errors"
	"fmt"
	"strings"
)

var errNoUnit = errors.New("no unit: write one, as in 5 N·m")

// ParseUCUM reads a UCUM code exactly as [Unit.UCUM] writes it. It is what
// machines send; Nm and lbf.in are no UCUM codes and are refused, with the
// code to write instead where that is clear.
func ParseUCUM(code string) (Unit, error) {
	for i := range units {
		if units[i].ucum == code {
			return Unit(i), nil
		}
	}
	if unit, err := ParseUnit(code); err == nil {
		return 0, fmt.Errorf("UCUM code %q: %w: write %s", code, ErrUnknownUnit, unit.UCUM())
	}
	return 0, fmt.Errorf("UCUM code %q: %w: accepted are %s", code, ErrUnknownUnit, listUnits(Unit.UCUM))
}

// ParseUnit reads a unit as people and machines write it: UCUM codes, the
// symbols of [Unit.Symbol], and plain forms such as Nm, lbf.in, in-lb, ft lbs
// or kgf-cm.
func ParseUnit(text string) (Unit, error) {
	for i := range units {
		if units[i].ucum == text || units[i].symbol == text || plainForm(units[i].symbol) == text {
			return Unit(i), nil
		}
	}
	if text == "" {
		return 0, errNoUnit
	}
	return 0, fmt.Errorf("unit %q: %w: accepted are %s", text, ErrUnknownUnit, listUnits(Unit.Symbol))
}

func plainForm(symbol string) string { return strings.ReplaceAll(symbol, "·", ".") }

func listUnits(spelling func(Unit) string) string {
	all := make([]string, 0, unitCount)
	for _, unit := range Units() {
		all = append(all, spelling(unit))
	}
	return strings.Join(all, ", ")
}
