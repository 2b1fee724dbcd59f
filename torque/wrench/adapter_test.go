package wrench_test

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// calculate works out a row of wrench_adapters.csv.
func calculate(tb testing.TB, r row) (wrench.ExactSetting, error) {
	tb.Helper()
	var lengths wrench.LengthUnit
	require.NoError(tb, lengths.UnmarshalText([]byte(r["length_unit"])))
	unit, err := torque.ParseUCUM(r["torque_unit"])
	require.NoError(tb, err)
	value, err := torque.ParseFigure(r["torque"], unit)
	if err != nil {
		return wrench.ExactSetting{}, err
	}
	a, err := wrench.NewAdapter(wrench.AdapterDescription{
		Length: r["wrench_length"], Extension: r["extension"], AngleDegrees: r["angle_deg"], Unit: lengths})
	if err != nil {
		return wrench.ExactSetting{}, err
	}
	if r["mode"] == "applied" {
		return a.Applied(value)
	}
	return a.Setting(value)
}

// Every row to 1e-12 of its exact result, and to the digits printed where one
// was printed; the sources stand in the rows. Refusals are common practice.
func TestPublishedAdapters(t *testing.T) {
	printed := 0
	for _, r := range vectors(t, "adapters") {
		t.Run(r["id"], func(t *testing.T) {
			s, err := calculate(t, r)
			if r["expected"] == "error" {
				require.Error(t, err, r["error_reason"])
				return
			}
			require.NoError(t, err)
			require.InEpsilon(t, number(t, r["result_exact"]), s.Setting, 1e-12)
			requireDigits(t, r["result_exact"], s)
			if r["printed_result"] != "" {
				require.InDelta(t, number(t, r["printed_result"]), s.Setting, lastDigit(r["printed_result"]), r["source"])
				printed++
			}
		})
	}
	require.Equal(t, 10, printed, "rows with a printed result")
}

// requireDigits compares the decimal of a row, rounded at its last digit, with
// the exact result.
func requireDigits(tb testing.TB, want string, s wrench.ExactSetting) {
	tb.Helper()
	exact := rat(tb, s.Exact)
	difference := new(big.Rat).Sub(exact, rat(tb, want))
	require.LessOrEqual(tb, difference.Abs(difference).Cmp(new(big.Rat).SetFloat64(lastDigit(want)/2*1.001)), 0, "%s, not %s", s.Exact, want)
}

// lastDigit is one of the last written digit.
func lastDigit(digits string) float64 {
	for i := range digits {
		if digits[i] == '.' {
			return math.Pow(10, float64(i+1-len(digits)))
		}
	}
	return 1
}

func TestAdapterIsExactWhereItCanBe(t *testing.T) {
	for _, tt := range []struct {
		name, length, extension, angle string
		unit                           wrench.LengthUnit
		torque, exact                  string
		rounded                        bool
	}{
		{"in line", "10", "1.5", "", wrench.Inches, "135", "2700/23", false},
		{"in line, a whole turn on", "10", "1.5", "-360", wrench.Inches, "135", "2700/23", false},
		{"right angle", "200", "25", "90", wrench.Millimeters, "5.0", "5", false},
		{"right angle the other way", "200", "25", "270", wrench.Millimeters, "5.0", "5", false},
		{"pointing back", "10", "1.5", "180", wrench.Feet, "135", "2700/17", false},
		{"60", "300", "40", "60", wrench.Centimeters, "12", "11.25", false},
		{"300", "300", "40", "300.00", wrench.Meters, "12", "11.25", false},
		{"120", "300", "40", "120", wrench.Meters, "12", "90/7", false},
		{"240", "300", "40", "-240", wrench.Meters, "12", "90/7", false},
		{"no extension", "300", "0", "60", wrench.Meters, "12", "12", false},
		{"45", "200", "25", "45", wrench.Millimeters, "5", "4.5939484842919385673", true},
		{"no extension at 45", "200", "0", "45", wrench.Millimeters, "5", "5", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: tt.length, Extension: tt.extension, AngleDegrees: tt.angle, Unit: tt.unit})
			require.NoError(t, err)
			s, err := a.Setting(figure(t, tt.torque, torque.NewtonMeters))
			require.NoError(t, err)
			require.Equal(t, tt.exact, s.Exact)
			require.Equal(t, tt.rounded, s.Rounded)
			require.Equal(t, !tt.rounded, a.IsExact())
		})
	}
}

