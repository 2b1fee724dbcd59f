package joint

import (
	"fmt"
	"math"
)

// OuterStripAreaMM2 returns the area over which the thread of the bolt shears off
// when engaged over a length, at the limits:
//
//	AS_s = π/P·Le·D1,max·(P/2 + (d2,min − D1,max)/√3)    ASME B1.1, appendix B
func (l ThreadLimits) OuterStripAreaMM2(engagedMM float64) float64 {
	return l.area(engagedMM, l.InnerMinorMaxMM, l.OuterPitchMinMM-l.InnerMinorMaxMM)
}

// InnerStripAreaMM2 returns the area over which the thread of the nut or part
// shears out:
//
//	AS_n = π/P·Le·d,min·(P/2 + (d,min − D2,max)/√3)    ASME B1.1, appendix B
func (l ThreadLimits) InnerStripAreaMM2(engagedMM float64) float64 {
	return l.area(engagedMM, l.OuterMajorMinMM, l.OuterMajorMinMM-l.InnerPitchMaxMM)
}

func (l ThreadLimits) area(engagedMM, diameterMM, overlapMM float64) float64 {
	return math.Pi / l.PitchMM * engagedMM * diameterMM * max(0, l.PitchMM/2+overlapMM/math.Sqrt(3))
}

// EngagementMM returns the engaged length over which the part's thread of a
// shear strength holds a force.
func (l ThreadLimits) EngagementMM(newtons, partShearMPa float64) float64 {
	return newtons / (partShearMPa * l.InnerStripAreaMM2(1))
}

// PullOutNewtons returns the force that pulls a bolt out of a tapped hole by the
// rule P = π·d_m·τ·L·share: share 1/3 from tests, 1/2 for perfectly mated
// threads (NASA RP-1228). It is on the safe side of the strip areas.
func PullOutNewtons(pitchDiameterMM, engagedMM, partShearMPa, share float64) float64 {
	return math.Pi * pitchDiameterMM * partShearMPa * engagedMM * share
}

// An Engaged thread is a bolt in a tapped hole or nut, as far as stripping is
// concerned. Thread, EngagedMM and the strength of bolt and part must be given.
type Engaged struct {
	Thread Thread
	Fit    Fit
	// Limits, where given, stand in for those of Thread and Fit.
	Limits    ThreadLimits
	EngagedMM float64 // thread length in mesh, without chamfers

	// Class gives the strength of the bolt; else BoltTensileMPa does.
	Class          Class
	BoltTensileMPa float64
	// PartTensileMPa is the tensile strength of the part. Shear strengths left
	// at 0 are taken as 0.6 of the tensile strength.
	PartTensileMPa             float64
	BoltShearMPa, PartShearMPa float64
	// PreloadNewtons, where given, is compared with what the thread holds.
	PreloadNewtons Band
}

// Which part of a joint gives way first.
const (
	BoltBreaks      = "the bolt breaks"
	BoltThreadStrip = "the thread of the bolt strips"
	PartThreadStrip = "the thread of the part strips"
)

// Stripping is how an engaged thread gives way; forces in newtons.
type Stripping struct {
	Limits            ThreadLimits `json:"limits"`
	OuterAreaMM2      float64      `json:"outer_strip_area_mm2"`
	InnerAreaMM2      float64      `json:"inner_strip_area_mm2"`
	OuterStripNewtons float64      `json:"outer_strip_newtons"`
	InnerStripNewtons float64      `json:"inner_strip_newtons"`
	// BoltBreakNewtons is the tension a strong bolt of the class reaches.
	BoltBreakNewtons float64 `json:"bolt_break_newtons"`
	// GivesWay says what fails first when the bolt is overtightened.
	GivesWay string `json:"gives_way"`
	// NeededMM is the engaged length at which the bolt breaks before either
	// thread strips.
	NeededMM float64 `json:"needed_engagement_mm"`
	// PreloadShare is the preload over the weaker thread; zero without a preload.
	PreloadShare Band        `json:"preload_share,omitzero"`
	Assumptions  Assumptions `json:"assumptions"`
	Warnings     Warnings    `json:"warnings"`
	Use          Explanation `json:"use"`
}

