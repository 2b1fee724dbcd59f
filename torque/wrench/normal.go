package wrench

import (
	"fmt"
	"math"
)

// Tails splits the probability of a measured quantity between the limits and
// the two sides beyond them. The three add up to one.
type Tails struct {
	Below  float64 `json:"below"`  // under the minimum
	Inside float64 `json:"inside"` // the conformance probability p_c
	Above  float64 `json:"above"`  // over the maximum
}

// Outside returns the probability of lying beyond either limit, exact to the
// last digits however small it is.
func (t Tails) Outside() float64 { return t.Below + t.Above }

// NormalTails splits the normal distribution at the standardized limits
// low = (T_L - y)/u and high = (T_U - y)/u, where minus and plus infinity mean
// no limit:
//
//	below = Φ(low)   inside = Φ(high) - Φ(low)   above = 1 - Φ(high)
//
// (JCGM 106:2012 7.3 and 7.4). Each tail is taken with erfc, and the inside is
// one less the tails only where that is more than a half, so nothing cancels: a
// tail is right to about 1e-12 of itself down to 1e-300, and the inside to
// 1e-15.
func NormalTails(low, high float64) Tails {
	t := Tails{Below: upperTail(-low), Above: upperTail(high)}
	switch outside := t.Outside(); {
	case outside < 0.5:
		t.Inside = 1 - outside
	case low > 0:
		t.Inside = upperTail(low) - t.Above
	case high < 0:
		t.Inside = upperTail(-high) - t.Below
	default:
		t.Inside = (math.Erf(high/math.Sqrt2) + math.Erf(-low/math.Sqrt2)) / 2
	}
	return t
}

// upperTail is 1 - Φ(z).
func upperTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// DefaultProbability is the probability asked for where none is stated: 95 %,
// which is the default of ISO 14253-1:2017 (from memory).
const DefaultProbability = 0.95

// Level is the probability at which something counts as decided. The zero
// value is [DefaultProbability].
type Level struct{ p, z float64 }

// defaultZ is the quantile of [DefaultProbability].
const defaultZ = 1.6448536269514722

// NewLevel takes a probability of at least 0.5 and below 1. The error is
// [ErrLevel].
func NewLevel(probability float64) (Level, error) {
	if !(probability >= 0.5 && probability < 1) {
		return Level{}, fmt.Errorf("probability %v: %w", probability, ErrLevel)
	}
	return Level{probability, quantile(probability)}, nil
}

// Probability returns the probability.
func (l Level) Probability() float64 {
	if l.p == 0 {
		return DefaultProbability
	}
	return l.p
}

// Z returns z with Φ(z) equal to the probability, 1.645 at 95 %. A reading z
// standard uncertainties inside a single limit conforms with that probability
// (JCGM 106:2012 7.3), so the guard band that asks for it is w = z·u.
func (l Level) Z() float64 {
	if l.p == 0 {
		return defaultZ
	}
	return l.z
}

// GuardFactor returns r = z/k, the guard band in expanded uncertainties
// U = k·u: w = r·U. At 95 % and k = 2 it is 0.8224, which ILAC-G8:09/2019
// table 1 gives, rounded up, as 0.83.
func (l Level) GuardFactor(k float64) float64 { return l.Z() / k }

// FalseAcceptance returns the probability that a reading exactly on the
// acceptance limit of a guard band w = r·U, U = k·u, lies beyond the limit
// after all, when there is one limit: Φ(-k·r). 2.275 % for r = 1 and k = 2.
func FalseAcceptance(r, k float64) float64 { return upperTail(k * r) }

// quantile inverts Φ for 0.5 <= p < 1. The library's inverse loses digits near
// one, where the tail 1-p (an exact difference) still has them; two steps of
// Newton's method on the logarithm of the tail bring them back.
func quantile(p float64) float64 {
	tail := 1 - p
	z := math.Sqrt2 * math.Erfinv(p-tail)
	for range 2 {
		at := upperTail(z)
		density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
		z += at / density * math.Log(at/tail)
	}
	return z
}
