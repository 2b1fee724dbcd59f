package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// seatSheet is a bike with a post and a saddle, changed by is; an empty value
// takes an attribute away.
func seatSheet(is map[string]map[string]string) *procedure.Sheet {
	parts := map[string]map[string]string{
		"frame":    {"seat_tube_inner": "31.60 mm"},
		"seatpost": {"shape": "round", "diameter": "31.45 mm", "cradle_width": "7 mm", "cradle_height": "7 mm"},
		"saddle":   {"rail_width": "7 mm", "rail_height": "7 mm"},
	}
	s := &procedure.Sheet{Build: "seat", Label: "invented"}
	for _, role := range []string{"frame", "seatpost", "saddle"} {
		for k, v := range is[role] {
			parts[role][k] = v
			if v == "" {
				delete(parts[role], k)
			}
		}
		s.Parts = append(s.Parts, procedure.Part{Role: role, Material: "alloy", Is: parts[role]})
	}
	return s
}

// seatFit plans a job of one step with this fit rule on the bike.
func seatFit(t testing.TB, rule string, is map[string]map[string]string) *procedure.Plan {
	t.Helper()
	res, err := procedure.Resolve(&procedure.Definition{
		ID: "seat", Title: "Seat", Edition: 1, About: "Seat.", Risk: procedure.RiskOther, Minutes: 2, LeastMinutes: 1,
		Source: procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory},
		Roles:  []string{"frame", "seatpost", "saddle"}, Fit: []string{rule},
		Steps: []procedure.Step{{ID: "look", Title: "Look", Do: "Look.", Why: "To see.", Accept: "Seen.",
			Checks: []procedure.Check{{ID: "seen", Kind: procedure.Look, Ask: "Seen?"}},
			Rework: []procedure.Rework{{If: "not seen", Do: "Look again."}}}},
	}, nil)
	require.NoError(t, err)
	plan, err := procedure.NewPlan(res, seatSheet(is), nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return plan
}

// Worked examples of the trade for round posts: 31.60 and 31.45 fit, 27.20 and
// 26.80 do not, 150 mm inside against two diameters of 31.6 fits (two
// diameters: 16 CFR 1512.15; the rest common practice, no source).
func TestSeatpostOnASheet(t *testing.T) {
	type parts = map[string]map[string]string
	long := map[string]string{"diameter": "31.50 mm", "length": "400 mm", "exposed": "250 mm"}
	for _, tc := range []struct {
		name     string
		is       parts
		verdicts map[string]string
		blocked  bool
	}{
		{"a little play", nil, map[string]string{"diameter": "fits"}, false},
		{"too thin", parts{"frame": {"seat_tube_inner": "27.20 mm"}, "seatpost": {"diameter": "26.80 mm"}},
			map[string]string{"diameter": "does not fit"}, true},
		{"no play at all", parts{"seatpost": {"diameter": "31.60 mm"}}, map[string]string{"diameter": "try and measure"}, false},
		{"inside past two diameters, junction not measured", parts{"seatpost": long},
			map[string]string{"diameter": "fits", "mark": "fits", "junction": "try and measure"}, false},
		{"inside past the junction", parts{"seatpost": long, "frame": {"seat_tube_junction": "100 mm", "seat_tube_depth": "300 mm"}},
			map[string]string{"diameter": "fits", "mark": "fits", "junction": "fits", "room": "fits"}, false},
		{"not below the junction", parts{"seatpost": long, "frame": {"seat_tube_junction": "140 mm"}},
			map[string]string{"diameter": "fits", "mark": "fits", "junction": "does not fit"}, true},
		{"no room in the tube", parts{"seatpost": long, "frame": {"seat_tube_junction": "100 mm", "seat_tube_depth": "140 mm"}},
			map[string]string{"diameter": "fits", "mark": "fits", "junction": "fits", "room": "does not fit"}, true},
		{"room by a hair", parts{"seatpost": long, "frame": {"seat_tube_junction": "100 mm", "seat_tube_depth": "150.2 mm"}},
			map[string]string{"diameter": "fits", "mark": "fits", "junction": "fits", "room": "try and measure"}, false},
		{"length without height says nothing", parts{"seatpost": {"length": "400 mm"}}, map[string]string{"diameter": "fits"}, false},
		{"shaped", parts{"seatpost": {"shape": "shaped"}}, map[string]string{"shape": "try and measure"}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			plan := seatFit(t, "seatpost", tc.is)
			got := map[string]string{}
			for _, f := range plan.Fit {
				got[f.Check] = f.Verdict
			}
			require.Equal(t, tc.verdicts, got)
			require.Equal(t, tc.blocked, plan.Blocked())
		})
	}
}

// A post whose diameter nobody measured is no fit, and the plan says which
// figure it wants.
func TestSeatpostWantsItsDiameters(t *testing.T) {
	plan := seatFit(t, "seatpost", map[string]map[string]string{"seatpost": {"diameter": ""}})
	require.True(t, plan.Blocked())
	require.Contains(t, plan.Findings[0].Text, "seatpost.diameter")
}

func TestSeatNumbers(t *testing.T) {
	plan := seatFit(t, "seatpost", nil)
	require.Equal(t, map[string]string{"post": "31.45", "tube": "31.6"}, plan.Fit[0].Numbers)
	plan = seatFit(t, "saddle-rails", nil)
	require.Equal(t, map[string]string{"rail-width": "7", "rail-height": "7"}, plan.Fit[0].Numbers)
}

// Common practice, no source: rails and cradle agree within 0.2 mm both ways;
// oval carbon rails of 7 x 9 mm do not go into a round cradle of 7 mm.
func TestSaddleRailsOnASheet(t *testing.T) {
	require.False(t, seatFit(t, "saddle-rails", nil).Blocked())
	oval := seatFit(t, "saddle-rails", map[string]map[string]string{"saddle": {"rail_height": "9 mm"}})
	require.True(t, oval.Blocked())
	require.Equal(t, []string{"fits", "does not fit"}, []string{oval.Fit[0].Verdict, oval.Fit[1].Verdict})
}
