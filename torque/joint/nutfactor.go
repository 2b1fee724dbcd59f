package joint

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// A NutFactor is the K of the short form T = K·d·F: torque over preload and
// nominal diameter, above 0 and at most 1, with the band it lies in. It lumps
// pitch, thread friction and head friction of one size and shape of joint, so
// it is no coefficient of friction: K 0.20 of an M5 hexagon bolt belongs to
// a µ of about 0.15. The zero NutFactor is "unknown".
type NutFactor struct{ k Band }

// NewNutFactor returns the factor K without a band.
func NewNutFactor(k float64) (NutFactor, error) { return NewNutFactorBand(k, k, k) }

// NewNutFactorBand returns the factor with the range it lies in. All three are
// above 0, at most 1 and in order; anything else gives a [FieldError].
func NewNutFactorBand(low, nominal, high float64) (NutFactor, error) {
	b := Band{low, nominal, high}
	if err := checkFactor("nut_factor", b); err != nil {
		return NutFactor{}, err
	}
	return NutFactor{b}, nil
}

// IsKnown reports whether a factor was given.
func (k NutFactor) IsKnown() bool { return k.k.Nominal > 0 }

// HasBand reports whether a range was given with the factor.
func (k NutFactor) HasBand() bool { return k.k.Low < k.k.High }

// K returns the factor with its band; without one all three are equal.
func (k NutFactor) K() Band { return k.k }

// MarshalJSON writes the factor with its band, or null when unknown.
func (k NutFactor) MarshalJSON() ([]byte, error) { return marshalKnown(k.k) }

// Preload returns the preload in newtons that a torque gives by the short form
// F = T/(K·d), d the nominal diameter in millimeters. A factor without a band
// gives the usual scatter of a torque wrench, [TorqueWrenchScatter] either way.
//
// Errors: [ErrUnknownFriction], [FieldError].
func (k NutFactor) Preload(diameterMM float64, t torque.Torque) (Band, error) {
	in := inputs{}
	k.check(&in, diameterMM)
	in.above("torque", t.NewtonMeters(), largestTorque)
	if err := in.err("preload by the short form"); err != nil {
		return Band{}, err
	}
	pull := Exactly(1000 * t.NewtonMeters() / diameterMM).quotient(k.k)
	if !k.HasBand() {
		pull = Spread(pull.Nominal, TorqueWrenchScatter)
	}
	return pull, nil
}

// Torque returns the torque that gives a preload in newtons by the short form
// T = K·d·F at the nominal K.
//
// Errors: [ErrUnknownFriction], [FieldError].
func (k NutFactor) Torque(diameterMM, newtons float64) (torque.Torque, error) {
	in := inputs{}
	k.check(&in, diameterMM)
	in.above("preload_newtons", newtons, largestForceNewtons)
	if err := in.err("torque by the short form"); err != nil {
		return 0, err
	}
	return torque.FromNewtonMeters(k.k.Nominal * diameterMM * newtons / 1000)
}

func (k NutFactor) check(in *inputs, diameterMM float64) {
	if !k.IsKnown() {
		in.keep(fmt.Errorf("nut_factor: %w", ErrUnknownFriction))
	}
	in.above("diameter_mm", diameterMM, largestDiameterMM)
}
