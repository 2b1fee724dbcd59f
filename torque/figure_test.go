package torque_test

import (
	"encoding/json"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

// anyUnit draws a unit.
func anyUnit() *rapid.Generator[torque.Unit] { return rapid.SampledFrom(torque.Units()) }

// anyDigits draws digits as they are written.
func anyDigits() *rapid.Generator[string] { return rapid.StringMatching(`-?[0-9]{1,9}(\.[0-9]{1,9})?`) }

func TestFigureKeepsTheDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits, unit := anyDigits().Draw(t, "digits"), anyUnit().Draw(t, "unit")
		want, err := torque.ParseFigure(digits, unit)
		require.NoError(t, err)
		require.Equal(t, digits, want.Digits())
		require.Equal(t, unit, want.Unit())
		data, err := json.Marshal(want)
		require.NoError(t, err)
		var got torque.Figure
		require.NoError(t, json.Unmarshal(data, &got))
		require.Equal(t, want, got)
	})
	f, err := torque.ParseFigure("5.0", torque.NewtonMeters)
	require.NoError(t, err)
	data, err := json.Marshal(f)
	require.NoError(t, err)
	require.JSONEq(t, `{"value":"5.0","unit":"N.m"}`, string(data))
	require.Equal(t, "5.0 N·m", f.String())
	require.Equal(t, 1, f.Places())
	require.Equal(t, 2, f.SignificantDigits())
	require.NotEqual(t, f, figure(t, "5", torque.NewtonMeters), "5.0 is not written as 5")
}

func TestParseFigureRefuses(t *testing.T) {
	for _, digits := range []string{
		"", " ", "-", ".", "5.", ".5", "5,0", "1 234", "1e3", "0x5", "+5", "--5", "5-7", "5.0.0", "٥", "５", "NaN", "Inf",
		"5 ", strings.Repeat("9", torque.MaxFigureDigits+1),
	} {
		t.Run(digits, func(t *testing.T) {
			_, err := torque.ParseFigure(digits, torque.NewtonMeters)
			require.ErrorIs(t, err, torque.ErrNotDecimal)
			_, err = torque.Convert(digits, torque.NewtonMeters, torque.NewtonCentimeters)
			require.ErrorIs(t, err, torque.ErrNotDecimal)
		})
	}
}

func TestFigureJSONRefuses(t *testing.T) {
	for _, text := range []string{
		`{}`, `{"value":"5"}`, `{"unit":"N.m"}`, `{"value":5,"unit":"N.m"}`, `{"value":"5","unit":"Nm"}`,
		`{"value":"5e0","unit":"N.m"}`, `"5 N.m"`, `[]`,
	} {
		t.Run(text, func(t *testing.T) {
			var f torque.Figure
			require.Error(t, json.Unmarshal([]byte(text), &f))
			require.True(t, f.IsZero())
		})
	}
}

func TestZeroFigure(t *testing.T) {
	var none torque.Figure
	require.True(t, none.IsZero())
	require.Empty(t, none.Digits())
	require.Zero(t, none.Rat().Sign())
	require.Zero(t, none.SignificantDigits())
	require.Equal(t, "no figure", none.String())
	_, err := none.Torque()
	require.ErrorIs(t, err, torque.ErrNoFigure)
	data, err := json.Marshal(none)
	require.NoError(t, err)
	require.Equal(t, "null", string(data))
	require.NoError(t, json.Unmarshal(data, &none))
	require.True(t, none.IsZero())
	require.False(t, figure(t, "0", torque.NewtonMeters).IsZero(), "a written 0 is a figure")
}

