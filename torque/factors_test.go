package torque_test

import (
	"context"
	"math"
	"math/big"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// sameDecimal compares an exact value with a decimal that a file gives in full
// or, for one that does not end, cut to some digits: within one unit of its
// last digit.
func sameDecimal(tb testing.TB, want string, got *big.Rat) {
	tb.Helper()
	written, ok := new(big.Rat).SetString(want)
	require.True(tb, ok, want)
	_, fraction, _ := strings.Cut(want, ".")
	unit := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(fraction))), nil))
	difference := new(big.Rat).Sub(written, got)
	require.LessOrEqual(tb, difference.Abs(difference).Cmp(unit), 0, "want %s, got %s", want, got.FloatString(30))
}

func relativeDifference(tb testing.TB, want string, got *big.Rat) float64 {
	tb.Helper()
	number, ok := new(big.Rat).SetString(want)
	require.True(tb, ok, want)
	difference := new(big.Rat).Sub(number, got)
	ratio, _ := difference.Quo(difference, got).Float64()
	return math.Abs(ratio)
}

// NIST SP 811 (2008), appendix B.8, all rows of torque: the digits as printed,
// and the exact decimals and fractions that follow from the definitions.
func TestConvertVectorsSP811(t *testing.T) {
	checked := 0
	for _, r := range vectors(t, "units_factors") {
		from, isOurs := unitByUCUM(r["ucum_from"])
		to, isOursToo := unitByUCUM(r["ucum_to"])
		if !isOurs || !isOursToo {
			continue
		}
		checked++
		t.Run(r["id"], func(t *testing.T) {
			exact, err := torque.Convert("1", from, to)
			require.NoError(t, err)
			text, ends := exact.Decimal()
			require.Equal(t, r["terminates"] == "yes", ends)
			require.Equal(t, r["exact_fraction"], exact.Rat().String())
			if ends {
				require.Equal(t, r["exact_decimal"], text)
			} else {
				require.Equal(t, r["exact_fraction"], text)
				sameDecimal(t, r["exact_decimal"], exact.Rat())
			}
			if r["printed_value"] != "" {
				printed, err := torque.ParseFigure(r["printed_value"], to)
				require.NoError(t, err)
				require.Equal(t, printed.Digits(), exact.RoundSignificant(printed.SignificantDigits()))
			}
		})
	}
	require.Equal(t, 12, checked, "rows of torque in units of this package")
}

var gnuUnits = map[string]torque.Unit{
	"N m":            torque.NewtonMeters,
	"N cm":           torque.NewtonCentimeters,
	"lbf in":         torque.PoundForceInches,
	"lbf ft":         torque.PoundForceFeet,
	"ounce force in": torque.OunceForceInches,
	"kgf cm":         torque.KilogramForceCentimeters,
	"kgf m":          torque.KilogramForceMeters,
	"kp m":           torque.KilogramForceMeters,
}

// Recorded output of GNU Units 2.22, the command in each row.
func TestConvertVectorsGNUUnits(t *testing.T) {
	checked := 0
	for _, r := range vectors(t, "units_gnu") {
		from, isOurs := gnuUnits[r["from_unit"]]
		to, isOursToo := gnuUnits[r["to_unit"]]
		if !isOurs || !isOursToo {
			continue
		}
		checked++
		exact, err := torque.Convert(r["value"], from, to)
		require.NoError(t, err)
		require.Equal(t, r["exact_fraction"], exact.Rat().String(), r["id"])
		require.Less(t, relativeDifference(t, r["gnu_units_output"], exact.Rat()), 1e-13, r["id"])
	}
	require.Equal(t, 41, checked, "all rows but dyn·cm")
}

// GNU Units itself, where it is installed: every unit, to and from.
func TestConvertLiveGNUUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not installed (on Debian: apt-get install units)")
	}
	spellings := map[torque.Unit]string{
		torque.MillinewtonMeters:    "mN m",
		torque.NewtonMillimeters:    "N mm",
		torque.CentinewtonMeters:    "cN m",
		torque.DecanewtonMeters:     "daN m",
		torque.KilonewtonMeters:     "kN m",
		torque.GramForceCentimeters: "gram force cm",
	}
	for spelling, unit := range gnuUnits {
		if spelling != "kp m" {
			spellings[unit] = spelling
		}
	}
	require.Len(t, spellings, len(torque.Units()))
	check := func(from, to torque.Unit) {
		got := runGNUUnits(t, program, "6.25 "+spellings[from], spellings[to])
		exact, err := torque.Convert("6.25", from, to)
		require.NoError(t, err)
		require.Less(t, relativeDifference(t, got, exact.Rat()), 1e-13, "%v to %v", from, to)
	}
	for _, unit := range torque.Units() {
		check(unit, torque.NewtonMeters)
		check(torque.PoundForceInches, unit)
	}
}

// runGNUUnits prints one conversion: -t the number only, -s no reciprocals.
func runGNUUnits(tb testing.TB, program, from, to string) string {
	tb.Helper()
	ctx, cancel := context.WithTimeout(tb.Context(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, program, "-s", "-o", "%.15g", "-t", from, to).Output()
	require.NoError(tb, err, "%s to %s: %s", from, to, out)
	return strings.TrimSpace(string(out))
}

// Results of other libraries, name and version in each row. Rows marked as not
// agreeing record what is wrong with the library, so they must differ here too.
func TestConvertVectorsOtherLibraries(t *testing.T) {
	checked := 0
	for _, r := range vectors(t, "units_oracle") {
		from, err := torque.ParseUnit(r["from_unit"])
		if err != nil {
			continue // psi, lbf and dyn·cm are no units of this package
		}
		to, err := torque.ParseUnit(r["to_unit"])
		require.NoError(t, err)
		exact, err := torque.Convert("1", from, to)
		require.NoError(t, err)
		sameDecimal(t, r["exact_decimal"], exact.Rat())
		if r["result"] == "" {
			continue // the library does not know the unit
		}
		checked++
		agrees := relativeDifference(t, r["result"], exact.Rat()) < 1e-12
		require.Equal(t, r["agrees_1e_12"] == "yes", agrees, r["id"])
	}
	require.Equal(t, 19, checked)
}
