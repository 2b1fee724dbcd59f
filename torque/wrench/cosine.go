package wrench

import "math/big"

// piE60 is π·10^60, rounded down.
const piE60 = "3141592653589793238462643383279502884197169399375105820974944"

// cosineBits is the precision of the series; what is cut off and the error of
// π stay below 2^-cosineSure.
const (
	cosineBits = 192
	cosineSure = 160
)

// cosine encloses the cosine of an angle in degrees between two rationals less
// than 1e-47 apart. Among the rational numbers of degrees exactly the multiples
// of 60 and of 90 have a rational cosine (Niven's theorem); for these low and
// high are that cosine.
func cosine(degrees *big.Rat) (low, high *big.Rat) {
	a := new(big.Rat).Abs(degrees)
	full := big.NewRat(360, 1)
	a.Sub(a, full.Mul(full, new(big.Rat).SetInt(wholeBelow(new(big.Rat).Quo(a, full)))))
	if a.Cmp(big.NewRat(180, 1)) > 0 {
		a.Sub(big.NewRat(360, 1), a)
	}
	if a.Cmp(big.NewRat(90, 1)) > 0 { // cos a = -cos(180° - a)
		low, high = cosine(a.Sub(big.NewRat(180, 1), a))
		return high.Neg(high), low.Neg(low)
	}
	for _, known := range []struct{ degrees, twice int64 }{{0, 2}, {60, 1}, {90, 0}} {
		if a.Cmp(big.NewRat(known.degrees, 1)) == 0 {
			return big.NewRat(known.twice, 2), big.NewRat(known.twice, 2)
		}
	}
	value := cosineSeries(a)
	scale := new(big.Int).Lsh(big.NewInt(1), cosineBits)
	slack := new(big.Int).Lsh(big.NewInt(1), cosineBits-cosineSure)
	low = new(big.Rat).SetFrac(new(big.Int).Sub(value, slack), scale)
	high = new(big.Rat).SetFrac(new(big.Int).Add(value, slack), scale)
	return low, high
}

// cosineSeries returns cos(a)·2^cosineBits for 0° < a < 90° by the power
// series 1 - x²/2! + x⁴/4! - …, each term cut to whole numbers. Some 40 terms
// are cut by one each, and x² is off by less than 2^-190.
func cosineSeries(a *big.Rat) *big.Int {
	pi, _ := new(big.Rat).SetString(piE60 + "e-60")
	x := pi.Mul(pi, a)
	x.Quo(x, big.NewRat(180, 1))
	square := new(big.Rat).Mul(x, x)
	one := new(big.Int).Lsh(big.NewInt(1), cosineBits)
	x2 := wholeBelow(square.Mul(square, new(big.Rat).SetInt(one)))
	sum, term := new(big.Int).Set(one), new(big.Int).Set(one)
	for n := int64(1); term.Sign() != 0; n++ {
		term.Mul(term, x2).Rsh(term, cosineBits)
		term.Quo(term, big.NewInt((2*n-1)*(2*n)))
		if n%2 == 1 {
			sum.Sub(sum, term)
		} else {
			sum.Add(sum, term)
		}
	}
	return sum
}
