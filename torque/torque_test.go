package torque_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

// nearestNano is a slow, readable reference for FromNewtonMeters: the exact
// value of the float in nanonewton meters, rounded half to even.
func nearestNano(newtonMeters float64) int64 {
	exact := new(big.Rat).SetFloat64(newtonMeters)
	exact.Mul(exact, big.NewRat(1_000_000_000, 1))
	below := new(big.Int).Div(exact.Num(), exact.Denom())
	rest := new(big.Rat).Sub(exact, new(big.Rat).SetInt(below))
	switch half := rest.Cmp(big.NewRat(1, 2)); {
	case half > 0, half == 0 && below.Bit(0) == 1:
		return below.Int64() + 1
	}
	return below.Int64()
}

func TestFromNewtonMetersRoundsToNearestEven(t *testing.T) {
	for _, newtonMeters := range []float64{
		0, 5, -5, 0.1, 1e6, -1e6, 0.0000000005, 0.0000000015, 0.0000000025, -0.0000000005,
		999999.9999999995, 1.0000000005, math.Nextafter(0.0000000005, 1), math.SmallestNonzeroFloat64,
		0.001953125, 1.0 / 1024 / 1024, // ties and near ties in binary
	} {
		got, err := torque.FromNewtonMeters(newtonMeters)
		require.NoError(t, err)
		require.Equal(t, nearestNano(newtonMeters), int64(got), "%v", newtonMeters)
	}
	rapid.Check(t, func(t *rapid.T) {
		newtonMeters := rapid.Float64Range(-1e6, 1e6).Draw(t, "newton meters")
		got, err := torque.FromNewtonMeters(newtonMeters)
		require.NoError(t, err)
		require.Equal(t, nearestNano(newtonMeters), int64(got))
	})
	rapid.Check(t, func(t *rapid.T) { // floats built to fall on a tie or just beside one
		half := float64(rapid.Int64Range(-2e15, 2e15).Draw(t, "half nN·m")) / 2e9
		newtonMeters := math.Nextafter(half, rapid.SampledFrom([]float64{half, -2e6, 2e6}).Draw(t, "toward"))
		got, err := torque.FromNewtonMeters(max(-1e6, min(newtonMeters, 1e6)))
		require.NoError(t, err)
		require.Equal(t, nearestNano(max(-1e6, min(newtonMeters, 1e6))), int64(got))
	})
}

func TestFromNewtonMetersRefuses(t *testing.T) {
	for _, tt := range []struct {
		name  string
		value float64
		want  error
	}{
		{"not a number", math.NaN(), torque.ErrNotFinite},
		{"infinity", math.Inf(1), torque.ErrNotFinite},
		{"minus infinity", math.Inf(-1), torque.ErrNotFinite},
		{"just above the range", math.Nextafter(1e6, 2e6), torque.ErrOutOfRange},
		{"just below the range", math.Nextafter(-1e6, -2e6), torque.ErrOutOfRange},
		{"far out", math.MaxFloat64, torque.ErrOutOfRange},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := torque.FromNewtonMeters(tt.value)
			require.ErrorIs(t, err, tt.want)
			require.Zero(t, got)
		})
	}
}

func wireTorque() *rapid.Generator[torque.Torque] {
	return rapid.Map(rapid.Int64Range(int64(-torque.MaxWire), int64(torque.MaxWire)),
		func(nano int64) torque.Torque { return torque.Torque(nano) })
}

func TestTorqueRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.OneOf(wireTorque(), rapid.SampledFrom([]torque.Torque{
			0, 1, -1, torque.MaxWire, -torque.MaxWire, torque.MaxWire - 1,
		})).Draw(t, "torque")

		got, err := torque.FromNewtonMeters(want.NewtonMeters())
		require.NoError(t, err)
		require.Equal(t, want, got, "float")

		got, err = torque.FromRat(want.Rat())
		require.NoError(t, err)
		require.Equal(t, want, got, "rational")

		got, err = torque.Parse(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got, "text for people")

		text, err := want.MarshalText()
		require.NoError(t, err)
		require.NoError(t, got.UnmarshalText(text))
		require.Equal(t, want, got, "UCUM text")

		data, err := json.Marshal(map[torque.Torque]torque.Torque{want: want})
		require.NoError(t, err)
		var read map[torque.Torque]torque.Torque
		require.NoError(t, json.Unmarshal(data, &read))
		require.Equal(t, map[torque.Torque]torque.Torque{want: want}, read, "JSON")
	})
}

