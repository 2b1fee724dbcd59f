package catalogue_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// The facts in this file are what careful workshops do: common practice, no
// source, unless a test says otherwise.

// Opening and final check are for every bike: they want nothing but a frame.
func TestFirstAndLastAreForEveryBike(t *testing.T) {
	for _, id := range []string{"open-job", "final-check"} {
		d := definition(t, id)
		require.Equal(t, []string{"frame"}, d.Roles, id)
		require.Empty(t, d.When, id)
		require.Empty(t, d.Fit, id)
	}
}

// Everything comes after the opening, and the final check after everything.
func TestOpeningIsFirstAndFinalCheckLast(t *testing.T) {
	c := load(t)
	require.Empty(t, definition(t, "open-job").After)
	last := definition(t, "final-check")
	for _, d := range c.Definitions {
		if d.ID != last.ID {
			require.Contains(t, last.After, d.ID)
			require.NotContains(t, d.After, last.ID)
		}
	}
}

// The figures of the final check that a public document states, as quoted in
// the document named beside each; 1 mm run-out, 10 minutes, 2 km and three
// stops are common practice, no source.
func TestLimitsOfTheFinalCheck(t *testing.T) {
	d := definition(t, "final-check")
	for _, tc := range []struct{ step, check, unit, min, max, source string }{
		{"check-steering", "steering-left", "deg", "60", "", "TBIS 15194:2019 4.3.6.5"},
		{"check-steering", "steering-right", "deg", "60", "", "TBIS 15194:2019 4.3.6.5"},
		{"check-steering", "front-run-out", "mm", "0", "1", ""},
		{"check-steering", "rear-run-out", "mm", "0", "1", ""},
		{"check-clearance", "front-tyre-racing", "mm", "4", "", "EN 14781 4.10.2"},
		{"check-clearance", "rear-tyre-racing", "mm", "4", "", "EN 14781 4.10.2"},
		{"check-clearance", "front-tyre-other", "mm", "6", "", "secondary source"},
		{"check-clearance", "rear-tyre-other", "mm", "6", "", "secondary source"},
		{"check-clearance", "lean-left", "deg", "25", "", "16 CFR 1512.17"},
		{"check-clearance", "lean-right", "deg", "25", "", "16 CFR 1512.17"},
		{"test-ride", "minutes", "min", "10", "", ""},
		{"test-ride", "distance", "km", "2", "", ""},
		{"test-ride", "hard-stops", "count", "3", "", ""},
		{"spot-check", "turned", "count", "0", "0", ""},
	} {
		s, _ := step(t, d, tc.step)
		i := slices.IndexFunc(s.Checks, func(c procedure.Check) bool { return c.ID == tc.check })
		require.GreaterOrEqual(t, i, 0, tc.check)
		c := s.Checks[i]
		require.Equal(t, []string{tc.unit, tc.min, tc.max}, []string{c.Unit, c.Min, c.Max}, tc.check)
		if tc.source == "" {
			require.Nil(t, c.Source, "%s takes the source of the job: %s", tc.check, d.Source.Text)
			continue
		}
		require.Contains(t, c.Source.Text, tc.source, tc.check)
	}
	s, _ := step(t, d, "check-clearance")
	i := slices.IndexFunc(s.Checks, func(c procedure.Check) bool { return c.ID == "toe-room" })
	require.Contains(t, s.Checks[i].Ask, "89 mm") // 16 CFR 1512.17
}

// One room round the tyres is asked for at each wheel, whatever the bike is
// for, and the rear one at chainstays and seatstays.
func TestRoomRoundTheTyresByKindOfBike(t *testing.T) {
	kind, ok := load(t).Vocabulary.Attribute("frame.kind")
	require.True(t, ok)
	s, _ := step(t, definition(t, "final-check"), "check-clearance")
	for _, k := range kind.Choices {
		asked := 0
		for _, c := range s.Checks {
			if slices.Contains(c.When["frame.kind"], k) {
				asked++
			}
			if strings.HasPrefix(c.ID, "rear-tyre") {
				require.Contains(t, c.Ask, "chainstays")
				require.Contains(t, c.Ask, "seatstays")
			}
		}
		require.Equal(t, 2, asked, k)
	}
}

