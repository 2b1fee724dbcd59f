package joint

import (
	"fmt"
	"math"

	"github.com/tightwright/tightwright/torque"
)

// A SprocketStack is a sprocket, or a carrier of several, on the splined body of
// a hub under a lockring. Crank torque and teeth must be given; a zero field of
// the others takes its default, which the result lists as assumed. A torque of 0
// on the lockring is a slack lockring.
//
// The model, derived here: the lockring presses the stack together, so part of
// the torque goes through the faces by friction; the rest bears on the flanks of
// the splines over the engaged width.
//
//	F   = T_L / (P/2π + µ·d2/(2·cos 30°) + µ·D_Km/2)   lockring, linear form
//	T_f = µ_s·F·r_f                                    each face
//	p   = max(0, T_s − n_f·T_f) / (n·φ·h·t·r_m)        mean flank pressure
//
// p is compared with the limiting surface pressure of the body (VDI 2230).
type SprocketStack struct {
	CrankTorque    torque.Torque
	CrankSpread    Band // factors on the crank torque; default 0.75, 1, 1.3
	ChainringTeeth int
	SprocketTeeth  int
	// WidthMM is the engaged width t: about 1.6 for one loose sprocket, 9 for a
	// carrier of three. Default 1.6.
	WidthMM float64

	LockringTorque   torque.Torque
	LockringSpread   float64  // share either way; default 0.10
	Lockring         Thread   // default M30.6x1
	LockringSeatMM   float64  // mean diameter under its flange; default 34
	LockringFriction Friction // default 0.15 (0.10 to 0.22)

	Splines       int     // n; default 9
	SplineShare   Band    // φ, the share of splines that carry; default 0.5, 0.75, 1
	FlankHeightMM Band    // h; default 0.9, 1.2, 1.6
	FlankRadiusMM float64 // r_m; default 16.8

	FaceRadiusMM float64  // r_f; default 18.5
	FaceFriction Friction // µ_s; default 0.15 (0.08 to 0.25)
	Faces        int      // n_f, 1 or 2; default 2

	Body Material // zero: the pressure is compared with nothing
}

// A fallback is a default for a plain number.
func fallback(x *float64, value float64, a *Assumptions, assumed Assumption) {
	if *x == 0 {
		*x = value
		*a = a.with(assumed, true)
	}
}

func fallbackBand(b *Band, value Band, a *Assumptions, assumed Assumption) {
	if b.IsZero() {
		*b = value
		*a = a.with(assumed, true)
	}
}

func fallbackFriction(f *Friction, value Band, a *Assumptions, assumed Assumption) {
	if !f.IsKnown() {
		f.mu = value
		*a = a.with(assumed, true)
	}
}

// lockringThread is M30.6x1, from memory.
var lockringThread = Thread{diameter: Ratio{153, 5}, pitch: Ratio{1, 1}}

func (s *SprocketStack) fill() Assumptions {
	a := Assumptions(0).with(AssumedLikelyRange, true)
	fallbackBand(&s.CrankSpread, Band{0.75, 1, 1.3}, &a, AssumedCrankSpread)
	fallback(&s.WidthMM, 1.6, &a, AssumedWidth)
	if s.LockringTorque > 0 {
		s.fillLockring(&a)
	}
	if s.Splines == 0 {
		s.Splines, a = 9, a.with(AssumedSplineCount, true)
	}
	fallbackBand(&s.SplineShare, Band{0.5, 0.75, 1}, &a, AssumedSplineShare)
	fallbackBand(&s.FlankHeightMM, Band{0.9, 1.2, 1.6}, &a, AssumedSplineHeight)
	fallback(&s.FlankRadiusMM, 16.8, &a, AssumedSplineRadius)
	fallback(&s.FaceRadiusMM, 18.5, &a, AssumedFaceRadius)
	fallbackFriction(&s.FaceFriction, Band{0.08, 0.15, 0.25}, &a, AssumedFaceFriction)
	if s.Faces == 0 {
		s.Faces, a = 2, a.with(AssumedTwoFaces, true)
	}
	return a
}

