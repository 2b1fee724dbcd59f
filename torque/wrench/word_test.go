package wrench_test

import (
	"encoding"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/wrench"
)

type text interface {
	encoding.TextMarshaler
	String() string
}

// Every word is read back; what has none is not written and not read, and a
// number from a newer record stays visible.
func TestWords(t *testing.T) {
	for _, tt := range []struct {
		name    string
		words   string
		at      func(uint8) text
		into    encoding.TextUnmarshaler
		value   func(encoding.TextUnmarshaler) text
		first   uint8
		last    uint8
		unknown string
	}{
		{"kind", "setting", func(v uint8) text { return wrench.Kind(v) }, new(wrench.Kind),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Kind) }, 1, 3, `unknown kind of tool "x": write setting, indicating, fixed`},
		{"class", "I-A", func(v uint8) text { return wrench.Class(v) }, new(wrench.Class),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Class) }, 1, 12,
			`unknown class of tool "x": write I-A, I-B, I-C, I-D, I-E, II-A, II-B, II-C, II-D, II-E, II-F, II-G`},
		{"allowance", "tool", func(v uint8) text { return wrench.Allowance(v) }, new(wrench.Allowance),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Allowance) }, 0, 1, `unknown allowance "x": write tool, none`},
		{"side", "too-low", func(v uint8) text { return wrench.Side(v) }, new(wrench.Side),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Side) }, 1, 2, `unknown side "x": write too-low, too-high`},
		{"length", "mm", func(v uint8) text { return wrench.LengthUnit(v) }, new(wrench.LengthUnit),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.LengthUnit) }, 0, 4, `unknown unit of length "x": write mm, cm, m, in, ft`},
		{"bound", "maximum", func(v uint8) text { return wrench.Bound(v) }, new(wrench.Bound),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Bound) }, 0, 1, `unknown bound "x": write maximum, minimum`},
		{"outcome", "conforming", func(v uint8) text { return wrench.Outcome(v) }, new(wrench.Outcome),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Outcome) }, 1, 3,
			`unknown outcome "x": write conforming, undecided, nonconforming`},
		{"rule", "by-probability", func(v uint8) text { return wrench.Rule(v) }, new(wrench.Rule),
			func(u encoding.TextUnmarshaler) text { return *u.(*wrench.Rule) }, 0, 3,
			`unknown decision rule "x": write by-probability, simple, guarded, guarded-both-ways`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, tt.words, tt.at(tt.first).String())
			for v := tt.first; v <= tt.last; v++ {
				written, err := tt.at(v).MarshalText()
				require.NoError(t, err)
				require.NoError(t, tt.into.UnmarshalText(written))
				require.Equal(t, tt.at(v), tt.value(tt.into))
			}
			_, err := tt.at(tt.last + 1).MarshalText()
			require.Error(t, err)
			require.Contains(t, tt.at(tt.last+1).String(), "unknown(")
			require.EqualError(t, tt.into.UnmarshalText([]byte("x")), tt.unknown)
			require.Error(t, tt.into.UnmarshalText(nil))
		})
	}
}
