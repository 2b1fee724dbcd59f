package torque_test

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// roundingCase is a row of units_rounding.csv ready for use.
type roundingCase struct {
	row
	source torque.Figure
	exact  torque.Exact
	digits int
}

// exactOf converts with this package where the units are torques and takes the
// file's own exact value for lengths and bare numbers.
func exactOf(tb testing.TB, r row, value, converted string) (torque.Figure, torque.Exact) {
	tb.Helper()
	from, isOurs := unitByUCUM(r["input_unit"])
	to, isOursToo := unitByUCUM(r["target_unit"])
	if isOurs && isOursToo {
		source, err := torque.ParseFigure(value, from)
		require.NoError(tb, err)
		exact := source.In(to)
		sameDecimal(tb, converted, exact.Rat())
		return source, exact
	}
	source, err := torque.ParseFigure(value, torque.NewtonMeters)
	require.NoError(tb, err)
	number, ok := new(big.Rat).SetString(converted)
	require.True(tb, ok)
	return source, torque.NewExact(number, torque.NewtonMeters)
}

// Every row of units_rounding.csv: NIST SP 811 (2008) B.7.1 and B.7.2, ASME
// A112.18.1-2018/CSA B125.1-18 Annex A.2, NIST PS 20-20, the source in the row.
func TestRoundingVectors(t *testing.T) {
	methods := map[string]func(testing.TB, roundingCase) string{
		"half_even": func(_ testing.TB, c roundingCase) string {
			if c.row["digits_kind"] == "sig" {
				return c.exact.RoundSignificant(c.digits)
			}
			return c.exact.RoundPlaces(c.digits)
		},
		"style": func(_ testing.TB, c roundingCase) string { return c.exact.RoundSignificant(c.digits) },
		"re_b72": func(tb testing.TB, c roundingCase) string {
			tb.Helper()
			require.Equal(tb, c.digits, c.exact.DigitsByError(c.source))
			return c.exact.RoundSignificant(c.digits)
		},
		"first_digit": func(tb testing.TB, c roundingCase) string {
			tb.Helper()
			require.Equal(tb, c.digits, c.exact.DigitsByFirst(c.source))
			return c.exact.RoundSignificant(c.digits)
		},
		"floor": func(_ testing.TB, c roundingCase) string { return c.exact.FloorPlaces(c.digits) },
		"ceil":  func(_ testing.TB, c roundingCase) string { return c.exact.CeilPlaces(c.digits) },
	}
	for _, r := range vectors(t, "units_rounding") {
		if r["method"] == "inward" {
			continue // TestRoundInwardVectors
		}
		t.Run(r["id"], func(t *testing.T) {
			source, exact := exactOf(t, r, r["input_value"], r["exact_converted"])
			digits, err := strconv.Atoi(r["digits"])
			require.NoError(t, err)
			method, known := methods[r["method"]]
			require.True(t, known, r["method"])
			require.Equal(t, r["expected"], method(t, roundingCase{r, source, exact, digits}), r["source"])
		})
	}
}

// decimalStep is 10^-places as digits: 1, 0.1, 0.01.
func decimalStep(places int) string {
	if places == 0 {
		return "1"
	}
	return "0." + strings.Repeat("0", places-1) + "1"
}

// Limits of units_rounding.csv on a scale: from figures as written, and from
// the same limits as Torque values.
func TestRoundInwardVectors(t *testing.T) {
	for _, r := range vectors(t, "units_rounding") {
		if r["role"] == "nominal" {
			continue // TestRoundingVectors
		}
		t.Run(r["id"], func(t *testing.T) {
			from, isOurs := unitByUCUM(r["input_unit"])
			to, isOursToo := unitByUCUM(r["target_unit"])
			require.True(t, isOurs && isOursToo, "a limit is a torque in every row")
			low, high, _ := strings.Cut(r["input_value"], "..")
			wantLow, wantHigh, _ := strings.Cut(r["expected"], "..")
			switch r["role"] {
			case "min":
				high, wantHigh = "", ""
			case "max":
				low, high, wantLow, wantHigh = "", low, "", wantLow
			}
			places, err := strconv.Atoi(r["digits"])
			require.NoError(t, err)
			scale := torque.Scale{Unit: to, Step: decimalStep(places)}
			written := torque.FigureWindow{Min: figure(t, low, from), Max: figure(t, high, from)}
			window, err := written.Window()
			require.NoError(t, err)

			for name, round := range map[string]func(torque.Scale) (torque.Marks, error){
				"figures": written.RoundInward, "torques": window.RoundInward,
			} {
				marks, err := round(scale)
				if r["status"] == "error" {
					require.ErrorIs(t, err, torque.ErrVanishes, name)
					continue
				}
				require.NoError(t, err, name)
				require.Equal(t, []string{wantLow, wantHigh}, []string{marks.Min.Digits(), marks.Max.Digits()}, name)
			}
		})
	}
}

// figure parses digits; no digits are no figure.
func figure(tb testing.TB, digits string, unit torque.Unit) torque.Figure {
	tb.Helper()
	if digits == "" {
		return torque.Figure{}
	}
	f, err := torque.ParseFigure(digits, unit)
	require.NoError(tb, err)
	return f
}

func TestRoundingOfExtremes(t *testing.T) {
	value := func(text string) torque.Exact {
		number, ok := new(big.Rat).SetString(text)
		require.True(t, ok)
		return torque.NewExact(number, torque.NewtonMeters)
	}
	for _, tt := range []struct {
		name string
		got  string
		want string
	}{
		{"negative tie", value("-2.5").RoundPlaces(0), "-2"},
		{"negative floor goes down", value("-2.5").FloorPlaces(0), "-3"},
		{"negative ceiling goes up", value("-2.5").CeilPlaces(0), "-2"},
		{"small value keeps its zeros", value("0.0049").RoundPlaces(3), "0.005"},
		{"small value to one digit", value("0.0049").RoundSignificant(1), "0.005"},
		{"carry from below one", value("0.0996").RoundSignificant(2), "0.10"},
		{"carry at a whole number", value("99.5").RoundSignificant(2), "100"},
		{"tens", value("1345").RoundPlaces(-1), "1340"},
		{"whole number to fewer digits", value("304.5").RoundSignificant(2), "300"},
		{"zero", value("0").RoundSignificant(3), "0.00"},
		{"zero value of Exact", torque.Exact{}.RoundPlaces(1), "0.0"},
		{"at least one digit", value("5.4").RoundSignificant(0), "5"},
		{"absurd places are held back", value("5").RoundPlaces(math.MinInt), "0"},
	} {
		t.Run(tt.name, func(t *testing.T) { require.Equal(t, tt.want, tt.got) })
	}
}