func (s *SprocketStack) fillLockring(a *Assumptions) {
	fallback(&s.LockringSpread, 0.1, a, AssumedLockringSpread)
	if s.Lockring.IsZero() {
		s.Lockring, *a = lockringThread, a.with(AssumedLockring, true)
	}
	fallback(&s.LockringSeatMM, 34, a, AssumedLockringSeat)
	fallbackFriction(&s.LockringFriction, Band{0.10, 0.15, 0.22}, a, AssumedLockringFriction)
}

func (s *SprocketStack) check() error {
	in := inputs{}
	in.above("crank_newton_meters", s.CrankTorque.NewtonMeters(), largestTorque)
	in.band("crank_spread", s.CrankSpread, 5)
	in.within("chainring_teeth", float64(s.ChainringTeeth), 5, 200)
	in.within("sprocket_teeth", float64(s.SprocketTeeth), 5, 200)
	in.above("width_mm", s.WidthMM, 100)
	in.within("lockring_newton_meters", s.LockringTorque.NewtonMeters(), 0, largestTorque)
	in.within("lockring_spread", s.LockringSpread, 0, 0.5)
	in.within("lockring_seat_mm", s.LockringSeatMM, 0, largestDiameterMM)
	in.within("splines", float64(s.Splines), 1, 100)
	in.band("spline_share", s.SplineShare, 1)
	in.band("flank_height_mm", s.FlankHeightMM, 20)
	in.above("flank_radius_mm", s.FlankRadiusMM, 200)
	in.above("face_radius_mm", s.FaceRadiusMM, 200)
	if s.Faces < 1 || s.Faces > 2 {
		in.add("faces", "range", fmt.Sprintf("%d is neither 1 nor 2", s.Faces))
	}
	return in.err("sprocket stack")
}

// splineInputs are the uncertain inputs, in the order of the arrays below.
const (
	crankFactor = iota
	lockringFactor
	lockringMu
	faceMu
	splineShare
	flankHeight
	splineInputCount
)

// ranges returns each uncertain input with its range.
func (s *SprocketStack) ranges() [splineInputCount]Band {
	slack := s.LockringSpread
	return [splineInputCount]Band{
		crankFactor:    s.CrankSpread,
		lockringFactor: {1 - slack, 1, 1 + slack},
		lockringMu:     s.LockringFriction.mu,
		faceMu:         s.FaceFriction.mu,
		splineShare:    s.SplineShare,
		flankHeight:    s.FlankHeightMM,
	}
}

// splineOutputs are what the model gives, in the order of the arrays below.
const (
	sprocketTorque = iota
	lockringPull
	faceTorque
	flankTorque
	flankPressure
	splineCapacity
	splineOutputCount
)

// model works out everything for one choice of the uncertain inputs.
func (s *SprocketStack) model(x [splineInputCount]float64, limitMPa float64) (out [splineOutputCount]float64) {
	out[sprocketTorque] = x[crankFactor] * SprocketNewtonMeters(s.CrankTorque, s.ChainringTeeth, s.SprocketTeeth)
	if s.LockringTorque > 0 {
		arm := s.Lockring.Screw().linearMM(x[lockringMu]) + s.LockringSeatMM/2*x[lockringMu]
		out[lockringPull] = 1000 * s.LockringTorque.NewtonMeters() * x[lockringFactor] / arm
	}
	out[faceTorque] = x[faceMu] * out[lockringPull] * s.FaceRadiusMM / 1000
	carried := float64(s.Faces) * out[faceTorque]
	out[flankTorque] = math.Max(0, out[sprocketTorque]-carried)
	// N·m of flank torque for each MPa of flank pressure
	flank := float64(s.Splines) * x[splineShare] * x[flankHeight] * s.WidthMM * s.FlankRadiusMM / 1000
	out[flankPressure] = out[flankTorque] / flank
	out[splineCapacity] = limitMPa*flank + carried
	return out
}