// surd returns a + b·√n with 200 bits.
func surd(a, b float64, n int64) *big.Float {
	root := new(big.Float).SetPrec(200).SetInt64(n)
	root.Sqrt(root).Mul(root, big.NewFloat(b).SetPrec(200))
	return root.Add(root, big.NewFloat(a))
}

// Cosines that roots give in closed form (elementary geometry) agree with the
// series to all 20 digits shown. With L = 1 and E = 1 the torque applied at a
// setting of 1 is 1 + cos a.
func TestCosinesByRoots(t *testing.T) {
	for _, tt := range []struct {
		name string
		want *big.Float
	}{
		{"30", surd(1, 0.5, 3)},       // √3/2
		{"45", surd(1, 0.5, 2)},       // √2/2
		{"36", surd(1.25, 0.25, 5)},   // (1 + √5)/4
		{"72", surd(0.75, 0.25, 5)},   // (√5 - 1)/4
		{"108", surd(1.25, -0.25, 5)}, // -(√5 - 1)/4
		{"135", surd(1, -0.5, 2)},     // -√2/2
		{"144", surd(0.75, -0.25, 5)}, // -(1 + √5)/4
		{"-324", surd(1.25, 0.25, 5)}, // 36
		{"330.0", surd(1, 0.5, 3)},    // 30
		{"-150", surd(1, -0.5, 3)},    // 150
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "1", Extension: "1", AngleDegrees: tt.name})
			require.NoError(t, err)
			s, err := a.Applied(figure(t, "1", torque.NewtonMeters))
			require.NoError(t, err)
			got, _, err := big.ParseFloat(s.Exact, 10, 200, big.ToNearestEven)
			require.NoError(t, err)
			require.Equal(t, tt.want.Text('g', 20), got.Text('g', 20))
		})
	}
}

func TestCosinesOfAnyAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degrees := decimal(rapid.Int64Range(-3600, 3600).Draw(t, "angle"), 1)
		a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "4", Extension: "3", AngleDegrees: degrees})
		require.NoError(t, err)
		s, err := a.Applied(figureOf(t, "1", torque.NewtonMeters))
		require.NoError(t, err)
		angle, _ := new(big.Float).SetString(degrees)
		x, _ := angle.Float64()
		require.InDelta(t, 1+0.75*math.Cos(x*math.Pi/180), s.Setting, 1e-14)
	})
}

func TestAdapterRefuses(t *testing.T) {
	for _, tt := range []struct {
		name                     string
		length, extension, angle string
		unit                     wrench.LengthUnit
		want                     []string
	}{
		{"nothing given", "", "", "", 99, []string{"length missing", "extension missing", "length_unit unknown-word"}},
		{"not a number", "NaN", "Inf", "1e2", 0, []string{"length malformed-number", "extension malformed-number", "angle malformed-number"}},
		{"no length", "0", "25", "0", 0, []string{"length outside-range"}},
		{"negative", "-200", "-25", "361", 0, []string{"length outside-range", "extension outside-range", "angle outside-range"}},
		{"nothing left", "200", "200", "180", 0, []string{"extension outside-range"}},
		{"less than nothing left", "200", "300", "180", 0, []string{"extension outside-range"}},
		{"below a tenth", "200", "180.1", "180", 0, []string{"extension outside-range"}},
		{"below a tenth at an angle", "200", "260", "135", 0, []string{"extension outside-range"}},
		{"a tenth", "200", "180", "180", 0, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := wrench.NewAdapter(wrench.AdapterDescription{Length: tt.length, Extension: tt.extension, AngleDegrees: tt.angle, Unit: tt.unit})
			require.Equal(t, tt.want, rules(err))
		})
	}
	for _, none := range []torque.Figure{{}, figure(t, "0.0", torque.NewtonMeters), figure(t, "-5", torque.NewtonMeters)} {
		_, err := wrench.Adapter{}.Setting(none)
		require.Equal(t, []string{"torque outside-range"}, rules(err))
		_, err = wrench.Adapter{}.Applied(none)
		require.Equal(t, []string{"torque outside-range"}, rules(err))
	}
}

func anyAdapter(t *rapid.T, angles ...string) wrench.Adapter {
	angle := decimal(rapid.Int64Range(-3600, 3600).Draw(t, "angle"), 1)
	if len(angles) > 0 {
		angle = rapid.SampledFrom(angles).Draw(t, "exact angle")
	}
	a, err := wrench.NewAdapter(wrench.AdapterDescription{
		Length:       decimal(rapid.Int64Range(100, 20_000).Draw(t, "length"), 1),
		Extension:    decimal(rapid.Int64Range(0, 3_000).Draw(t, "extension"), 1),
		AngleDegrees: angle,
		Unit:         rapid.SampledFrom([]wrench.LengthUnit{wrench.Millimeters, wrench.Inches}).Draw(t, "unit"),
	})
	if err != nil {
		t.Skip("too little lever left")
	}
	return a
}

