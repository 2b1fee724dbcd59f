package joint

import (
	"fmt"
	"math"

	"github.com/tightwright/tightwright/torque"
)

// Largest figures taken as meant; they keep slips of the pen out.
const (
	largestTorque       = float64(torque.MaxWire / torque.NewtonMeter)
	largestForceNewtons = 1e8
	largestPressureMPa  = 1e5
)

// A Torsion says how the twist of tightening counts against the yield of a bolt.
type Torsion uint8

const (
	// PlasticTorsion takes the section as yielding all over, W = π/12·d0³: VDI
	// 2230 since 2001. It is the zero value.
	PlasticTorsion Torsion = iota
	// ElasticTorsion takes W = π/16·d0³, as tables before 2001 did. The two must
	// not be mixed: they are 9 % to 11 % apart.
	ElasticTorsion
)

// factor is τ over σ, for tan(φ+ρ′)·d2/d0 of 1.
func (t Torsion) factor() float64 {
	if t == ElasticTorsion {
		return 2
	}
	return 1.5
}

// A Bolt is one threaded fastener in its place, as far as torque and preload are
// concerned. Thread and ThreadFriction must be given; a zero field of the others
// takes the default it names, and the result lists it as assumed.
type Bolt struct {
	Thread Thread
	// Class gives proof and yield; zero: nothing about strength is worked out.
	Class Class
	// Bearing is where the head turns; a zero diameter is taken from
	// [HexagonHead]. Threads without a standard head must state it.
	Bearing Bearing
	// ThreadFriction is µ_G, HeadFriction µ_K; a zero HeadFriction is that of the
	// thread. Where a band is missing the preload scatters by
	// [TorqueWrenchScatter].
	ThreadFriction, HeadFriction Friction
	// ToolDeviation is the permitted deviation of the wrench as a share of the
	// torque that it delivers (ISO 6789), 0.04 for ±4 %; 0 to 0.5.
	ToolDeviation float64
	// Torsion is how twist counts, for AtUtilization and the use of the yield.
	Torsion Torsion
	// Seat is what the head rests on; zero: the pressure is compared with nothing.
	Seat Material
}

// A setup is a Bolt with its defaults filled in and its geometry worked out.
type setup struct {
	bolt         Bolt
	profile      BasicProfile
	screw        Screw
	headArmMM    float64
	thread, head Band // µ_G, µ_K
	strength     sizeRow
	hasStrength  bool
	assumed      Assumptions
}

func (b Bolt) setup(operation string) (setup, error) {
	in := inputs{}
	s := setup{bolt: b, profile: b.Thread.BasicProfile(), screw: b.Thread.Screw()}
	if b.Thread.IsZero() {
		in.add("thread", "required", "must be given")
	}
	s.fillBearing(&in)
	s.fillFriction(&in)
	in.within("tool_deviation", b.ToolDeviation, 0, 0.5)
	s.assumed = s.assumed.with(AssumedExactTool, b.ToolDeviation == 0)
	if b.Torsion > ElasticTorsion {
		in.add("torsion", "known", fmt.Sprintf("%d is not a known way to count torsion", b.Torsion))
	}
	s.fillStrength(&in)
	return s, in.err(operation)
}

func (s *setup) fillBearing(in *inputs) {
	bearing := &s.bolt.Bearing
	noHead, noHole := bearing.OuterDiameterMM == 0, bearing.HoleDiameterMM == 0
	if s.bolt.Thread.IsZero() {
		return // said already
	}
	if noHead || noHole {
		standard, ok := HexagonHead(s.bolt.Thread)
		if !ok {
			in.add("head_bearing_diameter_mm", "required",
				"no standard head for "+s.bolt.Thread.String()+": state the outer diameter and the hole under the head")
			return
		}
		if noHead {
			bearing.OuterDiameterMM = standard.OuterDiameterMM
		}
		if noHole {
			bearing.HoleDiameterMM = standard.HoleDiameterMM
		}
	}
	s.assumed = s.assumed.with(AssumedHexagonHead, noHead).with(AssumedMediumHole, noHole)
	bearing.check(in)
	if hole := bearing.HoleDiameterMM; hole > 0 && hole < s.profile.MinorDiameterMM {
		in.add("hole_diameter_mm", "range", fmt.Sprintf("a hole of %g mm does not let this thread through", hole))
	}
	s.headArmMM = bearing.armMM()
}

func (s *setup) fillFriction(in *inputs) {
	if !s.bolt.ThreadFriction.IsKnown() {
		in.keep(fmt.Errorf("thread_friction: %w", ErrUnknownFriction))
		return
	}
	s.thread, s.head = s.bolt.ThreadFriction.mu, s.bolt.HeadFriction.mu
	if !s.bolt.HeadFriction.IsKnown() {
		s.head = s.thread
		s.assumed = s.assumed.with(AssumedSameFriction, true)
	}
	s.assumed = s.assumed.with(AssumedTorqueWrenchScatter, !s.hasFrictionBand())
	if s.screw.tanLead()*s.screw.tanFriction(s.thread.High) >= 1 {
		in.add("thread_friction", "range", "so much friction wedges this thread for good")
	}
}

func (s *setup) fillStrength(in *inputs) {
	class := s.bolt.Class
	if class.IsZero() {
		return
	}
	s.strength, s.hasStrength = class.row(s.bolt.Thread.diameter.Float64())
	if !s.hasStrength {
		_, err := class.Strength(s.bolt.Thread.diameter.Float64())
		in.keep(fmt.Errorf("class: %w", err))
	}
}

func (s *setup) hasFrictionBand() bool {
	return s.thread.Low < s.thread.High || s.head.Low < s.head.High
}

// torqueOverPreloadMM is T/F for coefficients in the thread and under the head.
func (s *setup) torqueOverPreloadMM(threadMu, headMu float64) float64 {
	return s.screw.tightenMM(threadMu) + s.headArmMM*headMu
}

// yieldRaise is how much more than its tension a bolt is stressed because it is
// twisted as well (von Mises): √(1 + 3·(k·d2/d0·tan(φ+ρ′))²), k by [Torsion].
func (s *setup) yieldRaise(threadMu float64) float64 {
	twist := s.bolt.Torsion.factor() * 2 * s.screw.tightenMM(threadMu) / s.profile.StressDiameterMM
	return math.Sqrt(1 + 3*twist*twist)
}
