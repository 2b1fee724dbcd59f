package torque

import "math/big"

// rounding is a way to turn a rational into a whole number.
type rounding uint8

const (
	halfEven rounding = iota
	floor
	ceiling
)

// roundRat rounds a rational to a whole number. Ties of halfEven are ties of
// the exact value, never of a binary float.
func roundRat(value *big.Rat, way rounding) *big.Int {
	below, rest := new(big.Int), new(big.Int)
	below.DivMod(value.Num(), value.Denom(), rest) // Euclidean: 0 <= rest < denominator
	up := false
	switch way {
	case floor:
	case ceiling:
		up = rest.Sign() > 0
	case halfEven:
		twice := rest.Lsh(rest, 1)
		half := twice.Cmp(value.Denom())
		up = half > 0 || half == 0 && below.Bit(0) == 1
	}
	if up {
		below.Add(below, big.NewInt(1))
	}
	return below
}

// divide returns a/b, and zero for a division by zero (an invalid unit).
func divide(a, b *big.Rat) *big.Rat {
	if b.Sign() == 0 {
		return new(big.Rat)
	}
	return a.Quo(a, b)
}

// pow10 returns 10^n for n >= 0.
func pow10(n int) *big.Int {
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
}

// powerOfTen returns 10^n.
func powerOfTen(n int) *big.Rat {
	if n < 0 {
		return new(big.Rat).SetFrac(big.NewInt(1), pow10(-n))
	}
	return new(big.Rat).SetInt(pow10(n))
}

// decade returns the exponent of the leading digit of a value other than zero:
// 0 for 1 to 9.99…, 1 for 10 to 99.99…, -1 for 0.1 to 0.99….
func decade(value *big.Rat) int {
	magnitude := new(big.Rat).Abs(value)
	// Digit counts give the exponent to within one; the comparison settles it.
	guess := len(magnitude.Num().String()) - len(magnitude.Denom().String())
	if magnitude.Cmp(powerOfTen(guess)) < 0 {
		guess--
	}
	return guess
}
