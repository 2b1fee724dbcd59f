package wrench

import (
	"fmt"
	"math"

	"github.com/tightwright/tightwright/torque"
)

// Uncertainty is the standard uncertainty of a torque: a fixed part in newton
// meters, and a part that is a share of the torque. The zero value is none: a
// reading is then taken as it is.
type Uncertainty struct{ fixedNewtonMeters, share float64 }

// NewUncertainty takes both parts, zero or more and finite, as one standard
// deviation: an expanded uncertainty is to be divided by its k first. The error
// is [ErrUncertainty].
func NewUncertainty(fixedNewtonMeters, share float64) (Uncertainty, error) {
	for _, part := range [...]float64{fixedNewtonMeters, share} {
		if !(part >= 0) || math.IsInf(part, 0) {
			return Uncertainty{}, fmt.Errorf("uncertainty %v: %w", part, ErrUncertainty)
		}
	}
	return Uncertainty{fixedNewtonMeters, share}, nil
}

// With returns the uncertainty of two independent causes together: each part
// is the root of the sum of the squares (JCGM 100:2008 5.1.2).
func (u Uncertainty) With(v Uncertainty) Uncertainty {
	return Uncertainty{math.Hypot(u.fixedNewtonMeters, v.fixedNewtonMeters), math.Hypot(u.share, v.share)}
}

// At returns the standard uncertainty of a torque in newton meters: the root of
// the sum of the squares of both parts.
func (u Uncertainty) At(value torque.Torque) float64 {
	return u.nano(float64(value)) / float64(torque.NewtonMeter)
}

// nano works in nanonewton meters throughout. The single parts are the common
// case and need no root.
func (u Uncertainty) nano(value float64) float64 {
	fixed, shared := u.fixedNewtonMeters*float64(torque.NewtonMeter), u.share*math.Abs(value)
	switch {
	case fixed == 0:
		return shared
	case shared == 0:
		return fixed
	}
	return math.Hypot(fixed, shared)
}

// IsZero reports whether there is no uncertainty.
func (u Uncertainty) IsZero() bool { return u == Uncertainty{} }
