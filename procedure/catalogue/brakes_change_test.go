package catalogue_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
)

// Published figures and rules that the brake jobs lean on, named with their
// edition as the list of sources has them, and nothing more claimed.
func TestSourcesOfTheBrakes(t *testing.T) {
	s, _ := step(t, definition(t, "disc-caliper-rear"), "prepare-bolts")
	require.Contains(t, s.Source.Text, "ISO 4210-2:2014, extract")
	s, _ = step(t, definition(t, "rim-brake-rear"), "prepare-mount-bolts")
	require.Contains(t, s.Source.Text, "ISO 4210-2:2014, extract")
	require.Contains(t, s.Source.Text, "16 CFR 1512.5")
	for _, id := range []string{"rim-brake-front", "disc-caliper-front"} {
		s, _ = step(t, definition(t, id), "anchor-cable")
		require.Contains(t, s.Checks[0].Source.Text, "16 CFR 1512.5")
		require.Equal(t, procedure.Documented, s.Checks[0].Source.Confidence)
	}
}

// Common practice, no source: going from rim to disc brakes takes a frame and a
// fork with mounts, calipers, wheels with rotors, and levers. What is there
// already is not asked for again.
func TestFromRimToDiscBrakes(t *testing.T) {
	for _, tc := range []struct {
		name    string
		brake   fit.Brake
		verdict fit.Verdict
		needs   []string // a word of each thing needed, in order
	}{
		{"made for rim brakes", fit.Brake{Mount: fit.NoMount, Caliper: fit.NoMount, HubSeat: fit.NoSeat, Rotor: fit.NoSeat, CaliperFluid: fit.MineralOil},
			fit.DoesNotFit, []string{"frame or fork", "caliper", "wheel", "rotor", "lever"}},
		{"frame and wheel are there", fit.Brake{Mount: fit.FlatMount, Caliper: fit.NoMount, HubSeat: fit.SplineSeat, Rotor: fit.NoSeat, CaliperFluid: fit.MineralOil},
			fit.DoesNotFit, []string{"caliper", "rotor", "lever"}},
		{"only the lever is another", fit.Brake{Mount: fit.PostMount, Caliper: fit.PostMount, HubSeat: fit.SixBolt, Rotor: fit.SixBolt, CaliperFluid: fit.MineralOil},
			fit.DoesNotFit, []string{"lever"}},
		{"all there", fit.Brake{Mount: fit.PostMount, Caliper: fit.PostMount, HubSeat: fit.SixBolt, Rotor: fit.SixBolt, LeverFluid: fit.MineralOil, CaliperFluid: fit.MineralOil},
			fit.Fits, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			tc.brake.Kind = fit.DiscBrake
			results, err := fit.BrakeKind(tc.brake)
			require.NoError(t, err)
			require.Equal(t, tc.verdict, fit.Worst(results...))
			var needs []string
			for _, r := range results {
				needs = append(needs, r.Needs...)
			}
			require.Len(t, needs, len(tc.needs))
			for i, word := range tc.needs {
				require.Contains(t, needs[i], word)
			}
		})
	}
}
