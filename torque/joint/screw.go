package joint

import "math"

// A Screw is the geometry that turns a torque into a pull: lead, pitch diameter
// and half the flank angle. A [Thread] has one with a flank angle of 60°; a
// square thread has a half angle of 0, a trapezoidal one of 14.5° or 15°.
type Screw struct {
	LeadMM            float64 // advance in one turn
	PitchDiameterMM   float64
	FlankHalfAngleRad float64 // 0 square, π/6 for metric, unified and cycle threads
}

// Screw returns the geometry of t; of "no thread" the zero Screw.
func (t Thread) Screw() Screw {
	if t.IsZero() {
		return Screw{}
	}
	p := t.pitch.Float64()
	return Screw{p, t.diameter.Float64() - 3*math.Sqrt(3)/8*p, math.Pi / 6}
}

// The long form of torque and preload, VDI 2230-1:2003 with the exact sum of
// angles:
//
//	tan φ  = P/(π·d2)             lead angle
//	tan ρ′ = µ_G/cos(α/2)         friction angle on the flank
//	M_G    = F·d2/2·tan(φ + ρ′)   thread torque, tightening
//	M_GL   = F·d2/2·tan(ρ′ − φ)   thread torque, loosening
//
// The head adds F·D_Km/2·µ_K either way. All functions below return torque over
// preload, in newton millimeters per newton, which is millimeters.

// TightenMM returns the thread torque over the preload when tightening, at the
// nominal friction. It is +Inf where friction wedges the thread for good
// (φ + ρ′ of 90° or more) and NaN for unknown friction.
func (s Screw) TightenMM(f Friction) float64 { return s.tightenMM(f.mu.Nominal) }

// LoosenMM returns the thread torque over the preload when loosening, at the
// nominal friction. Below 0 the thread turns back by itself.
func (s Screw) LoosenMM(f Friction) float64 {
	mu := f.mu.Nominal
	if mu <= 0 {
		return math.NaN()
	}
	return s.PitchDiameterMM / 2 * tanSum(s.tanFriction(mu), -s.tanLead())
}

// LinearMM returns the thread torque over the preload when tightening by the
// linear form P/2π + µ·d2/(2·cos(α/2)), which VDI 2230 prints with the rounded
// 0.16·P + 0.58·d2·µ. At µ 0.24 it is 0.6 % off the exact form.
func (s Screw) LinearMM(f Friction) float64 {
	if !f.IsKnown() {
		return math.NaN()
	}
	return s.linearMM(f.mu.Nominal)
}

func (s Screw) linearMM(mu float64) float64 {
	return s.LeadMM/(2*math.Pi) + s.PitchDiameterMM/2*s.tanFriction(mu)
}

func (s Screw) tightenMM(mu float64) float64 {
	if mu <= 0 {
		return math.NaN()
	}
	return s.PitchDiameterMM / 2 * tanSum(s.tanLead(), s.tanFriction(mu))
}

func (s Screw) tanLead() float64 { return s.LeadMM / (math.Pi * s.PitchDiameterMM) }

func (s Screw) tanFriction(mu float64) float64 { return mu / math.Cos(s.FlankHalfAngleRad) }

// tanSum is tan(α + β) from tan α and tan β, without an arc tangent.
func tanSum(a, b float64) float64 {
	if a*b >= 1 {
		return math.Inf(1)
	}
	return (a + b) / (1 - a*b)
}
