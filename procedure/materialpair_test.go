package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

func pairPrep(t testing.TB, m procedure.MaterialPair, j procedure.PairJoint) procedure.PairPrep {
	t.Helper()
	for _, p := range m.Preps {
		if p.Joint == j {
			return p
		}
	}
	require.Fail(t, "no such joint", string(j))
	return procedure.PairPrep{}
}

// Common practice, no source, except the order of the metals, which is that of
// galvanic series in sea water (MIL-STD-889 family, from memory).
func TestMaterialPairs(t *testing.T) {
	for _, tt := range []struct {
		inner, outer, suffers string
		galls                 bool
		thread, tube          procedure.Prep
	}{
		{"steel", "alloy", "alloy", false, procedure.Grease, procedure.Grease},
		{"steel", "steel", "", false, procedure.Grease, procedure.Grease},
		{"alloy", "alloy", "", true, procedure.AntiSeize, procedure.Grease},
		{"titanium", "alloy", "alloy", true, procedure.AntiSeize, procedure.AntiSeize},
		{"titanium", "titanium", "", true, procedure.AntiSeize, procedure.AntiSeize},
		{"stainless", "stainless", "", true, procedure.AntiSeize, procedure.Grease},
		{"stainless", "titanium", "", true, procedure.AntiSeize, procedure.AntiSeize},
		{"alloy", "carbon", "alloy", false, procedure.Grease, procedure.CarbonPaste},
		{"carbon", "alloy", "alloy", false, procedure.Grease, procedure.CarbonPaste},
		{"titanium", "carbon", "", false, procedure.Grease, procedure.CarbonPaste},
		{"carbon", "carbon", "", false, procedure.Grease, procedure.CarbonPaste},
		{"steel", "carbon", "steel", false, procedure.Grease, procedure.CarbonPaste},
		{"steel", "resin", "", false, procedure.Dry, procedure.Dry},
		{"steel", "brass", "steel", false, procedure.Grease, procedure.Grease},
	} {
		t.Run(tt.inner+" in "+tt.outer, func(t *testing.T) {
			m, err := procedure.ExplainPair(tt.inner, tt.outer)
			require.NoError(t, err)
			require.Equal(t, tt.suffers, m.Suffers, m.Galvanic)
			require.Equal(t, tt.galls, m.Galls, m.Galling)
			require.Equal(t, tt.thread, pairPrep(t, m, procedure.ThreadJoint).Use)
			require.Equal(t, tt.tube, pairPrep(t, m, procedure.TubeJoint).Use)
			require.Equal(t, procedure.FromMemory, m.Source.Confidence)
		})
	}
}

// Whatever the pair: what goes on is never what must not, paste never goes on a
// thread, a gripping face is never greased, who suffers does not hang on the
// order, and titanium never goes dry into metal.
func TestEveryMaterialPair(t *testing.T) {
	for _, inner := range procedure.PairMaterials() {
		for _, outer := range procedure.PairMaterials() {
			m, err := procedure.ExplainPair(inner, outer)
			require.NoError(t, err)
			turned, err := procedure.ExplainPair(outer, inner)
			require.NoError(t, err)
			require.Equal(t, m.Suffers, turned.Suffers)
			require.Equal(t, m.Galls, turned.Galls)
			require.Len(t, m.Preps, 3)
			for _, p := range m.Preps {
				require.NotContains(t, p.Never, p.Use, "%s in %s: %s", inner, outer, p.Joint)
				require.NotEmpty(t, p.Why)
				require.NotZero(t, p.Reason)
			}
			require.Contains(t, pairPrep(t, m, procedure.ThreadJoint).Never, procedure.CarbonPaste)
			require.Contains(t, pairPrep(t, m, procedure.GripJoint).Never, procedure.Grease)
			if inner == "carbon" {
				require.Contains(t, pairPrep(t, m, procedure.TubeJoint).Never, procedure.Grease)
			}
			if m.Galls {
				require.Equal(t, procedure.AntiSeize, pairPrep(t, m, procedure.ThreadJoint).Use)
			}
		}
	}
}

func TestUnknownMaterial(t *testing.T) {
	_, err := procedure.ExplainPair("titan", "")
	found := procedure.FieldErrors(err)
	require.Len(t, found, 2)
	require.Equal(t, "inner", found[0].Path)
	require.Contains(t, found[0].Text, "did you mean titanium?")
}

// Uses fall away as the bike gets known.
func TestContactUnder(t *testing.T) {
	c := procedure.Contact{Between: []string{"rotor-front", "frame"}, Uses: []procedure.PrepChoice{
		{When: procedure.Condition{"frame.material": {"titanium"}}, Use: procedure.AntiSeize},
		{When: procedure.Condition{"frame.material": {"carbon"}, "frame.kind": {"racing"}}, Use: procedure.Dry},
		{Use: procedure.Grease},
	}}
	uses := func(known map[string]string) []procedure.Prep {
		var out []procedure.Prep
		for _, u := range c.Under(known) {
			out = append(out, u.Use)
		}
		return out
	}
	require.Equal(t, []procedure.Prep{procedure.AntiSeize, procedure.Dry, procedure.Grease}, uses(nil))
	require.Equal(t, []procedure.Prep{procedure.AntiSeize}, uses(map[string]string{"frame.material": "titanium"}))
	require.Equal(t, []procedure.Prep{procedure.Dry, procedure.Grease}, uses(map[string]string{"frame.material": "carbon"}))
	require.Equal(t, []procedure.Prep{procedure.Grease}, uses(map[string]string{"frame.material": "steel"}))
	require.True(t, c.IsBetween("rotor"))
	require.True(t, c.IsBetween("rotor-front"))
	require.False(t, c.IsBetween("rotor-rear"))
	require.False(t, c.IsBetween("front"))
}
