package catalogue_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// The facts in this file are what careful workshops do: common practice, no
// source, unless a test says otherwise.

// Windows, preps and threads of seat and frame against testdata/windows_seat.csv,
// which names the source of each row. Rows without a window are the pairs for
// which nobody knows a figure, and no others.
func TestWindowsOfSeatAndFrame(t *testing.T) {
	c := load(t)
	checks := records(t, "windows_seat.csv")
	require.Len(t, checks, 19)
	for _, r := range checks {
		row, ok := c.Joint(r["joint"])
		require.True(t, ok, r["joint"])
		m, err := torque.ParseMarking(row.Window)
		require.NoError(t, err)
		w, err := m.Window()
		require.NoError(t, err)
		want, err := torque.NewWindow(newtonMeters(t, r["min_nm"]), newtonMeters(t, r["max_nm"]))
		require.NoError(t, err)
		require.Equal(t, want, w, row.ID)
		require.Equal(t, r["prep"], row.ThreadPrep.String(), row.ID)
		require.Equal(t, r["thread"], row.Thread, row.ID)
		require.Equal(t, procedure.FromMemory, row.Source.Confidence, row.ID)
	}
	for _, id := range []string{"seat-collar-of-the-maker", "saddle-clamp-of-the-maker"} {
		row, ok := c.Joint(id)
		require.True(t, ok, id)
		require.Empty(t, row.Window+row.Aim, id)
	}
}

// What holds post and saddle is safety-critical.
func TestRiskOfTheSeat(t *testing.T) {
	c := load(t)
	seen := 0
	for _, row := range c.Joints {
		if strings.HasPrefix(row.ID, "seat-") || strings.HasPrefix(row.ID, "saddle-") || strings.HasPrefix(row.ID, "telescopic-") {
			require.Equal(t, procedure.SafetyCritical, row.Risk, row.ID)
			seen++
		}
	}
	require.Equal(t, 12, seen)
	for _, id := range []string{"open-job", "seatpost", "saddle", "final-check"} {
		require.Equal(t, procedure.SafetyCritical, definition(t, id).Risk, id)
	}
}

// A slip is answered by cleaning and a new prep at the same value. No way back
// of the two jobs leads from a slip to a tightening step.
func TestSlipIsCleanedNotTightened(t *testing.T) {
	slips := 0
	for _, id := range []string{"seatpost", "saddle"} {
		d := definition(t, id)
		for _, s := range d.Steps {
			for _, r := range s.Rework {
				if !strings.Contains(r.If, "slips") && !strings.Contains(r.If, "sunk") && !strings.Contains(r.If, "creeps") {
					continue
				}
				slips++
				require.NotContains(t, r.From, "tighten", "%s/%s", id, s.ID)
				require.NotContains(t, r.From, "recheck", "%s/%s", id, s.ID)
				require.NotEmpty(t, r.From, "%s/%s: back to what comes before", id, s.ID)
				require.Contains(t, []string{"prepare-post", "prepare-bolts", "measure-post", "stop"}, r.From, "%s/%s", id, s.ID)
			}
		}
	}
	require.GreaterOrEqual(t, slips, 6)
}

// Paste lowers no figure by itself: the only way to a lower one is the maker's
// own, entered on the sheet. Nothing in the job scales a window for paste.
func TestPasteLowersNothingByItself(t *testing.T) {
	d := definition(t, "seatpost")
	require.True(t, slices.ContainsFunc(d.Cautions, func(s string) bool {
		return strings.Contains(s, "only where the papers of post or frame say so")
	}))
	for marking, want := range map[string]string{"max. 5 N·m": "4 N·m to 5 N·m", "4.5 N·m to 5 N·m": "4.5 N·m to 5 N·m", "max. 4.5 N·m": "4 N·m to 4.5 N·m"} {
		p := seatPlan(t, "seatpost", carbonBike(), printed("seatpost", "seat-collar-m5-carbon-post", marking))
		s, ok := p.Step("tighten-collar")
		require.True(t, ok)
		require.Equal(t, want, s.Torque.Window.String(), marking)
	}
}

type bike map[string]procedure.Part

func carbonBike() bike {
	return bike{
		"frame": {Material: "carbon", Is: map[string]string{"seat_tube_inner": "27.2 mm", "kind": "racing"}},
		"seatpost": {Material: "carbon", Is: map[string]string{"kind": "rigid", "shape": "round", "diameter": "27.1 mm", "clamp": "two-bolts",
			"clamp_thread": "M5x0.8", "cradle_width": "7 mm", "cradle_height": "7 mm", "serrations": "fitted"}},
		"seat-collar": {Material: "alloy", Is: map[string]string{"kind": "collar", "bolts": "one", "thread": "M5x0.8"}},
		"saddle":      {Material: "steel", Is: map[string]string{"rails": "metal", "rail_width": "7 mm", "rail_height": "7 mm"}},
	}
}

