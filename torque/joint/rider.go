package joint

import (
	"math"

	"github.com/tightwright/tightwright/torque"
)

// StandardGravity is g_n in m/s², ISO 80000-3.
const StandardGravity = 9.80665

// RiderTorque returns the torque of a rider's weight on a level crank:
// m·g·L·k, with k 1 for standing still on one pedal and about 1.5 for a hard
// standing start (common practice, no source). Mass 1 kg to 500 kg, crank 50 mm
// to 300 mm, k above 0 and at most 5; anything else gives a [FieldError].
func RiderTorque(massKG, crankMM, dynamicFactor float64) (torque.Torque, error) {
	in := inputs{}
	in.within("mass_kg", massKG, 1, 500)
	in.within("crank_mm", crankMM, 50, 300)
	in.above("dynamic_factor", dynamicFactor, 5)
	if err := in.err("rider torque"); err != nil {
		return 0, err
	}
	return torque.FromNewtonMeters(massKG * StandardGravity * crankMM / 1000 * dynamicFactor)
}

// PitchRadiusMM returns the radius on which the chain runs over a sprocket of a
// half-inch chain: 12.7/(2·sin(π/z)) mm. Fewer than 5 teeth give NaN.
func PitchRadiusMM(teeth int) float64 {
	if teeth < 5 {
		return math.NaN()
	}
	return 12.7 / (2 * math.Sin(math.Pi/float64(teeth)))
}

// ChainTensionNewtons returns the pull of the chain on a chainring: torque over
// pitch radius.
func ChainTensionNewtons(crank torque.Torque, chainringTeeth int) float64 {
	return 1000 * crank.NewtonMeters() / PitchRadiusMM(chainringTeeth)
}

// SprocketNewtonMeters returns the torque at a rear sprocket, by the ratio of
// pitch radii.
func SprocketNewtonMeters(crank torque.Torque, chainringTeeth, sprocketTeeth int) float64 {
	return crank.NewtonMeters() * PitchRadiusMM(sprocketTeeth) / PitchRadiusMM(chainringTeeth)
}

// MeanNewtonMeters returns the mean torque of a power at a cadence: P/ω.
func MeanNewtonMeters(watts, turnsPerMinute float64) float64 {
	return watts * 60 / (2 * math.Pi * turnsPerMinute)
}