// The walk goes from the front tyre to the bell, one look an item.
func TestWalkRoundGoesFrontToBack(t *testing.T) {
	d := definition(t, "final-check")
	inOrder(t, d, "check-papers", "walk-front", "walk-middle", "walk-rear", "check-steering", "check-clearance", "check-brakes",
		"spot-check", "stand-ride", "slow-ride", "test-ride", "after-ride", "release-bike")
	var items []string
	for _, id := range []string{"walk-front", "walk-middle", "walk-rear"} {
		s, _ := step(t, d, id)
		for _, c := range s.Checks {
			require.Equal(t, procedure.Look, c.Kind)
			items = append(items, c.ID)
		}
	}
	require.Equal(t, []string{"front-tyre", "front-wheel", "front-brake", "fork", "headset", "stem", "bar", "levers", "frame", "accessories",
		"cranks", "pedals", "chain", "drive-unit", "rear-brake", "rear-wheel", "gears", "seatpost", "saddle", "lights", "reflectors", "bell"}, items)
}

// A foreman lets the bike go, after the ride and never before it.
func TestForemanReleases(t *testing.T) {
	d := definition(t, "final-check")
	s, at := step(t, d, "release-bike")
	require.Equal(t, len(d.Steps)-1, at)
	require.Equal(t, procedure.ForemanSigns, s.Hold.By)
	require.Equal(t, procedure.BeforeRelease, s.Due)
}

// What the sample pull cannot do is said where it is pulled: threadlocked
// bolts are looked at, and too tight is not seen.
func TestSpotCheckSaysWhatItCannotSee(t *testing.T) {
	s, _ := step(t, definition(t, "final-check"), "spot-check")
	all := strings.Join(s.Cautions, " ")
	require.Contains(t, all, "Threadlocked bolts and square tapers are not pulled")
	require.Contains(t, all, "too tight")
	require.Nil(t, s.Torque, "the joints are drawn by lot, so their figures stand in their own jobs")
}

// Any fault after the papers goes back to the start of this check, so that the
// whole ride is done again.
func TestFaultOnTheRideStartsOver(t *testing.T) {
	d := definition(t, "final-check")
	for _, id := range []string{"stand-ride", "slow-ride", "test-ride", "after-ride"} {
		s, _ := step(t, d, id)
		require.Equal(t, "check-papers", s.Rework[0].From, id)
	}
}

// The figures that other areas need of frame and fork exist, at both ends.
func TestFrameAndForkSayWhatOthersNeed(t *testing.T) {
	v := load(t).Vocabulary
	for _, key := range []string{
		"frame.chainline", "frame.chainstay_length", "frame.seat_tube_inner", "frame.seat_tube_outer", "frame.axle_width",
		"frame.gap_rear", "frame.gap_seatstays", "frame.brake_mount", "frame.rotor_limit", "frame.rotor_native", "frame.hanger_kind",
		"frame.drive_unit", "frame.head_tube_length", "fork.axle_width", "fork.gap", "fork.steerer_diameter", "fork.steerer_length",
		"fork.steerer_material", "fork.brake_mount", "fork.rotor_limit", "fork.crown_race_seat", "fork.rotor_native",
	} {
		_, ok := v.Attribute(key)
		require.True(t, ok, key)
	}
}

// The opening needs nothing to be known of the frame; the final check has to
// know what kind of bicycle it is, and says so where nobody wrote it down.
func TestFirstAndLastOnABareFrame(t *testing.T) {
	for _, tc := range []struct {
		name, job string
		is        map[string]string
		stops     []string
	}{
		{"opening", "open-job", nil, nil},
		{"final check", "final-check", map[string]string{"kind": "mountain"}, nil},
		{"final check, kind not known", "final-check", nil, []string{procedure.FindingAttributeMissing}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r, err := load(t).Resolve(tc.job)
			require.NoError(t, err)
			sheet := &procedure.Sheet{Build: "bare", Parts: []procedure.Part{{Role: "frame", Material: "steel", Is: tc.is}}}
			p, err := procedure.NewPlan(r, sheet, nil, monday, procedure.Policy{})
			require.NoError(t, err)
			require.Equal(t, tc.stops, blocking(p))
			require.Empty(t, p.Skipped)
		})
	}
}