// is changes one attribute, or the material, of a part.
func is(role, name, value string) func(bike) {
	return func(b bike) {
		p := b[role]
		if name == "material" {
			p.Material = value
		} else {
			p.Is[name] = value
		}
		b[role] = p
	}
}

func printed(role, row, marking string) func(bike) {
	return func(b bike) {
		p := b[role]
		p.Printed = append(p.Printed, procedure.PrintedFigure{Joint: row, Marking: marking, Seen: procedure.Printed, Where: "on the part"})
		b[role] = p
	}
}

func seatPlan(t testing.TB, job string, b bike, changes ...func(bike)) *procedure.Plan {
	t.Helper()
	for _, change := range changes {
		change(b)
	}
	s := &procedure.Sheet{Build: "seat", Label: "invented", Invented: true}
	for _, role := range []string{"frame", "seatpost", "seat-collar", "saddle"} {
		p := b[role]
		p.Role = role
		s.Parts = append(s.Parts, p)
	}
	r, err := load(t).Resolve(job)
	require.NoError(t, err)
	p, err := procedure.NewPlan(r, s, nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return p
}

// Which joint and which prep each pair of post and frame gets.
func TestClampAndPrepByMaterialPair(t *testing.T) {
	for _, tc := range []struct {
		name    string
		changes []func(bike)
		joint   string
		prep    procedure.Prep
		held    bool
	}{
		{"carbon in carbon", nil, "seat-collar-m5-carbon-post", procedure.CarbonPaste, true},
		{"carbon in steel", []func(bike){is("frame", "material", "steel")}, "seat-collar-m5-carbon-post", procedure.CarbonPaste, false},
		{"carbon in titanium", []func(bike){is("frame", "material", "titanium")}, "seat-collar-m5-carbon-post", procedure.CarbonPaste, false},
		{"alloy in carbon", []func(bike){is("seatpost", "material", "alloy")}, "seat-collar-of-the-maker", procedure.CarbonPaste, false},
		{"alloy in steel", []func(bike){is("seatpost", "material", "alloy"), is("frame", "material", "steel")},
			"seat-collar-m5-metal-post", procedure.Grease, false},
		{"alloy in alloy, larger bolt", []func(bike){is("seatpost", "material", "alloy"), is("frame", "material", "alloy"), is("seat-collar", "thread", "M6x1")},
			"seat-collar-m6-metal-post", procedure.Grease, false},
		{"alloy in titanium", []func(bike){is("seatpost", "material", "alloy"), is("frame", "material", "titanium")},
			"seat-collar-m5-metal-post", procedure.AntiSeize, false},
		{"titanium in alloy", []func(bike){is("seatpost", "material", "titanium"), is("frame", "material", "alloy")},
			"seat-collar-m5-metal-post", procedure.AntiSeize, false},
		{"telescopic", []func(bike){is("seatpost", "kind", "telescopic"), is("seatpost", "material", "alloy"), is("frame", "material", "alloy")},
			"telescopic-post-collar-m5", procedure.CarbonPaste, false},
		{"wedge", []func(bike){is("seat-collar", "kind", "internal-wedge"), is("seatpost", "shape", "shaped")},
			"seat-wedge-bolt", procedure.CarbonPaste, true},
		{"carbon post, larger bolt", []func(bike){is("seat-collar", "thread", "M6x1")}, "seat-collar-of-the-maker", procedure.CarbonPaste, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := seatPlan(t, "seatpost", carbonBike(), append(tc.changes, printed("frame", tc.joint, "max. 5 N·m"), printed("seatpost", tc.joint, "4-5 N·m"))...)
			require.False(t, p.Blocked(), p.Findings)
			post, ok := p.Step("prepare-post")
			require.True(t, ok)
			require.Equal(t, tc.prep, post.FacePrep.Use)
			tighten, ok := p.Step("tighten-collar")
			require.True(t, ok)
			require.Equal(t, tc.joint, tighten.Torque.Joint)
			require.Equal(t, tc.held, tighten.Hold != nil)
			again, ok := p.Step("recheck-collar")
			require.True(t, ok)
			require.Equal(t, tc.joint, again.Torque.Joint)
			require.Equal(t, procedure.BeforeRelease, again.Due)
		})
	}
}

