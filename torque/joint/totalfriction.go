package joint

import (
	"math"

	"github.com/tightwright/tightwright/torque"
)

// TotalFriction returns µ_tot from a torque and the preload measured with it:
//
//	µ_tot = (T/F − P/2π) / (0.577·d2 + 0.5·D_b)    ISO 16047 (from memory)
//
// with D_b the mean diameter under the head; 0.577 is 1/(2·cos 30°). It stands
// for both coefficients and is true only where they are about equal. A torque
// too small to have raised that preload gives a [FieldError].
func TotalFriction(t Thread, bearing Bearing, tightening torque.Torque, preloadNewtons float64) (Friction, error) {
	in := inputs{}
	if t.IsZero() {
		in.add("thread", "required", "must be given")
	}
	bearing.check(&in)
	in.above("torque_newton_meters", tightening.NewtonMeters(), largestTorque)
	in.above("preload_newtons", preloadNewtons, largestForceNewtons)
	const operation = "total friction"
	if err := in.err(operation); err != nil {
		return Friction{}, err
	}
	overMM := 1000 * tightening.NewtonMeters() / preloadNewtons
	mu := totalFriction(overMM, t.Screw(), bearing.MeanDiameterMM())
	f, err := NewFriction(mu)
	if err != nil {
		in.keep(err)
	}
	return f, in.err(operation)
}

func totalFriction(overMM float64, s Screw, bearingMM float64) float64 {
	arm := s.PitchDiameterMM/(2*math.Cos(s.FlankHalfAngleRad)) + bearingMM/2
	return (overMM - s.LeadMM/(2*math.Pi)) / arm
}
