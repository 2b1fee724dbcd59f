package torque

import (
	"errors"
	"fmt"
	"math"
	"math/big"
)

// Torque is a moment of force in whole nanonewton meters, used like
// [time.Duration]: 5 * torque.NewtonMeter. Values compare with ==, <, min and
// max and are stored as integers. The zero value is no torque at all.
//
// Arithmetic covers about ±9.2e9 N·m; everything that is read or written as
// text or sent over a wire lies within ±[MaxWire].
type Torque int64

// Common torques. To count units, divide: t / torque.NewtonMeter. A
// pound-force inch is 112984829.0276167 nN·m, no whole number, and therefore
// has no constant: take a [Figure] in [PoundForceInches].
const (
	NanonewtonMeter  Torque = 1
	MicronewtonMeter        = 1000 * NanonewtonMeter
	MillinewtonMeter        = 1000 * MicronewtonMeter
	NewtonMeter             = 1000 * MillinewtonMeter
	KilonewtonMeter         = 1000 * NewtonMeter
)

// MaxWire is the largest magnitude, 1e6 N·m, that is read, written or sent.
// Up to it a float64 in newton meters and a Torque convert into each other
// without loss.
const MaxWire = 1_000_000 * NewtonMeter

// ErrOutOfRange reports a torque beyond ±[MaxWire].
var ErrOutOfRange = errors.New("torque out of range: at most 1000000 N·m either way")

// ErrNotFinite reports a NaN or an infinity where a torque was expected.
var ErrNotFinite = errors.New("torque is not a finite number")

// FromNewtonMeters returns the Torque nearest to a number of newton meters,
// ties to even. The tie is judged on the exact value of the float. It refuses
// NaN and infinities ([ErrNotFinite]) and magnitudes over [MaxWire]
// ([ErrOutOfRange]).
func FromNewtonMeters(newtonMeters float64) (Torque, error) {
	switch {
	case math.IsNaN(newtonMeters) || math.IsInf(newtonMeters, 0):
		return 0, fmt.Errorf("torque from %v N·m: %w", newtonMeters, ErrNotFinite)
	case math.Abs(newtonMeters) > float64(MaxWire/NewtonMeter):
		return 0, fmt.Errorf("torque from %v N·m: %w", newtonMeters, ErrOutOfRange)
	}
	const scale = float64(NewtonMeter)
	product := newtonMeters * scale
	// What the multiplication lost; it only matters on an apparent tie.
	lost := math.FMA(newtonMeters, scale, -product)
	whole := math.RoundToEven(product)
	switch rest := product - whole; {
	case rest == 0.5 && lost > 0:
		whole++
	case rest == -0.5 && lost < 0:
		whole--
	}
	return Torque(whole), nil
}

// FromRat returns the Torque nearest to an exact number of newton meters,
// ties to even, so it is within ±0.5 nN·m. Magnitudes over [MaxWire] are
// refused with [ErrOutOfRange]. A nil argument counts as zero.
func FromRat(newtonMeters *big.Rat) (Torque, error) {
	if newtonMeters == nil {
		return 0, nil
	}
	nano := new(big.Rat).Mul(newtonMeters, new(big.Rat).SetInt64(int64(NewtonMeter)))
	whole := roundRat(nano, halfEven)
	if !whole.IsInt64() || !Torque(whole.Int64()).inWireRange() {
		return 0, ErrOutOfRange
	}
	return Torque(whole.Int64()), nil
}

// NewtonMeters returns the float64 nearest to the torque in newton meters.
// Within ±[MaxWire], [FromNewtonMeters] gives back the same Torque.
func (t Torque) NewtonMeters() float64 {
	return float64(t) / float64(NewtonMeter)
}

// Rat returns the exact torque in newton meters as a new rational.
func (t Torque) Rat() *big.Rat {
	return big.NewRat(int64(t), int64(NewtonMeter))
}

// In returns the exact torque in another unit.
func (t Torque) In(to Unit) Exact {
	return newExact(divide(t.Rat(), to.Factor()), to)
}

// inWireRange reports a torque that can be read, written and sent.
func (t Torque) inWireRange() bool { return -MaxWire <= t && t <= MaxWire }