func TestTorqueFormat(t *testing.T) {
	const value = 5*torque.NewtonMeter + 250*torque.MillinewtonMeter
	for _, tt := range []struct {
		format string
		value  torque.Torque
		want   string
	}{
		{"%v", value, "5.25 N·m"},
		{"%s", value, "5.25 N·m"},
		{"%+v", value, "+5.25 N·m"},
		{"% v", value, " 5.25 N·m"},
		{"%q", value, `"5.25 N·m"`},
		{"%.1v", value, "5.2 N·m"}, // tie to even: NIST SP 811 (2008) B.7.1
		{"%.0s", value, "5 N·m"},
		{"%.4s", value, "5.2500 N·m"},
		{"%f", value, "5.25"},
		{"%.1f", value, "5.2"},
		{"%.1f", 5*torque.NewtonMeter + 350*torque.MillinewtonMeter, "5.4"},
		{"%+.1f", value, "+5.2"},
		{"%8.1f|", value, "     5.2|"},
		{"%-8.1f|", value, "5.2     |"},
		{"%08.1f", -value, "-00005.2"},
		{"%12v|", value, "    5.25 N·m|"},
		{"%-12v|", value, "5.25 N·m    |"},
		{"%d", value, "5250000000"},
		{"%+12d", value, " +5250000000"},
		{"%v", 0, "0 N·m"},
		{"%v", torque.NanonewtonMeter, "0.000000001 N·m"},
		{"%v", -torque.NanonewtonMeter, "-0.000000001 N·m"},
		{"%v", torque.KilonewtonMeter, "1000 N·m"},
		{"%v", math.MinInt64, "-9223372036.854775808 N·m"},
		{"%x", value, "%!x(torque.Torque=5.25 N·m)"},
	} {
		t.Run(tt.format+" "+tt.want, func(t *testing.T) {
			require.Equal(t, tt.want, fmt.Sprintf(tt.format, tt.value))
		})
	}
}

func TestTorqueTextIsExactOrRefused(t *testing.T) {
	for _, tt := range []struct{ name, text string }{
		{"no unit", "5"},
		{"no space", "5N.m"},
		{"two spaces", "5  N.m"},
		{"symbol instead of UCUM", "5 N·m"},
		{"other unit", "44 [lbf_av].[in_i]"},
		{"more than a nanonewton meter can hold", "0.0000000001 N.m"},
		{"exponent", "5e0 N.m"},
		{"plus sign", "+5 N.m"},
		{"comma", "5,5 N.m"},
		{"out of range", "1000000.000000001 N.m"},
		{"other digits", "٥ N.m"},
		{"empty", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			value := torque.NewtonMeter
			require.Error(t, value.UnmarshalText([]byte(tt.text)))
			require.Equal(t, torque.NewtonMeter, value, "the receiver keeps its value")
		})
	}
	_, err := (torque.MaxWire + 1).MarshalText()
	require.ErrorIs(t, err, torque.ErrOutOfRange)
}

func TestParse(t *testing.T) {
	for _, tt := range []struct {
		text string
		want torque.Torque
	}{
		{"5 N·m", 5 * torque.NewtonMeter},
		{"5 N.m", 5 * torque.NewtonMeter},
		{"5Nm", 5 * torque.NewtonMeter},
		{" -0.5 N·m ", -500 * torque.MillinewtonMeter},
		{"44 lbf·in", 4_971_332_477},                     // 4.9713324772151348 N·m, exact factor
		{"1 [oz_av].[g].[in_i]", 7_061_552},              // 0.00706155181422604375 N·m
		{"0.0000000005 N·m", 0},                          // tie to even
		{"0.0000000015 N·m", 2 * torque.NanonewtonMeter}, // tie to even
		{"1 kN·m", torque.KilonewtonMeter},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := torque.Parse(tt.text)
			require.NoError(t, err)
			require.Equal(t, tt.want, got)
		})
	}
	for _, text := range []string{"", "5", "N·m", "5 nm", "5,5 Nm", "5-7 Nm", "5 Nm max", "1e3 N·m", "1001 kN·m"} {
		t.Run("refuses "+text, func(t *testing.T) {
			_, err := torque.Parse(text)
			require.Error(t, err)
		})
	}
}

func TestConstants(t *testing.T) {
	require.EqualValues(t, 1, torque.NanonewtonMeter)
	require.EqualValues(t, 1e3, torque.MicronewtonMeter)
	require.EqualValues(t, 1e6, torque.MillinewtonMeter)
	require.EqualValues(t, 1e9, torque.NewtonMeter)
	require.EqualValues(t, 1e12, torque.KilonewtonMeter)
	require.Equal(t, 1e6*torque.NewtonMeter, torque.MaxWire)
}
