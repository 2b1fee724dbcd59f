package wrench_test

import (
	"encoding/json"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// The rows of wrench_tools.csv that calculate a deviation.
func TestPublishedDeviations(t *testing.T) {
	for _, r := range ofType(t, vectors(t, "tools"), "row_type", "calc") {
		t.Run(r["id"]+" "+r["statement"], func(t *testing.T) {
			shown := figure(t, r["set_value"], torque.NewtonMeters)
			c, err := wrench.Compare(shown, figure(t, r["reference_value"], torque.NewtonMeters))
			require.NoError(t, err)
			closeTo(t, number(t, r["deviation_percent"]), number(t, c.Percent(14)), 1e-11)
			permitted, err := wrench.ParseDeviation(r["mpd_percent"])
			require.NoError(t, err)
			require.Equal(t, r["within_mpd"] == "yes", c.IsWithin(permitted))
		})
	}
}

// The rows of wrench_tools.csv that state a permitted deviation by class. Two
// were read in a review of the standard; the others are from memory, so they
// only show that the table was copied without slips.
func TestPermittedDeviationByClass(t *testing.T) {
	read := 0
	for _, r := range vectors(t, "tools") {
		if !strings.HasPrefix(r["topic"], "maximum permissible deviation") {
			continue
		}
		t.Run(r["id"], func(t *testing.T) {
			class := classOf(t, r["applies_to"])
			require.Equal(t, r["value"], permittedAsWritten(class, r["applies_to"]))
			_, basis := class.Permitted(1)
			require.Equal(t, r["confidence"] == "confirmed" || class == wrench.IIA, basis == wrench.BasisRead)
			read += strings.Count(r["confidence"], "confirmed")
		})
	}
	require.Equal(t, 2, read)
}

// classOf reads "Type II class A (wrench, …" or "Type II class A, T_max > …".
func classOf(tb testing.TB, appliesTo string) wrench.Class {
	tb.Helper()
	name := strings.FieldsFunc(appliesTo, func(r rune) bool { return r == ',' || r == '(' })[0]
	words := strings.Fields(name) // Type II class A
	require.Len(tb, words, 4)
	var class wrench.Class
	require.NoError(tb, class.UnmarshalText([]byte(words[1]+"-"+words[3])))
	return class
}

// permittedAsWritten is one figure where the row is about one size of tool,
// and both where it is about the class.
func permittedAsWritten(class wrench.Class, appliesTo string) string {
	small, _ := class.Permitted(10 * torque.NewtonMeter)
	large, _ := class.Permitted(10*torque.NewtonMeter + 1)
	switch {
	case strings.Contains(appliesTo, ">"):
		return percent(large)
	case strings.Contains(appliesTo, "<="):
		return percent(small)
	}
	return percent(small) + "|" + percent(large)
}

func percent(d wrench.Deviation) string { return strings.TrimSuffix(d.String(), " %") }

func TestEveryClassHasAKindAndADeviation(t *testing.T) {
	require.Len(t, wrench.Classes(), 12)
	for _, class := range wrench.Classes() {
		d, basis := class.Permitted(20 * torque.NewtonMeter)
		require.Contains(t, []wrench.Deviation{4 * wrench.Percent, 6 * wrench.Percent}, d)
		require.NotEmpty(t, basis)
		require.Equal(t, strings.HasPrefix(class.String(), "I-"), class.Kind() == wrench.Indicating)
		require.NotZero(t, class.Kind())
	}
	require.Zero(t, wrench.Class(0).Kind())
}

func TestParseDeviation(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       wrench.Deviation
		fraction   float64
		written    string
		bad        bool
	}{
		{"whole", "4", 40_000, 0.04, "4 %", false},
		{"trailing zeros", "4.00", 40_000, 0.04, "4 %", false},
		{"many zeros", "000000000000006", 60_000, 0.06, "6 %", false},
		{"part per million", "0.0001", 1, 1e-6, "0.0001 %", false},
		{"negative", "-6.5421", -65_421, -0.065421, "-6.5421 %", false},
		{"most", "50", 500_000, 0.5, "50 %", false},
		{"nothing", "", 0, 0, "0 %", true},
		{"beyond", "50.0001", 0, 0, "0 %", true},
		{"five decimals", "4.00001", 0, 0, "0 %", true},
		{"sign", "+4", 0, 0, "0 %", true},
		{"unit", "4 %", 0, 0, "0 %", true},
		{"infinite", "Inf", 0, 0, "0 %", true},
		{"point", ".5", 0, 0, "0 %", true},
		{"two points", "1.2.3", 0, 0, "0 %", true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := wrench.ParseDeviation(tt.text)
			require.Equal(t, tt.bad, err != nil)
			require.Equal(t, tt.want, d)
			require.InDelta(t, tt.fraction, d.Fraction(), 1e-18)
			require.Equal(t, tt.written, d.String())
		})
	}
}

