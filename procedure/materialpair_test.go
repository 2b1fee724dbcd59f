package procedure_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// Which metal is eaten and which pairs tear: common practice, no source.
func TestExplainPair(t *testing.T) {
	for _, c := range []struct {
		a, b, suffers string
		galls         bool
	}{
		{"alloy", "carbon", "alloy", false},
		{"alloy", "steel", "alloy", false},
		{"alloy", "alloy", "", true},
		{"alloy", "titanium", "alloy", true},
		{"titanium", "titanium", "", true},
		{"titanium", "carbon", "", false},
		{"stainless", "stainless", "", true},
		{"steel", "steel", "", false},
		{"steel", "carbon", "steel", false},
		{"resin", "alloy", "", false},
		{"carbon", "carbon", "", false},
	} {
		p, err := procedure.ExplainPair(c.a, c.b)
		require.NoError(t, err)
		require.Equal(t, c.suffers, p.Suffers, "%s %s", c.a, c.b)
		require.Equal(t, c.galls, p.Galls, "%s %s", c.a, c.b)
		require.Equal(t, procedure.FromMemory, p.Source.Confidence)
	}
}

// Whatever the pair: the answer is the same both ways round, nothing is asked
// for that is forbidden as well, carbon is never greased where it is gripped,
// and paste goes on no thread.
func TestExplainPairForEveryPair(t *testing.T) {
	for _, a := range procedure.PairMaterials() {
		for _, b := range procedure.PairMaterials() {
			p, err := procedure.ExplainPair(a, b)
			require.NoError(t, err)
			q, err := procedure.ExplainPair(b, a)
			require.NoError(t, err)
			require.Equal(t, p.Suffers, q.Suffers)
			require.Equal(t, p.Galls, q.Galls)
			require.Equal(t, p.Preps, q.Preps, "%s %s", a, b)
			for _, prep := range p.Preps {
				require.NotContains(t, prep.Never, prep.Use, "%s %s %s", a, b, prep.Joint)
				require.NotEmpty(t, prep.Why)
				if prep.Joint == procedure.ThreadJoint {
					require.NotEqual(t, procedure.CarbonPaste, prep.Use)
				}
				if prep.Joint == procedure.GripJoint && slices.Contains([]string{a, b}, "carbon") {
					require.NotEqual(t, procedure.Grease, prep.Use, "%s %s", a, b)
				}
			}
		}
	}
	_, err := procedure.ExplainPair("alloy", "wood")
	require.Equal(t, "outer", procedure.FieldErrors(err)[0].Path)
}

func TestContactUnder(t *testing.T) {
	contact := &readContacts(t, postInFrame)[0]
	require.Len(t, contact.Under(nil), 2)
	require.Equal(t, procedure.CarbonPaste, contact.Under(map[string]string{"seatpost.material": "carbon"})[0].Use)
	alloy := contact.Under(map[string]string{"seatpost.material": "alloy"})
	require.Len(t, alloy, 1)
	require.Equal(t, procedure.Grease, alloy[0].Use)
	require.True(t, contact.IsBetween("frame"))
	require.False(t, contact.IsBetween("fork"))
}