// Torque is the only step that rounds, and by no more than half a nanonewton
// meter; everything else is exact there and back.
func TestFigureConversionIsExact(t *testing.T) {
	half := big.NewRat(1, 2_000_000_000)
	rapid.Check(t, func(t *rapid.T) {
		from, to := anyUnit().Draw(t, "from"), anyUnit().Draw(t, "to")
		f, err := torque.ParseFigure(rapid.StringMatching(`-?[0-9]{1,3}(\.[0-9]{1,12})?`).Draw(t, "digits"), from)
		require.NoError(t, err)
		exact := f.In(to)
		require.Equal(t, to, exact.Unit())
		require.Zero(t, exact.In(from).Rat().Cmp(f.Rat()), "there and back")

		want := new(big.Rat).Mul(f.Rat(), from.Factor())
		require.Zero(t, want.Cmp(f.In(torque.NewtonMeters).Rat()))
		got, err := f.Torque()
		require.NoError(t, err)
		difference := new(big.Rat).Sub(got.Rat(), want)
		require.LessOrEqual(t, difference.Abs(difference).Cmp(half), 0)
		viaExact, err := exact.Torque()
		require.NoError(t, err)
		require.Equal(t, got, viaExact)
	})
}

func TestFigureOutOfRange(t *testing.T) {
	for _, tt := range []struct {
		digits string
		unit   torque.Unit
	}{
		{"1000000.000000001", torque.NewtonMeters},
		{"1000.000000000001", torque.KilonewtonMeters},
		{"999999999999999999999999", torque.GramForceCentimeters},
	} {
		_, err := figure(t, tt.digits, tt.unit).Torque()
		require.ErrorIs(t, err, torque.ErrOutOfRange, tt.digits)
	}
	edge, err := figure(t, "1000000", torque.NewtonMeters).Torque()
	require.NoError(t, err)
	require.Equal(t, torque.MaxWire, edge)
}

func TestExactText(t *testing.T) {
	ends, err := torque.Convert("44", torque.PoundForceInches, torque.NewtonMeters)
	require.NoError(t, err)
	text, isDecimal := ends.Decimal()
	require.True(t, isDecimal)
	require.Equal(t, "4.9713324772151348", text) // 44 times the exact factor
	require.Equal(t, "4.9713324772151348 N·m", ends.String())

	open, err := torque.Convert("1", torque.NewtonMeters, torque.KilogramForceCentimeters)
	require.NoError(t, err)
	text, isDecimal = open.Decimal()
	require.False(t, isDecimal)
	require.Equal(t, "2000000/196133", text)
	require.Equal(t, text, open.Text())
	require.InEpsilon(t, 10.1971621297793, open.Float64(), 1e-14) // GNU Units 2.22

	// kgf and lbf convert without standard gravity.
	metric, err := torque.Convert("1", torque.PoundForceInches, torque.KilogramForceCentimeters)
	require.NoError(t, err)
	require.Equal(t, "1.1521246198", metric.Text())
}

func TestExactIsImmutable(t *testing.T) {
	number := big.NewRat(5, 1)
	exact := torque.NewExact(number, torque.NewtonMeters)
	number.SetInt64(7)
	exact.Rat().SetInt64(9)
	require.Equal(t, "5", exact.Text())
	require.Equal(t, "0", torque.NewExact(nil, torque.NewtonMeters).Text())
}

// The three roundings enclose the value and differ by at most one step.
func TestRoundingEncloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := torque.ParseFigure(anyDigits().Draw(t, "digits"), anyUnit().Draw(t, "from"))
		require.NoError(t, err)
		exact, places := f.In(anyUnit().Draw(t, "to")), rapid.IntRange(-3, 6).Draw(t, "places")
		below, at, above := rat(t, exact.FloorPlaces(places)), rat(t, exact.RoundPlaces(places)), rat(t, exact.CeilPlaces(places))
		require.LessOrEqual(t, below.Cmp(exact.Rat()), 0)
		require.GreaterOrEqual(t, above.Cmp(exact.Rat()), 0)
		require.True(t, at.Cmp(below) == 0 || at.Cmp(above) == 0)
		toBelow, toAbove := new(big.Rat).Sub(exact.Rat(), below), new(big.Rat).Sub(above, exact.Rat())
		switch toBelow.Cmp(toAbove) {
		case -1:
			require.Zero(t, at.Cmp(below))
		case 1:
			require.Zero(t, at.Cmp(above))
		}
	})
}

func rat(tb require.TestingT, text string) *big.Rat {
	value, ok := new(big.Rat).SetString(text)
	require.True(tb, ok, text)
	return value
}
