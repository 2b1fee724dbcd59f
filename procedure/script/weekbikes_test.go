package script_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// What is planted in the parts of the week's bikes. Sums and margins are worked
// by hand from the invented sheets by the rules of common practice, no source:
// teeth are big ring less small ring plus large sprocket less small; a tyre of
// 32 mm on a rim of 21 mm inside is 32 + 0.4 x (21 - 17.6) = 33.36 mm wide, and
// one of 40 mm on 23 mm is 40 + 0.4 x (23 - 22) = 40.4 mm. The margin of a
// body is half of what the closest spacers differ by: (1.85 - 1)/2 = 0.425 mm.
func TestPlantedFits(t *testing.T) {
	const fits, with, not = "fits", "fits with", "does not fit"
	tests := []struct {
		words, bike, procedure, rule, check, verdict, margin, sum, need string
	}{
		{"a cassette for a body shorter by 36.75 - 34.9", "b-02", "cassette-splined-body", "body-length", "", with, "0.425 mm", "body 36.75 mm, cassette made for 34.9 mm", "1.85 mm spacer behind the cassette"},
		{"31 of 41 teeth", "b-02", "rear-derailleur", "derailleur-capacity", "", fits, "10 teeth", "needs 31 teeth", ""},
		{"45 of 45 teeth", "b-03", "rear-derailleur", "derailleur-capacity", "", fits, "0 teeth", "needs 45 teeth", ""},
		{"8 sprockets on a body of their length", "b-05", "cassette-splined-body", "body-length", "", fits, "0.425 mm", "body 34.9 mm, cassette made for 34.9 mm", ""},
		{"an assisted bike's cassette on a longer body", "b-08", "cassette-splined-body", "body-length", "", with, "0.425 mm", "body 36.75 mm, cassette made for 34.9 mm", "1.85 mm spacer behind the cassette"},
		{"41 teeth where there are 39", "b-11", "rear-derailleur", "derailleur-capacity", "", not, "-2 teeth", "needs 41 teeth", ""},
		{"36 teeth where 34 is the most", "b-11", "rear-derailleur", "largest-sprocket", "", not, "-2 teeth", "largest sprocket 36 teeth", ""},
		{"(44 - 33.36)/2 where 6 mm are asked", "b-10", "wheel-in-slots-rear", "tire-rear", "chainstays", not, "-0.68 mm", "5.32 mm on each side", ""},
		{"(54 - 40.4)/2 where 6 mm are asked", "b-02", "thru-axle-rear", "tire-rear", "chainstays", fits, "0.8 mm", "6.8 mm on each side", ""},
		{"52 teeth of 52", "b-04", "rear-derailleur", "largest-sprocket", "", fits, "0 teeth", "largest sprocket 52 teeth", ""},
		{"(203 - 180)/2 at the printed limit", "b-12", "disc-caliper-front", "rotor-size-front", "", with, "0 mm", "mount for 180 mm, rotor 203 mm", "an adapter that moves the caliper out by 11.5 mm"},
	}
	c, err := catalogue.Load()
	require.NoError(t, err)
	for _, tt := range tests {
		t.Run(tt.bike+" "+tt.words, func(t *testing.T) {
			f := fitOf(t, planOf(t, c, tt.bike, tt.procedure), tt.rule, tt.check)
			require.Equal(t, tt.verdict, f.Verdict)
			require.Equal(t, tt.margin, f.Margin)
			require.Contains(t, f.Measured, tt.sum)
			require.Contains(t, fmt.Sprint(f.Needs), tt.need)
		})
	}
}

// fitOf finds one fit check of a plan.
func fitOf(t *testing.T, p *procedure.Plan, rule, check string) procedure.PlannedFit {
	t.Helper()
	for _, f := range p.Fit {
		if f.Rule == rule && f.Check == check {
			return f
		}
	}
	t.Fatalf("%s has no %s (%s): %+v", p.Procedure, rule, check, p.Fit)
	return procedure.PlannedFit{}
}

// Every bike is planned whole, and nothing stops a plan but what is planted.
func TestEveryBikeIsPlannedWhole(t *testing.T) {
	planted := map[string][]string{"b-10": {"wheel-in-slots-rear"}, "b-11": {"rear-derailleur"}}
	c, err := catalogue.Load()
	require.NoError(t, err)
	var all []*procedure.Resolved
	for _, id := range c.IDs() {
		r, err := c.Resolve(id)
		require.NoError(t, err)
		all = append(all, r)
	}
	text, err := os.ReadFile(filepath.Join(data, "week", "tools.yaml"))
	require.NoError(t, err)
	rack, err := procedure.ReadTools("tools.yaml", text)
	require.NoError(t, err)
	for i := 1; i <= 12; i++ {
		bike := fmt.Sprintf("b-%02d", i)
		t.Run(bike, func(t *testing.T) {
			name := filepath.Join(data, "week", "bikes", bike+".yaml")
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			sheet, err := procedure.ReadSheet(name, text, c.Vocabulary)
			require.NoError(t, err)
			require.True(t, sheet.Invented)
			w, err := procedure.NewWhole(all, sheet, rack, time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC), procedure.Policy{})
			require.NoError(t, err)
			var stopped []string
			for _, p := range w.Blocked() {
				stopped = append(stopped, p.Procedure)
			}
			require.Equal(t, planted[bike], stopped)
			require.Greater(t, len(w.Jobs), 12, "a whole bike has many jobs")
		})
	}
}
