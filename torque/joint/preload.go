package joint

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// DefaultUtilization is the share ν of the yield to which VDI 2230-1:2003 uses a
// bolt in its tables.
const DefaultUtilization = 0.9

// AtTorque returns what a torque does to the bolt, by the long form of VDI
// 2230-1:2003 with tan(φ+ρ′).
//
// Errors: [ErrUnknownFriction], [ErrStrength], [FieldError].
func (b Bolt) AtTorque(t torque.Torque) (Tightened, error) {
	const operation = "preload from torque"
	s, err := b.setup(operation)
	if err != nil {
		return Tightened{}, err
	}
	in := inputs{}
	in.above("torque_newton_meters", t.NewtonMeters(), largestTorque)
	if err := in.err(operation); err != nil {
		return Tightened{}, err
	}
	pull := 1000 * t.NewtonMeters() / s.torqueOverPreloadMM(s.thread.Nominal, s.head.Nominal)
	return s.tightened(pull, t.NewtonMeters()), nil
}

// AtPreload returns the torque that gives a preload in newtons at nominal
// friction, and everything else as [Bolt.AtTorque] does.
//
// Errors: [ErrUnknownFriction], [ErrStrength], [FieldError].
func (b Bolt) AtPreload(newtons float64) (Tightened, error) {
	const operation = "torque from preload"
	s, err := b.setup(operation)
	if err != nil {
		return Tightened{}, err
	}
	in := inputs{}
	in.above("preload_newtons", newtons, largestForceNewtons)
	if err := in.err(operation); err != nil {
		return Tightened{}, err
	}
	return s.atPreload(newtons, operation)
}

// AtUtilization returns the assembly preload and torque at which tension and
// twist together use a share ν of the yield, 0 < ν ≤ 1; 0 stands for
// [DefaultUtilization]. The class must be known.
//
//	F_M = A0·ν·Rp0.2 / √(1 + 3·(1.5·d2/d0·tan(φ+ρ′))²)    VDI 2230-1:2003
//
// Errors: [ErrUnknownFriction], [ErrStrength], [FieldError].
func (b Bolt) AtUtilization(share float64) (Tightened, error) {
	const operation = "preload from the use of yield"
	s, err := b.setup(operation)
	if err != nil {
		return Tightened{}, err
	}
	if !s.hasStrength {
		return Tightened{}, fmt.Errorf("%s: class: %w", operation, ErrStrength)
	}
	if share == 0 {
		share = DefaultUtilization
		s.assumed = s.assumed.with(AssumedUtilization, true)
	}
	in := inputs{}
	in.above("utilization", share, 1)
	if err := in.err(operation); err != nil {
		return Tightened{}, err
	}
	pull := s.profile.StressAreaMM2 * share * s.strength.yield / s.yieldRaise(s.thread.Nominal)
	return s.atPreload(pull, operation)
}

func (s *setup) atPreload(newtons float64, operation string) (Tightened, error) {
	newtonMeters := newtons * s.torqueOverPreloadMM(s.thread.Nominal, s.head.Nominal) / 1000
	in := inputs{}
	in.above("torque_newton_meters", newtonMeters, largestTorque)
	if err := in.err(operation); err != nil {
		return Tightened{}, err
	}
	return s.tightened(newtons, newtonMeters), nil
}

// band returns smallest, nominal and largest preload: the wrench at its low end
// on high friction, and at its high end on low friction. A wrench that is set to
// T and within ±d delivers T/(1+d) to T/(1-d), because ISO 6789 relates the
// deviation to what is delivered.
func (s *setup) band(newtons, newtonMeters float64) Band {
	least, most := 1/(1+s.bolt.ToolDeviation), 1/(1-s.bolt.ToolDeviation)
	if !s.hasFrictionBand() {
		return Band{
			newtons * least * (1 - TorqueWrenchScatter), newtons,
			newtons * most * (1 + TorqueWrenchScatter),
		}
	}
	return Band{
		1000 * newtonMeters * least / s.torqueOverPreloadMM(s.thread.High, s.head.High), newtons,
		1000 * newtonMeters * most / s.torqueOverPreloadMM(s.thread.Low, s.head.Low),
	}
}
