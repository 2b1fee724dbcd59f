package torque

import (
	"fmt"
	"strings"
)

// errNoUnit reports that nothing stands where a unit was expected.
var errNoUnit = fmt.Errorf("%w: none is written, as in 5 N·m", ErrUnknownUnit)

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
// symbols of [Unit.Symbol], and every spelling that [ParseMarking] reads, such
// as Nm, lbf.in, lbf-in, in-lb, ft lbs or kgf-cm. It refuses nm, nM and NM,
// which can be nanometers or worse, and kg·cm, which is a mass times a length.
// Errors wrap [ErrUnknownUnit] and name what is accepted.
func ParseUnit(text string) (Unit, error) {
	for i := range units {
		if units[i].ucum == text || units[i].symbol == text {
			return Unit(i), nil
		}
	}
	if strings.TrimSpace(text) == "" {
		return 0, errNoUnit
	}
	var p parser
	if err := p.scan(text); err != nil {
		return 0, refuseUnit(text, err.Reason)
	}
	p.allCapitals = false
	unit, reason := p.unit()
	switch {
	case reason == "" && !p.at(tokenEnd):
		reason = ReasonUnknownUnit
	case reason == "" && p.warned&warnedKilogram != 0:
		return 0, fmt.Errorf("unit %s: %w: a mass times a length: write %s", quoteShort(text), ErrUnknownUnit, unit.Symbol())
	}
	if reason != "" {
		return 0, refuseUnit(text, reason)
	}
	return unit, nil
}

// refuseUnit names the reason and every unit that is accepted.
func refuseUnit(text, reason string) error {
	const also = ", also as UCUM codes or with . or - for ·"
	return fmt.Errorf("unit %s: %w: %s: accepted are %s",
		quoteShort(text), ErrUnknownUnit, reasonText(reason), listUnits(Unit.Symbol)+also)
}

// listUnits lists all units in one spelling.
func listUnits(spelling func(Unit) string) string {
	all := make([]string, 0, unitCount)
	for _, unit := range Units() {
		all = append(all, spelling(unit))
	}
	return strings.Join(all, ", ")
}