// Both limits of what is delivered, by rationals: S/(1+d) and S/(1-d).
func TestDelivered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Int64Range(1, int64(torque.MaxWire)).Draw(t, "setting")
		d := wrench.Deviation(rapid.Int32Range(-500_000, 500_000).Draw(t, "deviation"))
		least, most := d.Delivered(torque.Torque(s))
		size := big.NewRat(max(int64(d), -int64(d)), 1_000_000)
		one := big.NewRat(1, 1)
		exactLeast := new(big.Rat).Quo(big.NewRat(s, 1), new(big.Rat).Add(one, size))
		exactMost := new(big.Rat).Quo(big.NewRat(s, 1), new(big.Rat).Sub(one, size))
		for _, gap := range []*big.Rat{
			new(big.Rat).Sub(exactLeast, big.NewRat(int64(least), 1)),
			new(big.Rat).Sub(big.NewRat(int64(most), 1), exactMost),
		} {
			require.GreaterOrEqual(t, gap.Sign(), 0)
			require.Negative(t, gap.Cmp(one))
		}
	})
	least, most := (4 * wrench.Percent).Delivered(-1)
	require.Equal(t, [2]torque.Torque{}, [2]torque.Torque{least, most})
}

func TestCompare(t *testing.T) {
	// A tool set to 5 N·m that delivers 5.35 N·m over-delivers by 7 % of the
	// setting, and its deviation is -6.54 % of the reference.
	c, err := wrench.Compare(figure(t, "5", torque.NewtonMeters), figure(t, "5.35", torque.NewtonMeters))
	require.NoError(t, err)
	require.Equal(t, "-6.5421", c.Percent(4))
	d, err := c.Deviation()
	require.NoError(t, err)
	require.Equal(t, wrench.Deviation(-65_421), d)
	require.Equal(t, "-7/107", c.Relative().String())

	mixed, err := wrench.Compare(figure(t, "100", torque.PoundForceInches), figure(t, "11.29848290276167", torque.NewtonMeters))
	require.NoError(t, err)
	require.Zero(t, mixed.Relative().Sign())
	require.True(t, mixed.IsWithin(0))

	_, err = wrench.Compare(torque.Figure{}, figure(t, "0", torque.NewtonMeters))
	require.Equal(t, []string{"shown outside-range", "reference outside-range"}, rules(err))
	far, err := wrench.Compare(figure(t, "5", torque.NewtonMeters), figure(t, "2", torque.NewtonMeters))
	require.NoError(t, err)
	_, err = far.Deviation()
	require.ErrorContains(t, err, "beyond 50 %")
	require.Zero(t, wrench.Comparison{}.Relative().Sign())
}

func TestDeviationText(t *testing.T) {
	var read struct{ D wrench.Deviation }
	require.NoError(t, json.Unmarshal([]byte(`{"D":"-3.25"}`), &read))
	require.Equal(t, wrench.Deviation(-32_500), read.D)
	written, err := json.Marshal(read)
	require.NoError(t, err)
	require.JSONEq(t, `{"D":"-3.25"}`, string(written))
	require.Error(t, json.Unmarshal([]byte(`{"D":"much"}`), &read))
	_, err = wrench.ParseDeviation(strings.Repeat("ü", 60))
	require.ErrorContains(t, err, `not "`+strings.Repeat("ü", 40)+`…"`)
}
