package fit_test

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure/fit"
)

// TestParseLengthAgreesWithTheRational holds the short way for plain decimals
// to exact arithmetic, ties to even.
func TestParseLengthAgreesWithTheRational(t *testing.T) {
	units := map[string]fit.Length{"mm": fit.Millimeter, "cm": fit.Centimeter, "in": fit.Inch}
	rapid.Check(t, func(rt *rapid.T) {
		digits := rapid.StringMatching(`[0-9]{1,5}(\.[0-9]{1,11})?`).Draw(rt, "digits")
		unit := rapid.SampledFrom([]string{"mm", "cm", "in"}).Draw(rt, "unit")
		got, err := fit.ParseLength(digits + " " + unit)
		require.NoError(rt, err)
		exact, ok := new(big.Rat).SetString(digits)
		require.True(rt, ok)
		exact.Mul(exact, big.NewRat(int64(units[unit]), 1))
		off := exact.Sub(exact, new(big.Rat).SetInt64(int64(got)))
		require.LessOrEqual(rt, off.Abs(off).Cmp(big.NewRat(1, 2)), 0, "off by more than half a nanometer")
	})
}
