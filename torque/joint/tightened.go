package joint

import (
	"math"

	"github.com/tightwright/tightwright/torque"
)

// Tightened is what a torque does to a bolt. Forces are in newtons, lengths in
// millimeters, stresses and pressures in megapascals, torques in newton meters.
// Figures without a band hold at nominal friction and an exact wrench.
type Tightened struct {
	Thread Thread `json:"thread"`
	Class  Class  `json:"class,omitzero"`

	TorqueNewtonMeters float64 `json:"torque_newton_meters"`
	PreloadNewtons     float64 `json:"preload_newtons"`
	PreloadBandNewtons Band    `json:"preload_band_newtons"`
	// PreloadFigures is how many figures of the preload its scatter deserves.
	PreloadFigures int `json:"preload_figures"`

	StressAreaMM2     float64 `json:"stress_area_mm2"`
	PitchDiameterMM   float64 `json:"pitch_diameter_mm"`
	BearingDiameterMM float64 `json:"bearing_diameter_mm"` // D_Km
	// ProofLoadNewtons is 0 where no class is known or its standard states none.
	ProofLoadNewtons float64 `json:"proof_load_newtons,omitempty"`
	YieldLoadNewtons float64 `json:"yield_load_newtons,omitempty"`

	// Where the torque goes: into the pull, the flanks and under the head.
	PitchNewtonMeters  float64 `json:"pitch_newton_meters"`
	ThreadNewtonMeters float64 `json:"thread_newton_meters"`
	HeadNewtonMeters   float64 `json:"head_newton_meters"`

	// LooseningNewtonMeters undoes the bolt at once, with the same friction;
	// below 0 it undoes itself.
	LooseningNewtonMeters float64 `json:"loosening_newton_meters"`
	// IsSelfLocking holds at the low end of the friction.
	IsSelfLocking bool `json:"is_self_locking"`

	NutFactor     NutFactor `json:"nut_factor"`     // K of this joint
	TotalFriction Friction  `json:"total_friction"` // µ_tot, ISO 16047

	TensileStressMPa float64 `json:"tensile_stress_megapascals"`
	// YieldUtilization is tension with twist over the yield; zero without a class.
	YieldUtilization Band `json:"yield_utilization,omitzero"`

	HeadPressureMPa      Band     `json:"head_pressure_megapascals"`
	HeadPressureLimitMPa float64  `json:"head_pressure_limit_megapascals,omitempty"`
	HeadPressureStanding Standing `json:"head_pressure_standing,omitzero"`

	Assumptions Assumptions `json:"assumptions"`
	Warnings    Warnings    `json:"warnings"`
	Use         Explanation `json:"use"`
}

// Torque returns the torque in whole nanonewton meters.
func (t Tightened) Torque() torque.Torque {
	value, err := torque.FromNewtonMeters(t.TorqueNewtonMeters)
	if err != nil {
		return 0 // cannot happen: every way here checks the range
	}
	return value
}

func (s *setup) tightened(newtons, newtonMeters float64) Tightened {
	p := &s.profile
	t := Tightened{
		Thread:             s.bolt.Thread,
		Class:              s.bolt.Class,
		TorqueNewtonMeters: newtonMeters,
		PreloadNewtons:     newtons,
		PreloadBandNewtons: s.band(newtons, newtonMeters),
		StressAreaMM2:      p.StressAreaMM2,
		PitchDiameterMM:    p.PitchDiameterMM,
		BearingDiameterMM:  s.bolt.Bearing.MeanDiameterMM(),
		TensileStressMPa:   newtons / p.StressAreaMM2,
		IsSelfLocking:      s.screw.tanFriction(s.thread.Low) > s.screw.tanLead(),
		Assumptions:        s.assumed,
	}
	t.PreloadFigures = FiguresDeserved(t.PreloadBandNewtons)
	s.splitTorque(&t)
	s.factors(&t)
	s.useStrength(&t)
	s.pressHead(&t)
	t.warn()
	return t
}

func (s *setup) splitTorque(t *Tightened) {
	perMeter := t.PreloadNewtons / 1000
	t.PitchNewtonMeters = perMeter * s.screw.LeadMM / (2 * math.Pi)
	t.ThreadNewtonMeters = perMeter*s.screw.tightenMM(s.thread.Nominal) - t.PitchNewtonMeters
	t.HeadNewtonMeters = perMeter * s.headArmMM * s.head.Nominal
	loosen := s.screw.LoosenMM(Friction{s.thread})
	t.LooseningNewtonMeters = perMeter*loosen + t.HeadNewtonMeters
}

// factors works out the two lumped figures of this very joint, K and µ_tot.
func (s *setup) factors(t *Tightened) {
	d := s.bolt.Thread.diameter.Float64()
	over := Band{
		s.torqueOverPreloadMM(s.thread.Low, s.head.Low),
		s.torqueOverPreloadMM(s.thread.Nominal, s.head.Nominal),
		s.torqueOverPreloadMM(s.thread.High, s.head.High),
	}
	if !s.hasFrictionBand() {
		over = Exactly(over.Nominal).quotient(Spread(1, TorqueWrenchScatter))
	}
	t.NutFactor = NutFactor{over.Times(1 / d)}
	t.TotalFriction = Friction{Band{s.total(over.Low), s.total(over.Nominal), s.total(over.High)}}
}

func (s *setup) total(overMM float64) float64 {
	return totalFriction(overMM, s.screw, s.bolt.Bearing.MeanDiameterMM())
}

func (s *setup) useStrength(t *Tightened) {
	if !s.hasStrength {
		return
	}
	area := threeFigures(t.StressAreaMM2)
	t.ProofLoadNewtons = area * s.strength.proof
	t.YieldLoadNewtons = area * s.strength.yield
	yield := t.StressAreaMM2 * s.strength.yield
	use := t.PreloadNewtons * s.yieldRaise(s.thread.Nominal) / yield
	t.YieldUtilization = Band{
		min(use, t.PreloadBandNewtons.Low*s.yieldRaise(s.thread.High)/yield), use,
		max(use, t.PreloadBandNewtons.High*s.yieldRaise(s.thread.Low)/yield),
	}
}

func (s *setup) pressHead(t *Tightened) {
	t.HeadPressureMPa = t.PreloadBandNewtons.Times(1 / s.bolt.Bearing.AreaMM2())
	t.HeadPressureLimitMPa = s.bolt.Seat.LimitingPressureMPa()
	t.HeadPressureStanding = s.bolt.Seat.standing(t.HeadPressureMPa)
}

func (t *Tightened) warn() {
	use, proof := t.YieldUtilization, t.ProofLoadNewtons
	t.Warnings = t.Warnings.
		with(MoreFiguresThanScatter, t.PreloadFigures < 15).
		with(Yields, use.Nominal > 1).
		with(MayYield, use.Nominal <= 1 && use.High > 1).
		with(OverProof, proof > 0 && t.PreloadBandNewtons.High > proof).
		with(MayCrushSeat, t.HeadPressureStanding > Below).
		with(NotSelfLocking, !t.IsSelfLocking)
}
