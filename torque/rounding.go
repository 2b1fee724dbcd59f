package torque

import (
	"math/big"
	"strings"
)

// SignificantDigits returns the number of digits of the figure from the first
// that is not zero; all written digits count, trailing zeros too, because a
// part does not tell which of them matter. At least 1, and 0 for the zero value.
func (f Figure) SignificantDigits() int {
	if f.IsZero() {
		return 0
	}
	digits := strings.ReplaceAll(strings.TrimPrefix(f.digits, "-"), ".", "")
	return max(1, len(strings.TrimLeft(digits, "0")))
}

// DigitsByError returns how many significant digits of a converted value claim
// about as much as the written source did: the count whose relative rounding
// error is nearest, as a ratio, to that of the source. Of two equally near ones
// it is the larger.
//
// This is our reading of NIST SP 811 (2008) B.7.2, which leaves the choice to
// judgment; it gives both of that section's examples (36 ft is 11.0 m). It says
// little for a source of one digit. Limits are never rounded so: see
// [FigureWindow.RoundInward].
func (e Exact) DigitsByError(source Figure) int {
	sourceError, zero := relativeError(source.Rat(), -source.Places())
	if zero || e.rat().Sign() == 0 {
		return max(1, source.SignificantDigits())
	}
	leading := decade(e.rat())
	best, bestRatio := 1, (*big.Rat)(nil)
	for digits := 1; digits <= MaxFigureDigits; digits++ {
		resultError, _ := relativeError(e.rat(), leading-digits+1)
		ratio := new(big.Rat).Quo(resultError, sourceError)
		if ratio.Cmp(big.NewRat(1, 1)) < 0 {
			ratio.Inv(ratio)
		}
		if bestRatio != nil && ratio.Cmp(bestRatio) > 0 {
			break // the ratio only grows from here on
		}
		best, bestRatio = digits, ratio
	}
	return best
}

// DigitsByFirst returns as many significant digits as the source has where the
// converted value does not begin with a smaller digit, else one more. The rule
// text is confirmed in a public engineering forum; that it is the rule of
// FED-STD-376B and NIST SP 1038 (2006) 4.4 is from memory.
func (e Exact) DigitsByFirst(source Figure) int {
	digits := max(1, source.SignificantDigits())
	if e.rat().Sign() != 0 && leadingDigit(e.rat()) < leadingDigit(source.Rat()) {
		digits++
	}
	return digits
}

// relativeError is half a unit of the last place, 10^exponent, over the value.
func relativeError(value *big.Rat, exponent int) (ratio *big.Rat, zero bool) {
	if value.Sign() == 0 {
		return nil, true
	}
	half := powerOfTen(exponent)
	half.Quo(half, big.NewRat(2, 1))
	return half.Quo(half, new(big.Rat).Abs(value)), false
}

func leadingDigit(value *big.Rat) int64 {
	if value.Sign() == 0 {
		return 0
	}
	scaled := new(big.Rat).Mul(new(big.Rat).Abs(value), powerOfTen(-decade(value)))
	return roundRat(scaled, floor).Int64()
}
