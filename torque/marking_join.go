package torque

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

// splitPart reads a word that holds both halves, such as Nm, kgfcm or inlbs, by
// trying every place to cut it. No word can be cut into two different units:
// the halves are different in all of them.
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