// There and back again: exactly where the cosine is rational, and else to the
// digits shown. A setting is more than the torque exactly where the adapter
// points back, which its factor tells.
func TestAdapterRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(torque.Units()).Draw(t, "torque unit")
		digits := decimal(rapid.Int64Range(1, 1_000_000).Draw(t, "torque"), 3)

		exact := anyAdapter(t, "0", "60", "90", "120", "180")
		s, err := exact.Setting(figureOf(t, digits, unit))
		require.NoError(t, err)
		want, _ := new(big.Rat).SetString(digits)
		factor, _ := new(big.Rat).SetString(s.Exact)
		factor.Quo(factor, want)
		back, err := exact.Applied(figureOf(t, "1", unit))
		require.NoError(t, err)
		applied, _ := new(big.Rat).SetString(back.Exact)
		require.Equal(t, "1", applied.Mul(applied, factor).RatString())

		a := anyAdapter(t)
		s, err = a.Setting(figureOf(t, digits, unit))
		require.NoError(t, err)
		number, _ := want.Float64()
		require.InEpsilon(t, number*a.Factor(), s.Setting, 1e-14)
		back, err = a.Applied(figureOf(t, digits, unit))
		require.NoError(t, err)
		require.InEpsilon(t, number/a.Factor(), back.Setting, 1e-14)
	})
}

func TestMarkOn(t *testing.T) {
	pounds := tool(t, wrench.Description{ID: "pounds", Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "30", Max: "200", Graduation: "5"})
	newtons := setting(t, "2", "25", "0.1")
	fixed := tool(t, wrench.Description{Kind: wrench.Fixed, Min: "20", Max: "20"})
	crow := func(angle string) wrench.Adapter {
		a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "10", Extension: "1.5", AngleDegrees: angle, Unit: wrench.Inches})
		require.NoError(t, err)
		return a
	}
	for _, tt := range []struct {
		name, torque string
		unit         torque.Unit
		a            wrench.Adapter
		w            *wrench.Wrench
		bound        wrench.Bound
		want         string
	}{
		{"117.39 as a maximum", "135", torque.PoundForceInches, crow("0"), pounds, wrench.Maximum, "115"},
		{"117.39 as a minimum", "135", torque.PoundForceInches, crow("0"), pounds, wrench.Minimum, "120"},
		{"128.8 at an angle", "135", torque.PoundForceInches, crow("71.3"), pounds, wrench.Maximum, "125"},
		{"on a mark stays", "138", torque.PoundForceInches, crow("0"), pounds, wrench.Maximum, "120"},
		{"on a mark stays as a minimum", "138", torque.PoundForceInches, crow("0"), pounds, wrench.Minimum, "120"},
		{"another unit", "135", torque.PoundForceInches, crow("0"), newtons, wrench.Maximum, "13.2"}, // 13.263 N·m
		{"another unit as a minimum", "135", torque.PoundForceInches, crow("0"), newtons, wrench.Minimum, "13.3"},
		{"no adapter", "5.05", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Minimum, "5.1"},
		{"end of the scale", "25.05", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Maximum, "25.0"},
		{"beyond the scale", "25.1", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Maximum, ""},
		{"beyond the scale as a minimum", "25.05", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Minimum, ""},
		{"below the range of use", "4.95", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Maximum, ""},
		{"just below it as a minimum", "4.95", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Minimum, "5.0"},
		{"far below it as a minimum", "4.9", torque.NewtonMeters, wrench.Adapter{}, newtons, wrench.Minimum, ""},
		{"fixed", "23", torque.NewtonMeters, crow("0"), fixed, wrench.Maximum, "20"},
		{"fixed elsewhere", "23.1", torque.NewtonMeters, crow("0"), fixed, wrench.Maximum, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, err := tt.a.Setting(figure(t, tt.torque, tt.unit))
			require.NoError(t, err)
			s, err = s.MarkOn(tt.w, tt.bound)
			require.Equal(t, tt.want, string(s.Mark))
			require.Equal(t, tt.want == "", err != nil)
		})
	}
	_, err := wrench.ExactSetting{}.MarkOn(newtons, wrench.Maximum)
	require.ErrorIs(t, err, torque.ErrNoFigure)
	s, err := crow("0").Setting(figure(t, "400", torque.PoundForceInches))
	require.NoError(t, err)
	_, err = s.MarkOn(pounds, wrench.Maximum)
	require.ErrorIs(t, err, wrench.ErrNoSetting)
	require.EqualError(t, err, "mark for a maximum of 8000/23 lbf·in: no setting on pounds, 30 lbf·in to 200 lbf·in, ± 4 %")
}

