package catalogue_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

func wholeOf(t testing.TB, file string) *procedure.Whole {
	t.Helper()
	c := load(t)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	sheet, err := procedure.ReadSheet(filepath.Base(file), data, c.Vocabulary)
	require.NoError(t, err)
	var all []*procedure.Resolved
	for _, id := range c.IDs() {
		r, err := c.Resolve(id)
		require.NoError(t, err)
		all = append(all, r)
	}
	w, err := procedure.NewWhole(all, sheet, nil, time.Date(2025, 3, 3, 9, 0, 0, 0, time.UTC), procedure.Policy{})
	require.NoError(t, err)
	return w
}

// The order in which a bike is built, common practice, no source: each list
// is in order, and a bike that has none of a part goes on with the next.
var buildOrder = [][]string{
	{"open-job", "wheel-tension-rear", "rotor-rear", "cassette-splined-body", "thru-axle-rear", "disc-caliper-rear", "rear-derailleur",
		"chain-joining", "seatpost", "saddle", "pedals", "chain-lube", "final-check"},
	{"open-job", "bottom-bracket-threaded", "crank-two-pinch-bolts", "stem-on-steerer", "handlebar", "levers", "rotor-front", "thru-axle-front", "disc-caliper-front"},
	{"bottom-bracket-threaded", "crank-square-taper", "stem-on-steerer"},
	{"bottom-bracket-threaded", "crank-self-extracting", "front-derailleur", "rear-derailleur"},
	{"wheel-tension-front", "wheel-in-slots-front", "rim-brake-front", "chain-lube"},
	{"levers", "rim-brake-rear", "chain-lube", "final-check"},
}

func TestBuildOrder(t *testing.T) {
	files, err := filepath.Glob("../../testdata/week/bikes/b-*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 12)
	seen := map[string]bool{}
	for _, file := range files {
		w := wholeOf(t, file)
		at := map[string]int{}
		for i, j := range w.Jobs {
			at[j.Plan.Procedure] = i + 1
			seen[j.Plan.Procedure] = true
		}
		for _, order := range buildOrder {
			var there []string
			for _, id := range order {
				if at[id] > 0 {
					there = append(there, id)
				}
			}
			require.True(t, slices.IsSortedFunc(there, func(a, b string) int { return at[a] - at[b] }), "%s: %v in %v", file, there, at)
		}
		require.Equal(t, 1, at["open-job"], file)
		require.Equal(t, len(w.Jobs), at["final-check"], file)
		// After the chain lube is open, no job that wants clean hands begins but
		// the last look.
		for _, j := range w.Jobs {
			clean := slices.ContainsFunc(j.Plan.Steps, func(s procedure.PlannedStep) bool { return s.Hands == procedure.CleanHands })
			if clean && j.Plan.Procedure != "chain-lube" && j.Plan.Procedure != "final-check" {
				require.Less(t, at[j.Plan.Procedure], at["chain-lube"], "%s: %s", file, j.Plan.Procedure)
			}
		}
	}
	for _, id := range load(t).IDs() {
		require.True(t, seen[id], "no bike of the week asks for %s", id)
	}
}

// Every procedure is either done on a bike of the week or left out with a
// reason that a mechanic can check on the bike.
func TestLeftOutSaysWhy(t *testing.T) {
	w := wholeOf(t, "../../testdata/week/bikes/b-10.yaml") // one gear, one brake
	out := map[string]string{}
	for _, l := range w.LeftOut {
		out[l.Procedure] = l.Reason
		require.NotContains(t, l.Reason, "_", l.Procedure)
	}
	for _, id := range []string{"rear-derailleur", "front-derailleur", "rotor-front", "disc-caliper-front", "rim-brake-rear", "thru-axle-rear"} {
		require.NotEmpty(t, out[id], id)
	}
	require.Len(t, out, len(load(t).IDs())-len(w.Jobs))
	for _, j := range w.Jobs {
		require.False(t, strings.HasPrefix(j.Plan.Procedure, "rotor"))
	}
}
