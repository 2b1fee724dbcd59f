package torque

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// force and length are the two halves of a unit of torque.
type force uint8

const (
	noForce force = iota
	newton
	millinewton
	centinewton
	decanewton
	kilonewton
	poundForce
	ounceForce
	gramForce
	kilogramForce
)

type length uint8

const (
	noLength length = iota
	meter
	centimeter
	millimeter
	inch
	foot
)

// product is a force times a length, in either order as written.
type product struct {
	force  force
	length length
}

// unit returns the product as one of the units here.
func (p product) unit() (Unit, bool) {
	switch p {
	case product{newton, meter}:
		return NewtonMeters, true
	case product{newton, centimeter}:
		return NewtonCentimeters, true
	case product{newton, millimeter}:
		return NewtonMillimeters, true
	case product{millinewton, meter}:
		return MillinewtonMeters, true
	case product{centinewton, meter}:
		return CentinewtonMeters, true
	case product{decanewton, meter}:
		return DecanewtonMeters, true
	case product{kilonewton, meter}:
		return KilonewtonMeters, true
	case product{poundForce, inch}:
		return PoundForceInches, true
	case product{poundForce, foot}:
		return PoundForceFeet, true
	case product{ounceForce, inch}:
		return OunceForceInches, true
	case product{gramForce, centimeter}:
		return GramForceCentimeters, true
	case product{kilogramForce, centimeter}:
		return KilogramForceCentimeters, true
	case product{kilogramForce, meter}:
		return KilogramForceMeters, true
	}
	return 0, false
}

// unitPart is a force, a length or a unit of another quantity.
type unitPart struct {
	force    force
	length   length
	script   alphabet
	capital  bool   // in capitals: a length M, CM, MM or a force such as KGF
	warning  warned // what to say when it is used
	refusal  string // reason why it cannot be used
	otherQty bool   // a unit, but of no torque: psi, bar, J
}

func (u unitPart) known() bool {
	return u.force != noForce || u.length != noLength || u.refusal != "" || u.otherQty
}

// partOf looks a word up as half of a unit. Case matters where it changes the
// meaning: mN is a millinewton, MN a meganewton, and N·M nothing sure.
func partOf(text string, allCapitals bool) unitPart {
	first, _ := utf8.DecodeRuneInString(text)
	script := alphabetOf(first)
	part := exactPart(text)
	if !part.known() && allCapitals {
		part = capitalPart(text)
	}
	if !part.known() {
		var buffer [maxWordBytes]byte
		part = foldedPart(string(lowered(&buffer, text)))
		part.capital = part.force != noForce && isUpper(text)
	}
	if strings.HasPrefix(text, "Ib") { // capital i for small L
		part.refusal = ReasonMixedScript
	}
	part.script = script
	return part
}

func isUpper(text string) bool {
	for _, r := range text {
		if unicode.IsLower(r) {
			return false
		}
	}
	return true
}

// exactPart holds the spellings in which case carries the meaning.
func exactPart(text string) unitPart {
	switch text {
	case "N", "Н":
		return unitPart{force: newton}
	case "mN":
		return unitPart{force: millinewton}
	case "cN":
		return unitPart{force: centinewton}
	case "daN":
		return unitPart{force: decanewton}
	case "kN":
		return unitPart{force: kilonewton}
	case "m", "м", "米":
		return unitPart{length: meter}
	case "cm", "см", "厘米":
		return unitPart{length: centimeter}
	case "mm", "мм", "毫米":
		return unitPart{length: millimeter}
	case "牛", "牛顿":
		return unitPart{force: newton}
	case "gf":
		return unitPart{force: gramForce}
	case "g":
		return unitPart{force: gramForce, warning: warnedKilogram}
	case "n", "н": // nm, n.m: nanometer, nautical mile or a misspelt newton meter
		return unitPart{force: newton, refusal: ReasonAmbiguousUnit}
	case "M", "М":
		return unitPart{length: meter, capital: true}
	case "CM", "СМ":
		return unitPart{length: centimeter, capital: true}
	case "MM", "ММ":
		return unitPart{length: millimeter, capital: true}
	}
	return unitPart{}
}

