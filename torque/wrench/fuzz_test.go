package wrench_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// What is read as a deviation is written so that it is read again the same.
func FuzzParseDeviation(f *testing.F) {
	for _, seed := range []string{"4", "-6.5421", "0.0001", "50", "50.0001", "", "-", "1e3", "4,0", "٤", "00000000000000000004"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := wrench.ParseDeviation(text)
		if err != nil {
			require.Zero(t, d)
			require.NotContains(t, err.Error(), "\n")
			return
		}
		require.LessOrEqual(t, max(d, -d), wrench.MaxDeviation)
		written, err := d.MarshalText()
		require.NoError(t, err)
		again, err := wrench.ParseDeviation(string(written))
		require.NoError(t, err)
		require.Equal(t, d, again)
		require.InDelta(t, number(t, text)/100, d.Fraction(), 1e-15)
	})
}

// A description that is accepted can be asked anything and does not fail; one
// that is not says where. Written as JSON it is the same tool again.
func FuzzNew(f *testing.F) {
	f.Add("setting", "N.m", "2", "25", "0.1", "4", int64(12e9), int64(2e9))
	f.Add("setting", "[lbf_av].[in_i]", "20", "240", "1", "", int64(5084317306), int64(1))
	f.Add("indicating", "gf.cm", "0", "999999", "", "0.0001", int64(1), int64(1))
	f.Add("fixed", "[oz_av].[g].[in_i]", "0.000001", "0.000001", "", "50", int64(7), int64(0))
	f.Add("setting", "kN.m", "0", "1000.000000", "0.000001", "6", int64(1e15), int64(1))
	f.Add("fixed", "N.m", "١", "2e3", "-1", "x", int64(-1), int64(-1))
	f.Fuzz(func(t *testing.T, kind, unit, low, high, step, percent string, minimum, width int64) {
		d := wrench.Description{ID: "tool", Min: low, Max: high, Graduation: step, DeviationPercent: percent}
		if d.Kind.UnmarshalText([]byte(kind)) != nil || d.Unit.UnmarshalText([]byte(unit)) != nil {
			return
		}
		w, err := wrench.New(d)
		if err != nil {
			require.NotEmpty(t, wrench.FieldErrors(err))
			return
		}
		text, err := json.Marshal(d)
		require.NoError(t, err)
		var again wrench.Description
		require.NoError(t, json.Unmarshal(text, &again))
		require.Equal(t, d, again)
		limits, err := torque.NewWindow(torque.Torque(minimum), torque.Torque(minimum)+torque.Torque(width))
		if err != nil {
			return
		}
		checkChoice(t, w, limits)
	})
}

// checkChoice holds for every tool and window.
func checkChoice(t testing.TB, w *wrench.Wrench, limits torque.Window) {
	t.Helper()
	choice, err := w.Choose(limits, 0, wrench.AllowTool)
	if err != nil {
		require.ErrorIs(t, err, wrench.ErrNoSetting)
		require.NotContains(t, err.Error(), "no figure")
		return
	}
	d, _ := w.Permitted()
	require.True(t, limits.Contains(deliveredBy(t, choice.Mark.Rat(), w.Unit(), d)))
	require.True(t, limits.Contains(deliveredBy(t, choice.Mark.Rat(), w.Unit(), -d)))
	lowest, highest := w.UseRange()
	require.True(t, lowest <= choice.Setting && choice.Setting <= highest)
}

// An adapter that is accepted gives a finite setting above zero and back.
func FuzzNewAdapter(f *testing.F) {
	for _, r := range vectors(f, "adapters") {
		f.Add(r["wrench_length"], r["extension"], r["angle_deg"], r["torque"], uint8(0))
	}
	f.Add("1", "1", "359.9999999999999999999999999999", "5", uint8(3))
	f.Add("0.000000000000000000000000000001", "99999999999999999999", "-45", "0.1", uint8(4))
	f.Fuzz(func(t *testing.T, length, extension, angle, digits string, unit uint8) {
		a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: length, Extension: extension, AngleDegrees: angle, Unit: wrench.LengthUnit(unit)})
		if err != nil {
			require.NotEmpty(t, wrench.FieldErrors(err))
			return
		}
		require.LessOrEqual(t, a.Factor(), 10.0000000001)
		value, err := torque.ParseFigure(digits, torque.PoundForceInches)
		if err != nil {
			return
		}
		s, err := a.Setting(value)
		if err != nil {
			require.NotEmpty(t, wrench.FieldErrors(err))
			return
		}
		require.GreaterOrEqual(t, s.Setting, 0.0)
		text, err := json.Marshal(s)
		require.NoError(t, err)
		require.True(t, json.Valid(text))
		w := setting(t, "2", "25", "0.1").With(a)
		checkDelivered(t, w)
	})
}

func checkDelivered(t testing.TB, w *wrench.Wrench) {
	t.Helper()
	limits := window(t, "4", "6")
	choice, err := w.Choose(limits, 0, wrench.AllowTool)
	if err != nil {
		require.ErrorIs(t, err, wrench.ErrNoSetting)
		return
	}
	require.True(t, limits.Contains(choice.Least) && limits.Contains(choice.Most))
}

// A question that is accepted is decided, with a probability that is one.
func FuzzDecide(f *testing.F) {
	for _, r := range vectors(f, "decisions") {
		f.Add(r["TL"], r["TU"], r["y"], r["u"], uint8(0), r["r"], r["k"], 0.95)
	}
	f.Add("5", "7", "6", "0.000000000000000000000000000000000001", uint8(3), "", "", 0.5)
	f.Add("", "9999999999999999999999999999999999999999", "-1", "0", uint8(1), "", "", 0.0)
	f.Fuzz(func(t *testing.T, low, high, reading, u string, rule uint8, factor, k string, level float64) {
		d, err := wrench.Decide(wrench.Question{Min: low, Max: high, Reading: reading, U: u,
			Rule: wrench.Rule(rule), GuardFactor: factor, K: k, Level: level})
		if err != nil {
			require.NotEmpty(t, wrench.FieldErrors(err))
			return
		}
		require.InDelta(t, 1, d.Probability+d.Below+d.Above, 1e-14)
		require.GreaterOrEqual(t, d.Probability, 0.0)
		require.Contains(t, []wrench.Outcome{wrench.Conforming, wrench.Undecided, wrench.Nonconforming}, d.Outcome)
		_, err = json.Marshal(d)
		require.NoError(t, err)
	})
}
