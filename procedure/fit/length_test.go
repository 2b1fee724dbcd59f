package fit_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure/fit"
)

func mm(tb testing.TB, text string) fit.Length {
	tb.Helper()
	l, err := fit.ParseLength(text + " mm")
	require.NoError(tb, err)
	return l
}

func TestParseLength(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       fit.Length
		canonical  string
	}{
		{"millimeters", "36.75 mm", 36_750_000, "36.75 mm"},
		{"no space", "36.75mm", 36_750_000, "36.75 mm"},
		{"decimal comma", "36,75 mm", 36_750_000, "36.75 mm"},
		{"centimeters", "41 cm", 410 * fit.Millimeter, "410 mm"},
		{"meters", "1.2 m", 1200 * fit.Millimeter, "1200 mm"},
		{"inch", "1.37 in", 34_798_000, "34.798 mm"},
		{"inch sign", `1"`, fit.Inch, "25.4 mm"},
		{"fraction", "9/16 in", 14_287_500, "14.2875 mm"},
		{"sixty-fourth", "1/64 in", 396_875, "0.396875 mm"},
		{"mixed number", "1-1/8 in", 28_575_000, "28.575 mm"},
		{"mixed number with a space", "1 1/8 inch", 28_575_000, "28.575 mm"},
		{"negative", "-0.09 mm", -90_000, "-0.09 mm"},
		{"minus sign", "−1.85 mm", -1_850_000, "-1.85 mm"},
		{"plus", "+2 mm", 2 * fit.Millimeter, "2 mm"},
		{"zero", "0 mm", 0, "0 mm"},
		{"tie goes to even, down", "11/128 in", 2_182_812, "2.182812 mm"}, // 2 182 812.5 nm
		{"tie goes to even, up", "0.0000015 mm", 2, "0.000002 mm"},
		{"below a nanometer", "0.0000004 mm", 0, "0 mm"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := fit.ParseLength(test.text)
			require.NoError(t, err)
			require.Equal(t, test.want, got)
			require.Equal(t, test.canonical, got.String())
		})
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, test := range []struct{ name, text string }{
		{"empty", ""},
		{"no unit", "36.75"},
		{"unit alone", "mm"},
		{"other unit", "3 ft"},
		{"two points", "3.6.7 mm"},
		{"no digit before the point", ".5 mm"},
		{"no digit after the point", "5. mm"},
		{"exponent", "1e3 mm"},
		{"infinite", "Inf mm"},
		{"divided by zero", "1/0 in"},
		{"two signs", "--1 mm"},
		{"grouping", "1 000 mm"},
		{"too large", "9999999999999 m"},
		{"too long", strings.Repeat("1", 100) + " mm"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := fit.ParseLength(test.text)
			require.ErrorIs(t, err, fit.ErrLength)
		})
	}
}

func TestLengthUnits(t *testing.T) {
	require.EqualValues(t, 25_400_000, fit.Inch) // NIST SP 811:2008, B.8: 1 in = 25.4 mm exactly
	require.Equal(t, fit.Meter, 100*fit.Centimeter)
	require.InDelta(t, 36.75, (36750 * fit.Micrometer).Millimeters(), 1e-12)
	require.Equal(t, 36750*fit.Micrometer, fit.FromMillimeters(36.75))
	require.Zero(t, fit.FromMillimeters(math.NaN()))
	require.Zero(t, fit.FromMillimeters(math.Inf(1)))
	require.Zero(t, fit.FromMillimeters(1e300))
	require.Equal(t, fit.Millimeter, (-fit.Millimeter).Abs())
}

func TestLengthRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := fit.Length(rapid.Int64().Draw(t, "nanometers"))
		text, err := json.Marshal(l)
		require.NoError(t, err)
		var back fit.Length
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, l, back)
	})
}

func TestLengthUnmarshalKeepsOnError(t *testing.T) {
	l := fit.Millimeter
	require.ErrorIs(t, l.UnmarshalText([]byte("one")), fit.ErrLength)
	require.Equal(t, fit.Millimeter, l)
}

func FuzzParseLength(f *testing.F) {
	for _, seed := range []string{"36.75 mm", "1.37 in", "9/16 in", "1-1/8 in", "41 cm", "-0.09 mm", "36,75mm", `1"`} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := fit.ParseLength(text)
		if err != nil {
			require.ErrorIs(t, err, fit.ErrLength)
			require.Zero(t, l)
			return
		}
		back, err := fit.ParseLength(l.String())
		require.NoError(t, err, l.String())
		require.Equal(t, l, back)
	})
}

func BenchmarkParseLength(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := fit.ParseLength("36.75 mm"); err != nil {
			b.Fatal(err)
		}
	}
}