// capitalPart holds spellings read only where every letter is a capital.
func capitalPart(text string) unitPart {
	switch text {
	case "CN":
		return unitPart{force: centinewton, capital: true}
	case "DAN":
		return unitPart{force: decanewton, capital: true}
	case "KN":
		return unitPart{force: kilonewton, capital: true}
	case "GF":
		return unitPart{force: gramForce, capital: true}
	case "G":
		return unitPart{force: gramForce, capital: true, warning: warnedKilogram}
	case "MN": // milli or mega
		return unitPart{force: millinewton, capital: true, refusal: ReasonAmbiguousUnit}
	}
	return unitPart{}
}

// foldedPart holds the spellings that mean the same in any case.
func foldedPart(lower string) unitPart {
	switch lower {
	case "newton", "newtons":
		return unitPart{force: newton}
	case "metre", "metres", "meter", "meters":
		return unitPart{length: meter}
	case "centimetre", "centimetres", "centimeter", "centimeters":
		return unitPart{length: centimeter}
	case "in", "ins", "inch", "inches":
		return unitPart{length: inch}
	case "ft", "foot", "feet":
		return unitPart{length: foot}
	case "lb", "lbs", "lbf", "lbsf", "pound", "pounds":
		return unitPart{force: poundForce}
	case "oz", "ozs", "ozf", "ounce", "ounces":
		return unitPart{force: ounceForce}
	case "kgf", "кгс":
		return unitPart{force: kilogramForce}
	case "kg", "kgs", "кг", "kilogram", "kilograms":
		return unitPart{force: kilogramForce, warning: warnedKilogram}
	case "kp":
		return unitPart{force: kilogramForce, warning: warnedOldUnit}
	}
	return unitPart{otherQty: isOtherQuantity(lower)}
}

// isOtherQuantity knows units that turn up where a torque is expected.
func isOtherQuantity(lower string) bool {
	switch lower {
	case "psi", "ksi", "bar", "mbar", "pa", "kpa", "mpa", "hpa", "gpa", "atm",
		"j", "kj", "mj", "joule", "joules", "w", "kw", "hp", "ps", "rpm",
		"km", "dm", "µm", "μm", "yd", "mi", "mil", "s", "ms", "h", "v", "hz":
		return true
	}
	return false
}

// splitPart reads a word that holds both halves, such as Nm, kgfcm or inlbs.
func (p *parser) splitPart(text string) (Unit, warned, string) {
	refusal := ReasonUnknownUnit
	for at := range text {
		if at == 0 {
			continue
		}
		first, second := partOf(text[:at], p.allCapitals), partOf(text[at:], p.allCapitals)
		unit, warnings, reason := p.join(first, second)
		switch reason {
		case "":
			return unit, warnings, ""
		case ReasonAmbiguousUnit, ReasonMixedScript:
			refusal = reason
		}
	}
	return 0, 0, refusal
}

// join makes a unit of two halves, in either order for all but newtons: m·N is
// too near to mN.
func (p *parser) join(first, second unitPart) (Unit, warned, string) {
	strength, arm := first, second
	if first.length != noLength {
		strength, arm = second, first
	}
	isNewton := strength.force >= newton && strength.force <= kilonewton
	switch {
	case first.script != second.script, first.refusal == ReasonMixedScript, second.refusal == ReasonMixedScript:
		return 0, 0, ReasonMixedScript
	case strength.force == noForce || arm.length == noLength:
		return 0, 0, ReasonUnknownUnit
	case strength.refusal != "":
		return 0, 0, strength.refusal
	case isNewton && first.length != noLength:
		return 0, 0, ReasonAmbiguousUnit
	case arm.capital && !p.allCapitals && (isNewton || !strength.capital):
		return 0, 0, ReasonAmbiguousUnit
	}
	unit, known := product{strength.force, arm.length}.unit()
	if !known {
		return 0, 0, ReasonUnknownUnit
	}
	warnings := strength.warning
	if isNewton && arm.capital {
		warnings |= warnedCapitals
	}
	return unit, warnings, ""
}
