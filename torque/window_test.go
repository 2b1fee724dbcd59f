package torque_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

const nm = torque.NewtonMeter

// window returns a function that unwraps the result of a constructor.
func window(tb testing.TB) func(torque.Window, error) torque.Window {
	tb.Helper()
	return func(w torque.Window, err error) torque.Window {
		tb.Helper()
		require.NoError(tb, err)
		return w
	}
}

func TestWindowTextAndJSON(t *testing.T) {
	must := window(t)
	asymmetric := must(must(torque.NewWindow(7*nm, 10*nm)).WithNominal(8 * nm))
	for _, tt := range []struct {
		name   string
		window torque.Window
		text   string // NIST SP 811 (2008) 7.7
		json   string
	}{
		{"range", must(torque.NewWindow(5*nm, 7*nm)), "5 N·m to 7 N·m", `{"min":"5 N.m","max":"7 N.m"}`},
		{"maximum", must(torque.AtMost(5 * nm)), "at most 5 N·m", `{"max":"5 N.m"}`},
		{"minimum", must(torque.AtLeast(30 * nm)), "at least 30 N·m", `{"min":"30 N.m"}`},
		{"plus minus", must(torque.PlusMinus(8*nm, nm)), "8 N·m ± 1 N·m", `{"min":"7 N.m","max":"9 N.m","nominal":"8 N.m"}`},
		{"asymmetric", asymmetric, "7 N·m to 10 N·m, nominal 8 N·m", `{"min":"7 N.m","max":"10 N.m","nominal":"8 N.m"}`},
		{"one value", must(torque.NewWindow(5*nm, 5*nm)), "5 N·m to 5 N·m", `{"min":"5 N.m","max":"5 N.m"}`},
		{"zero value", torque.Window{}, "no limit", `{}`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, tt.text, tt.window.String())
			data, err := json.Marshal(tt.window)
			require.NoError(t, err)
			require.JSONEq(t, tt.json, string(data))
			var read torque.Window
			require.NoError(t, json.Unmarshal(data, &read))
			require.Equal(t, tt.window, read)
		})
	}
}

func TestWindowRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		make func() (torque.Window, error)
		want error
	}{
		{"reversed", func() (torque.Window, error) { return torque.NewWindow(7*nm, 5*nm) }, torque.ErrReversed},
		{"negative minimum", func() (torque.Window, error) { return torque.NewWindow(-nm, nm) }, torque.ErrNotPositive},
		{"zero maximum", func() (torque.Window, error) { return torque.NewWindow(0, 0) }, torque.ErrNotPositive},
		{"no maximum at all", func() (torque.Window, error) { return torque.AtMost(0) }, torque.ErrNotPositive},
		{"negative at least", func() (torque.Window, error) { return torque.AtLeast(-1) }, torque.ErrNotPositive},
		{"beyond the range", func() (torque.Window, error) { return torque.AtLeast(torque.MaxWire + 1) }, torque.ErrOutOfRange},
		{"negative tolerance", func() (torque.Window, error) { return torque.PlusMinus(8*nm, -nm) }, torque.ErrNotPositive},
		{"tolerance over nominal", func() (torque.Window, error) { return torque.PlusMinus(8*nm, 9*nm) }, torque.ErrNotPositive},
		{"sum overflows", func() (torque.Window, error) { return torque.PlusMinus(1<<62, 1<<62) }, torque.ErrOutOfRange},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w, err := tt.make()
			require.ErrorIs(t, err, tt.want)
			require.True(t, w.IsZero())
		})
	}
	_, err := window(t)(torque.NewWindow(5*nm, 7*nm)).WithNominal(8 * nm)
	require.ErrorIs(t, err, torque.ErrDisjoint)
	for _, text := range []string{`{"min":"7 N.m","max":"5 N.m"}`, `{"max":"0 N.m"}`, `{"nominal":"5 N.m"}`, `{"min":5}`, `[]`} {
		var read torque.Window
		require.Error(t, json.Unmarshal([]byte(text), &read), text)
	}
}