// Nobody knows a figure for a metal post in a carbon frame: with nothing
// printed the plan stops.
func TestNoFigureStopsTheSeatpost(t *testing.T) {
	p := seatPlan(t, "seatpost", carbonBike(), is("seatpost", "material", "alloy"))
	require.Contains(t, blocking(p), procedure.FindingLimitUnknown)
}

// Grease never goes on a carbon post or into a carbon frame with one; a thread
// never gets paste.
func TestWhatNeverTouchesTheSeat(t *testing.T) {
	d := definition(t, "seatpost")
	s, _ := step(t, d, "prepare-post")
	found := false
	for _, choice := range s.Prep.Face {
		if slices.Equal(choice.When["seatpost.material"], []string{"carbon"}) {
			require.Equal(t, procedure.CarbonPaste, choice.Use)
			require.Contains(t, choice.Never, procedure.Grease)
			found = true
		}
	}
	require.True(t, found)
	for _, at := range []struct{ job, step string }{{"seatpost", "prepare-bolts"}, {"seatpost", "prepare-wedge"}, {"saddle", "prepare-bolts"}} {
		s, _ := step(t, definition(t, at.job), at.step)
		require.NotEmpty(t, s.Prep.Thread)
		for _, choice := range s.Prep.Thread {
			require.Contains(t, choice.Never, procedure.CarbonPaste, at.job)
		}
	}
	s, _ = step(t, definition(t, "saddle"), "prepare-bolts")
	for _, choice := range s.Prep.Face {
		require.Equal(t, procedure.Dry, choice.Use, "rails and teeth stay dry")
		require.Contains(t, choice.Never, procedure.Grease)
	}
}

// Which clamp of the saddle gets which row, in which rounds.
func TestSaddleClamps(t *testing.T) {
	for _, tc := range []struct {
		name, clamp, thread, rails, step, joint string
		passes                                  []int
		closing                                 bool
	}{
		{"two small bolts", "two-bolts", "M5x0.8", "metal", "tighten-clamp", "saddle-clamp-two-bolts-m5", []int{50, 75, 100}, true},
		{"two larger bolts", "two-bolts", "M6x1", "metal", "tighten-clamp", "saddle-clamp-two-bolts-m6", []int{50, 75, 100}, true},
		{"two bolts on carbon rails", "two-bolts", "M5x0.8", "carbon", "tighten-clamp", "saddle-clamp-of-the-maker", []int{50, 75, 100}, true},
		{"one bolt", "one-bolt", "M8x1.25", "metal", "tighten-single", "saddle-clamp-single-bolt-m8", []int{50, 100}, false},
		{"ears, round rails", "side-ears", "M6x1", "metal", "tighten-single", "saddle-side-clamp-metal-rails", []int{50, 100}, false},
		{"ears, carbon rails", "side-ears", "M6x1", "carbon", "tighten-single", "saddle-side-clamp-carbon-rails", []int{50, 100}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := seatPlan(t, "saddle", carbonBike(), is("seatpost", "clamp", tc.clamp), is("seatpost", "clamp_thread", tc.thread),
				is("saddle", "rails", tc.rails), printed("saddle", tc.joint, "max. 9 N·m"), printed("seatpost", tc.joint, "6-9 N·m"))
			require.False(t, p.Blocked(), p.Findings)
			s, ok := p.Step(tc.step)
			require.True(t, ok)
			require.Equal(t, tc.joint, s.Torque.Joint)
			require.Equal(t, tc.passes, s.Torque.Passes)
			require.Equal(t, tc.closing, s.Torque.Closing)
		})
	}
}

// The tilt is the difference of two bolts, so it is looked at after them and
// spoiled by them.
func TestTiltIsMeasuredAfterTheBolts(t *testing.T) {
	d := definition(t, "saddle")
	inOrder(t, d, "position-saddle", "start-bolts", "tighten-clamp", "tighten-single", "check-position", "load-test", "recheck-clamp")
	for _, id := range []string{"tighten-clamp", "tighten-single"} {
		s, _ := step(t, d, id)
		require.Contains(t, s.Voids, "check-position")
	}
}

// A post that was moved or clamped anew spoils the saddle height and the load
// test of the saddle.
func TestPostSpoilsSaddleHeight(t *testing.T) {
	d := definition(t, "seatpost")
	for _, id := range []string{"check-insertion", "tighten-collar", "tighten-collar-pair"} {
		s, _ := step(t, d, id)
		require.Subset(t, s.Voids, []string{"saddle/check-position", "saddle/load-test", "hold-test", "final-check/*"}, id)
	}
	inOrder(t, d, "prepare-post", "check-insertion", "place-collar", "start-bolts", "tighten-collar", "hold-test", "recheck-collar")
}
