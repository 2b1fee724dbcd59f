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

// known reports whether the word is any unit at all.
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

// isUpper reports whether no letter is in lower case.
func isUpper(text string) bool {
	for _, r := range text {
		if unicode.IsLower(r) {
			return false
		}
	}
	return true
}

// exactPart holds the spellings in which case carries the meaning, as UCUM and
// the SI have them: m is meter or milli, M is mega, N is newton, n is nano.
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

// foldedPart holds the spellings that mean the same in any case. A pound, an
// ounce or a kilogram stands for its force: on a part it can mean nothing else.
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

// isOtherQuantity knows units of pressure, energy, power, speed, length, time
// and so on that turn up where a torque is expected, so that the refusal can
// say so.
func isOtherQuantity(lower string) bool {
	switch lower {
	case "psi", "ksi", "bar", "mbar", "pa", "kpa", "mpa", "hpa", "gpa", "atm",
		"j", "kj", "mj", "joule", "joules", "w", "kw", "hp", "ps", "rpm",
		"km", "dm", "µm", "μm", "yd", "mi", "mil", "s", "ms", "h", "v", "hz":
		return true
	}
	return false
}