// Strip works out how an engaged thread gives way. So that a bolt breaks and the
// part does not strip, the bolt is taken at the tensile strength of the next
// class, as handbooks do; where there is none, at 1.2 times its minimum.
//
// Errors: [ErrStrength], [FieldError].
func (e Engaged) Strip() (Stripping, error) {
	in := inputs{}
	s := Stripping{Limits: e.Limits}
	if e.Limits == (ThreadLimits{}) {
		limits, err := e.Thread.Limits(e.Fit)
		in.keep(err)
		s.Limits = limits
		s.Assumptions = s.Assumptions.with(AssumedFit, e.Fit == Fit6H6g).
			with(AssumedToleranceFormula, limits.IsByFormula)
	} else {
		if e.Thread.IsZero() {
			in.add("thread", "required", "must be given")
		}
		if !e.Limits.overlaps() {
			in.add("limits", "range", "at these limits the thread would not engage at all")
		}
	}
	in.above("engagement_mm", e.EngagedMM, 200)
	upper := e.boltTensile(&in, &s)
	boltShear, partShear := e.shear(&in, &s)
	if !e.PreloadNewtons.IsZero() {
		in.band("preload_newtons", e.PreloadNewtons, largestForceNewtons)
	}
	if err := in.err("thread stripping"); err != nil {
		return Stripping{}, err
	}
	s.work(e, upper, boltShear, partShear)
	return s, nil
}

// boltTensile fills in BoltTensileMPa and returns the upper strength.
func (e *Engaged) boltTensile(in *inputs, s *Stripping) (upperMPa float64) {
	if !e.Class.IsZero() {
		strength, err := e.Class.Strength(e.Thread.diameter.Float64())
		if err != nil {
			in.keep(fmt.Errorf("class: %w", err))
			return 0
		}
		e.BoltTensileMPa, upperMPa = strength.TensileMPa, strength.NextTensileMPa
	}
	in.above("bolt_tensile_megapascals", e.BoltTensileMPa, largestPressureMPa)
	if upperMPa == 0 {
		upperMPa = 1.2 * e.BoltTensileMPa
		s.Assumptions = s.Assumptions.with(AssumedUpperStrength, true)
	}
	return upperMPa
}

func (e *Engaged) shear(in *inputs, s *Stripping) (bolt, part float64) {
	bolt, part = e.BoltShearMPa, e.PartShearMPa
	if bolt == 0 {
		bolt = shearShare * e.BoltTensileMPa
	}
	if part == 0 {
		in.above("part_tensile_megapascals", e.PartTensileMPa, largestPressureMPa)
		part = shearShare * e.PartTensileMPa
	}
	in.within("bolt_shear_megapascals", bolt, 0, largestPressureMPa)
	in.within("part_shear_megapascals", part, 0, largestPressureMPa)
	s.Assumptions = s.Assumptions.with(AssumedBoltShear, e.BoltShearMPa == 0).
		with(AssumedPartShear, e.PartShearMPa == 0)
	return bolt, part
}

// shearShare is shear over tensile strength where no shear strength is given.
const shearShare = 0.6

func (s *Stripping) work(e Engaged, upperMPa, boltShearMPa, partShearMPa float64) {
	s.OuterAreaMM2 = s.Limits.OuterStripAreaMM2(e.EngagedMM)
	s.InnerAreaMM2 = s.Limits.InnerStripAreaMM2(e.EngagedMM)
	s.OuterStripNewtons = s.OuterAreaMM2 * boltShearMPa
	s.InnerStripNewtons = s.InnerAreaMM2 * partShearMPa
	s.BoltBreakNewtons = e.Thread.NominalStressAreaMM2() * upperMPa
	weaker := min(s.OuterStripNewtons, s.InnerStripNewtons)
	s.NeededMM = e.EngagedMM * s.BoltBreakNewtons / weaker
	switch {
	case s.BoltBreakNewtons <= weaker:
		s.GivesWay = BoltBreaks
	case s.OuterStripNewtons < s.InnerStripNewtons:
		s.GivesWay = BoltThreadStrip
	default:
		s.GivesWay = PartThreadStrip
	}
	s.PreloadShare = e.PreloadNewtons.Times(1 / weaker)
	s.Warnings = s.Warnings.with(MayStrip, s.PreloadShare.High >= 1)
}
