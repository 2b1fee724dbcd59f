package joint

import (
	"encoding/json"
	"errors"
	"fmt"
)

// ErrUnknownFriction says that nothing can be worked out, because the friction
// is not known. It is never guessed.
var ErrUnknownFriction = errors.New("friction is unknown")

// A Friction is a coefficient of friction µ between two faces: friction force
// over normal force, above 0 and at most 1, with the band it lies in. The zero
// Friction is "unknown".
//
// A Friction is not a [NutFactor]: the two look alike as numbers and differ by
// the shape of the joint. Neither converts into the other, not even by a Go
// conversion.
type Friction struct{ mu Band }

// NewFriction returns the coefficient µ without a band.
func NewFriction(mu float64) (Friction, error) { return NewFrictionBand(mu, mu, mu) }

// NewFrictionBand returns the coefficient with the range it lies in. All three
// are above 0, at most 1 and in order; anything else gives a [FieldError].
func NewFrictionBand(low, nominal, high float64) (Friction, error) {
	b := Band{low, nominal, high}
	if err := checkFactor("friction", b); err != nil {
		return Friction{}, err
	}
	return Friction{b}, nil
}

func checkFactor(path string, b Band) error {
	if !(b.isOrdered() && b.Low > 0 && b.High <= 1) {
		return &FieldError{path, "range", fmt.Sprintf("%g, %g, %g are not in order above 0 and at most 1", b.Low, b.Nominal, b.High)}
	}
	return nil
}

// IsKnown reports whether a coefficient was given.
func (f Friction) IsKnown() bool { return f.mu.Nominal > 0 }

// HasBand reports whether a range was given with the coefficient.
func (f Friction) HasBand() bool { return f.mu.Low < f.mu.High }

// Mu returns the coefficient with its band; without one all three are equal.
func (f Friction) Mu() Band { return f.mu }

// MarshalJSON writes the coefficient with its band, or null when unknown.
func (f Friction) MarshalJSON() ([]byte, error) { return marshalKnown(f.mu) }

func marshalKnown(b Band) ([]byte, error) {
	if b.IsZero() {
		return []byte("null"), nil
	}
	return json.Marshal(b)
}
