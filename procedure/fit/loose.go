package fit

import (
	"fmt"
	"math"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// The case that [LooseSprocketNote] shows. Source: common practice, no source;
// the engaged widths are typical values.
const (
	shownRiderKilogram = 90.0
	shownCrankMM       = 175.0
	shownDynamicFactor = 1.5
	shownChainring     = 34
	shownSprocket      = 25
	shownLockring      = 40 * torque.NewtonMeter
	looseWidthMM       = 1.6
	carrierWidthMM     = 9.0
	shownBody          = "AW-7075"
)

// LooseSprocketNote says what sprockets that sit on a body one by one do to a
// soft one, with the pressures that package joint works out for one stated case.
// That they mark it is common practice, no source; the figures are an
// explanation and set nothing.
func LooseSprocketNote() string {
	const plain = "Sprockets that sit on the body one by one mark a body of soft alloy; on a carrier of several they hardly do, and steel and titanium bear them. "
	loose, limit, err := shownPressure(looseWidthMM)
	if err != nil {
		return plain
	}
	carrier, _, err := shownPressure(carrierWidthMM)
	if err != nil {
		return plain
	}
	return plain + fmt.Sprintf("A rider of %g kg starting hard on %d/%d under a lockring at %g N·m presses about %.0f MPa on the splines with one loose sprocket and about %.0f MPa with a carrier; %s bears %.0f MPa. The command spline works out another case.",
		shownRiderKilogram, shownChainring, shownSprocket, shownLockring.NewtonMeters(), toTens(loose), toTens(carrier), shownBody, limit)
}

// shownPressure is the nominal pressure on the flanks and what the body bears.
func shownPressure(widthMM float64) (pressure, limit float64, err error) {
	crank, err := joint.RiderTorque(shownRiderKilogram, shownCrankMM, shownDynamicFactor)
	if err != nil {
		return 0, 0, err
	}
	body, err := joint.ParseMaterial(shownBody)
	if err != nil {
		return 0, 0, err
	}
	load, err := joint.SprocketStack{CrankTorque: crank, ChainringTeeth: shownChainring, SprocketTeeth: shownSprocket,
		WidthMM: widthMM, LockringTorque: shownLockring, Body: body}.Load()
	return load.FlankPressureMPa.Nominal, load.PressureLimitMPa, err
}

// toTens rounds: the model is no better.
func toTens(x float64) float64 { return 10 * math.Round(x/10) }
