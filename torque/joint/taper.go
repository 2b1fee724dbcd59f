package joint

import (
	"math"

	"github.com/tightwright/tightwright/torque"
)

// A Taper is a square-taper axle in the arm of a crank, pulled on by a bolt. The
// preload must be given; a zero field of the others takes its default, which the
// result lists as assumed.
//
// Source: equilibrium of a wedge, derived here; the geometry of the flats is a
// typical value and wants measuring.
type Taper struct {
	BoltPreloadNewtons Band
	Friction           Friction // on the flats; default 0.15 (0.10 to 0.20)
	HalfAngleRad       float64  // lean of a flat to the axle; default 2°
	FlatLengthMM       float64  // along the axle; default 14
	FlatWidthMM        float64  // across; default 11
	// CrankTorque, where given, is compared with what keeps the flats in full
	// contact.
	CrankTorque torque.Torque
	Arm         Material // of the bore; zero: the pressure is compared with nothing
}

// A TaperSeat is how the arm sits. Bands are corners.
type TaperSeat struct {
	// FlatForceNewtons is the force on each of the four flats:
	// F/(4·(sin β + µ·cos β)).
	FlatForceNewtons Band `json:"flat_force_newtons"`
	FlatPressureMPa  Band `json:"flat_pressure_megapascals"`
	// EdgePressureMPa is what the crank torque adds at one edge of a flat and
	// takes off at the other: 1.5·T/(w²·L).
	EdgePressureMPa float64 `json:"edge_pressure_megapascals,omitempty"`
	// GapTorqueNewtonMeters is the crank torque at which one edge starts to lift.
	GapTorqueNewtonMeters Band     `json:"gap_torque_newton_meters"`
	Contact               Standing `json:"contact,omitzero"` // of the seat against the edge
	Verdict               string   `json:"verdict,omitempty"`
	PressureLimitMPa      float64  `json:"pressure_limit_megapascals,omitempty"`
	PressureStanding      Standing `json:"pressure_standing,omitzero"`

	Assumptions Assumptions `json:"assumptions"`
	Warnings    Warnings    `json:"warnings"`
	Use         Explanation `json:"use"`
}

// Seat works out how the arm sits on its taper.
//
// Errors: [FieldError].
func (t Taper) Seat() (TaperSeat, error) {
	t, assumed := t.filled()
	in := inputs{}
	in.band("bolt_preload_newtons", t.BoltPreloadNewtons, largestForceNewtons)
	in.above("half_angle_rad", t.HalfAngleRad, math.Pi/4)
	in.above("flat_length_mm", t.FlatLengthMM, 100)
	in.above("flat_width_mm", t.FlatWidthMM, 100)
	in.within("crank_newton_meters", t.CrankTorque.NewtonMeters(), 0, largestTorque)
	if err := in.err("square taper"); err != nil {
		return TaperSeat{}, err
	}
	s := TaperSeat{Assumptions: assumed}
	s.FlatForceNewtons = t.BoltPreloadNewtons.quotient(t.wedge())
	s.FlatPressureMPa = s.FlatForceNewtons.Times(1 / (t.FlatLengthMM * t.FlatWidthMM))
	lever := 1500 / (t.FlatWidthMM * t.FlatWidthMM * t.FlatLengthMM) // MPa for each N·m
	s.EdgePressureMPa = lever * t.CrankTorque.NewtonMeters()
	s.GapTorqueNewtonMeters = s.FlatPressureMPa.Times(1 / lever)
	if s.EdgePressureMPa > 0 {
		s.Contact = s.FlatPressureMPa.Against(s.EdgePressureMPa)
		s.Verdict = seatVerdict(s.Contact)
	}
	s.PressureLimitMPa = t.Arm.LimitingPressureMPa()
	s.PressureStanding = t.Arm.standing(s.FlatPressureMPa)
	s.Warnings = s.Warnings.with(MayGap, s.Contact != NotCompared && s.Contact != Above).
		with(MayCrushArm, s.PressureStanding > Below)
	return s, nil
}

func (t Taper) filled() (Taper, Assumptions) {
	var a Assumptions
	if !t.Friction.IsKnown() {
		t.Friction, a = Friction{Band{0.10, 0.15, 0.20}}, a.with(AssumedTaperFriction, true)
	}
	if t.HalfAngleRad == 0 {
		t.HalfAngleRad, a = 2*math.Pi/180, a.with(AssumedTaperAngle, true)
	}
	if t.FlatLengthMM == 0 {
		t.FlatLengthMM, a = 14, a.with(AssumedTaperFlat, true)
	}
	if t.FlatWidthMM == 0 {
		t.FlatWidthMM, a = 11, a.with(AssumedTaperFlat, true)
	}
	return t, a.with(AssumedLinearFlank, t.CrankTorque > 0)
}

// wedge is the axial pull over the force on one flat: 4·(sin β + µ·cos β).
func (t Taper) wedge() Band {
	sin, cos := math.Sincos(t.HalfAngleRad)
	m := t.Friction.mu
	return Band{4 * (sin + m.Low*cos), 4 * (sin + m.Nominal*cos), 4 * (sin + m.High*cos)}
}

func seatVerdict(s Standing) string {
	switch s {
	case Above:
		return "full contact over the whole band"
	case AboveAtNominal:
		return "full contact at nominal, may lift at the low end"
	case BelowAtNominal, Below:
		return "one edge lifts with every stroke: fretting, rounding, a creak, and the arm works loose"
	default:
		return ""
	}
}
