package joint

import "math"

// A BasicProfile holds the dimensions of the 60° basic profile, in millimeters
// and square millimeters. The zero BasicProfile belongs to "no thread".
//
// With P the pitch and d the nominal diameter:
//
//	H  = √3/2·P              height of the sharp triangle   ISO 68-1
//	d2 = d − 3/4·H           pitch diameter                 ISO 724
//	D1 = d − 5/4·H           minor diameter of the nut      ISO 724
//	d3 = d − 17/12·H         minor diameter of the bolt     ISO 898-1 (d1 − H/6)
//	d0 = (d2 + d3)/2         stress diameter                ISO 898-1
//	As = π/4·d0²             nominal stress area            ISO 898-1
//
// Cycle threads by ISO 6696 share the profile of ISO 68-1. A flank angle of 55°
// is often claimed for 36 mm x 24 tpi and is unconfirmed; the stress area would
// hardly change.
type BasicProfile struct {
	HeightMM             float64 // H
	PitchDiameterMM      float64 // d2 = D2
	MinorDiameterMM      float64 // d3, of the bolt
	InnerMinorDiameterMM float64 // D1, of the nut
	StressDiameterMM     float64 // d0
	StressAreaMM2        float64 // As
	LeadAngleRad         float64 // φ = atan(P/(π·d2)), single start
}

// BasicProfile returns the dimensions of the basic profile of t.
func (t Thread) BasicProfile() BasicProfile {
	if t.IsZero() {
		return BasicProfile{}
	}
	d, p := t.diameter.Float64(), t.pitch.Float64()
	h := math.Sqrt(3) / 2 * p
	d2, d3 := d-3*h/4, d-17*h/12
	d0 := (d2 + d3) / 2
	return BasicProfile{
		HeightMM:             h,
		PitchDiameterMM:      d2,
		MinorDiameterMM:      d3,
		InnerMinorDiameterMM: d - 5*h/4,
		StressDiameterMM:     d0,
		StressAreaMM2:        math.Pi / 4 * d0 * d0,
		LeadAngleRad:         math.Atan(p / (math.Pi * d2)),
	}
}

// UnifiedStressAreaMM2 returns the tensile stress area of a unified inch thread
// (UNC, UNF) in square millimeters, 0 for "no thread":
//
//	At = π/4·(d − 0.9743·P)²    ASME B1.1, for steel up to 100 ksi (689 MPa)
//
// It is up to 2 % smaller than [BasicProfile.StressAreaMM2]; use the one the
// strength table belongs to.
func (t Thread) UnifiedStressAreaMM2() float64 {
	if t.IsZero() {
		return 0
	}
	d := t.diameter.Float64() - 0.9743*t.pitch.Float64()
	return math.Pi / 4 * d * d
}