func TestWindowAccessors(t *testing.T) {
	w := window(t)(torque.PlusMinus(8*nm, nm))
	low, hasLow := w.Min()
	high, hasHigh := w.Max()
	nominal, hasNominal := w.Nominal()
	require.Equal(t, []any{7 * nm, true, 9 * nm, true, 8 * nm, true}, []any{low, hasLow, high, hasHigh, nominal, hasNominal})
	_, hasLow = window(t)(torque.AtMost(nm)).Min()
	require.False(t, hasLow)

	require.True(t, w.Contains(7*nm), "limits belong to the window")
	require.True(t, w.Contains(9*nm))
	require.False(t, w.Contains(7*nm-1))
	require.False(t, w.Contains(9*nm+1))
	require.False(t, torque.Window{}.Contains(5*nm), "no known limit allows nothing")
}

// anyWindow draws a window of any form, the zero value included.
func anyWindow() *rapid.Generator[torque.Window] {
	return rapid.Custom(func(t *rapid.T) torque.Window {
		limit := rapid.Map(rapid.Int64Range(1, 60), func(n int64) torque.Torque { return torque.Torque(n) * nm / 4 })
		low, span := limit.Draw(t, "low"), limit.Draw(t, "span")
		forms := []func() (torque.Window, error){
			func() (torque.Window, error) { return torque.Window{}, nil },
			func() (torque.Window, error) { return torque.AtLeast(low) },
			func() (torque.Window, error) { return torque.AtMost(low) },
			func() (torque.Window, error) { return torque.NewWindow(low, low+span) },
			func() (torque.Window, error) { return torque.PlusMinus(low+span, low) },
		}
		w, err := rapid.SampledFrom(forms).Draw(t, "form")()
		require.NoError(t, err)
		return w
	})
}

// allows is membership with the zero Window taken for "no limit".
func allows(w torque.Window, value torque.Torque) bool { return w.IsZero() || w.Contains(value) }

func TestIntersectAllowsWhatBothAllow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyWindow().Draw(t, "a"), anyWindow().Draw(t, "b")
		both, err := a.Intersect(b)
		swapped, errSwapped := b.Intersect(a)
		require.Equal(t, swapped, both)
		require.Equal(t, err == nil, errSwapped == nil)
		found := false
		for value := torque.Torque(0); value <= 40*nm; value += nm / 4 {
			inBoth := allows(a, value) && allows(b, value)
			found = found || inBoth
			require.Equal(t, inBoth, err == nil && allows(both, value), "%v in %v and %v", value, a, b)
		}
		if err != nil {
			require.ErrorIs(t, err, torque.ErrDisjoint)
			require.False(t, found)
		}
		if nominal, has := both.Nominal(); has {
			require.True(t, both.Contains(nominal))
		}
	})
}

func TestIntersectKeepsANominalThatNobodyDisputes(t *testing.T) {
	must := window(t)
	pm, limit := must(torque.PlusMinus(8*nm, nm)), must(torque.AtMost(8*nm))
	for _, tt := range []struct {
		name        string
		other       torque.Window
		wantNominal torque.Torque
	}{
		{"nothing known", torque.Window{}, 8 * nm},
		{"limit on the nominal", limit, 8 * nm},
		{"limit below the nominal", must(torque.AtMost(7500 * torque.MillinewtonMeter)), 0},
		{"same nominal", must(torque.PlusMinus(8*nm, 2*nm)), 8 * nm},
		{"another nominal", must(torque.PlusMinus(7*nm, 2*nm)), 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			both, err := pm.Intersect(tt.other)
			require.NoError(t, err)
			nominal, has := both.Nominal()
			require.Equal(t, tt.wantNominal, nominal)
			require.Equal(t, tt.wantNominal != 0, has)
		})
	}
}
