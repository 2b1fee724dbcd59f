package joint

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// A PrevailingRule says when the running torque of a locking nut or thread is
// added to a torque figure. Sources differ, so the rule is never implied.
type PrevailingRule uint8

const (
	// AddAlways adds it: FAA AC 43.13-1B, 7-40.
	AddAlways PrevailingRule = iota
	// AddFromThird adds it only if it is at least a third of the figure: TM
	// 5-2330-325-13&P, 0095.
	AddFromThird
)

// WithPrevailing returns a torque figure with the running torque of the thread
// taken into account by a rule. Torques below 0 and unknown rules give a
// [FieldError]; sums over [torque.MaxWire] do too.
func WithPrevailing(figure, running torque.Torque, rule PrevailingRule) (torque.Torque, error) {
	in := inputs{}
	in.within("torque_newton_meters", figure.NewtonMeters(), 0, largestTorque/2)
	in.within("running_newton_meters", running.NewtonMeters(), 0, largestTorque/2)
	if rule > AddFromThird {
		in.add("rule", "known", fmt.Sprintf("%d is not a known rule", rule))
	}
	if err := in.err("prevailing torque"); err != nil {
		return 0, err
	}
	if rule == AddFromThird && 3*running < figure {
		return figure, nil
	}
	return figure + running, nil
}

// SlipNewtonMeters returns the torque at which faces pressed together by bolts
// on a circle start to slip: F·µ·r for each bolt.
func SlipNewtonMeters(bolts int, preloadNewtons Band, f Friction, radiusMM float64) (Band, error) {
	in := inputs{}
	in.within("bolts", float64(bolts), 1, 64)
	in.band("preload_newtons", preloadNewtons, largestForceNewtons)
	in.above("radius_mm", radiusMM, 1000)
	if !f.IsKnown() {
		in.keep(fmt.Errorf("friction: %w", ErrUnknownFriction))
	}
	if err := in.err("slip torque"); err != nil {
		return Band{}, err
	}
	return preloadNewtons.product(f.mu).Times(float64(bolts) * radiusMM / 1000), nil
}