func TestSettingJSON(t *testing.T) {
	a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "10", Extension: "1.5", Unit: wrench.Inches})
	require.NoError(t, err)
	s, err := a.Setting(figure(t, "135", torque.PoundForceInches))
	require.NoError(t, err)
	text, err := json.Marshal(s)
	require.NoError(t, err)
	require.JSONEq(t, `{"setting":117.3913043478261,"exact":"2700/23","unit":"[lbf_av].[in_i]"}`, string(text))
	s, err = s.MarkOn(setting(t, "2", "25", "0.5"), wrench.Maximum)
	require.NoError(t, err)
	text, err = json.Marshal(s)
	require.NoError(t, err)
	require.Contains(t, string(text), `"mark":13.0,"mark_unit":"N.m"`, "the digits of the scale are kept")
}

// With an adapter on the tool the torque at the fastener stays in the window
// for every deviation. Where the angle allows exact numbers, the choice is the
// one of a plain search by rationals.
func TestChoiceWithAnAdapter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plain, scale, d := anyTool(t)
		angles := [][]string{nil, {"0", "60", "90", "180"}}[rapid.IntRange(0, 1).Draw(t, "exact")]
		a := anyAdapter(t, angles...)
		w := plain.With(a)
		window, aim := windowNear(t, w)
		choice, err := w.Choose(window, aim, wrench.AllowTool)
		if a.IsExact() {
			one, settingErr := a.Setting(figureOf(t, "1", scale.Unit))
			require.NoError(t, settingErr)
			ratio, _ := new(big.Rat).SetString(one.Exact)
			want := bestMark(t, scale, ratio, window, aim, d)
			require.Equal(t, want == nil, err != nil)
			if want != nil {
				// The aim is a setting to the nanonewton meter, which may decide
				// between two marks equally near.
				wanted := new(big.Rat).Mul(aim.In(scale.Unit).Rat(), ratio)
				further := new(big.Rat).Sub(gap(choice.Mark.Rat(), wanted), gap(want, wanted))
				require.LessOrEqual(t, further.Cmp(torque.NanonewtonMeter.In(scale.Unit).Rat()), 0, "%v instead of %v", choice.Mark, want)
			}
		}
		if err != nil {
			require.ErrorIs(t, err, wrench.ErrNoSetting)
			require.NotEmpty(t, err.Error())
			return
		}
		require.True(t, window.Contains(choice.Least) && window.Contains(choice.Most))
		applied, err := a.Applied(choice.Mark)
		require.NoError(t, err)
		at, _ := new(big.Rat).SetString(applied.Exact)
		for _, off := range []wrench.Deviation{-d, 0, d} {
			require.True(t, window.Contains(deliveredBy(t, at, scale.Unit, off)))
		}
	})
}

func TestAnAdapterComesOffAgain(t *testing.T) {
	w := setting(t, "2", "25", "0.1")
	a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "200", Extension: "100", AngleDegrees: "45"})
	require.NoError(t, err)
	require.NotEqual(t, w, w.With(a))
	require.Equal(t, w, w.With(a).With(wrench.Adapter{}))
}

// A figure of the usual manuals: 135 lbf·in at the bolt through a crow-foot on
// a wrench of 10 in is 108 lbf·in on the scale, which is a mark, though neither
// is a whole number of nanonewton meters.
func TestALimitThroughAnAdapterIsOnTheScale(t *testing.T) {
	w := tool(t, wrench.Description{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "20", Max: "240", Graduation: "1"})
	a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "10", Extension: "2.5", Unit: wrench.Inches})
	require.NoError(t, err)
	for k := range int64(30) {
		limit, err := figure(t, decimal(65+5*k, 0), torque.PoundForceInches).Torque()
		require.NoError(t, err)
		only, err := torque.NewWindow(limit, limit)
		require.NoError(t, err)
		choice, err := w.With(a).Choose(only, limit, wrench.AllowNone)
		require.NoError(t, err)
		require.Equal(t, decimal(52+4*k, 0), choice.Mark.Digits())
		require.Equal(t, limit, choice.Least)
		require.Equal(t, limit, choice.Most)
	}
}
