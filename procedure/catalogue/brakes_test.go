package catalogue_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// The facts in this file are what careful workshops do: common practice, no
// source, unless a test says otherwise.

// brakeJobs are the jobs of the brakes, each as it is at both places.
func brakeJobs(t testing.TB) []*procedure.Definition {
	t.Helper()
	var out []*procedure.Definition
	for _, id := range []string{"rotor", "disc-caliper", "rim-brake"} {
		for _, place := range []string{"front", "rear"} {
			out = append(out, definition(t, id+"-"+place))
		}
	}
	return out
}

// Windows, preps and threads of the brakes against testdata/windows_brakes.csv,
// which names the source of each row: common practice, no source. A row without
// a thread takes it from the part.
func TestWindowsOfTheBrakes(t *testing.T) {
	c := load(t)
	checks := records(t, "windows_brakes.csv")
	require.Len(t, checks, 46)
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
		require.Equal(t, row.Thread == "", row.ThreadFrom != "", row.ID)
		require.Equal(t, procedure.SafetyCritical, row.Risk, row.ID)
		require.Equal(t, procedure.FromMemory, row.Source.Confidence, row.ID)
	}
}

// Every joint row of the brakes is tightened by a step of a brake job.
func TestEveryBrakeJointIsTightened(t *testing.T) {
	used := map[string]bool{}
	for _, d := range brakeJobs(t) {
		for _, s := range d.Steps {
			if s.Torque != nil {
				for _, choice := range s.Torque.Joints {
					used[choice.Joint] = true
				}
			}
		}
	}
	for _, r := range records(t, "windows_brakes.csv") {
		require.True(t, used[r["joint"]], r["joint"])
	}
}

// A thread that gets threadlocker, or has compound on it, never gets grease,
// paste or oil, and no rotor or caliper bolt gets anything else than these.
func TestNoGreaseOnLockedBolts(t *testing.T) {
	locked := 0
	for _, d := range brakeJobs(t) {
		for _, s := range d.Steps {
			if s.Prep == nil {
				continue
			}
			for _, choice := range s.Prep.Thread {
				if !choice.Use.IsThreadlocker() {
					continue
				}
				locked++
				for _, never := range []procedure.Prep{procedure.Grease, procedure.AntiSeize, procedure.LightOil} {
					require.Contains(t, choice.Never, never, "%s/%s", d.ID, s.ID)
				}
			}
			if slices.Contains([]string{"prepare-rotor-bolts", "prepare-bolts", "tighten-plate", "tighten-adaptor", "prepare-mount-bolts"}, s.ID) {
				for _, choice := range s.Prep.Thread {
					require.True(t, choice.Use.IsThreadlocker(), "%s/%s", d.ID, s.ID)
				}
			}
		}
	}
	require.GreaterOrEqual(t, locked, 16)
}

// Whoever touches a rotor, a pad or a brake track has clean hands, and what
// goes on a braking face is nothing at all.
func TestBrakingFacesAreTouchedWithCleanHands(t *testing.T) {
	for _, tc := range []struct{ job, step string }{
		{"rotor", "keep-clean"}, {"rotor", "check-rotor"}, {"rotor", "clean-seat"}, {"rotor", "fit-rotor"}, {"rotor", "tighten-rotor"},
		{"rotor", "fit-splined-rotor"}, {"rotor", "tighten-lockring"}, {"rotor", "check-runout"},
		{"disc-caliper", "fit-pads"}, {"disc-caliper", "tighten-pad-pin"}, {"disc-caliper", "start-bolts"},
		{"disc-caliper", "center-caliper"}, {"disc-caliper", "tighten-caliper"}, {"disc-caliper", "check-function"},
		{"rim-brake", "clean-track"}, {"rim-brake", "fix-inserts"}, {"rim-brake", "set-pads"}, {"rim-brake", "check-function"},
	} {
		for _, place := range []string{"front", "rear"} {
			s, _ := step(t, definition(t, tc.job+"-"+place), tc.step)
			require.Equal(t, procedure.CleanHands, s.Hands, "%s/%s", tc.job, tc.step)
		}
	}
	for _, tc := range []struct{ job, step string }{{"rotor", "keep-clean"}, {"disc-caliper", "fit-pads"}, {"rim-brake", "clean-track"}} {
		s, _ := step(t, definition(t, tc.job+"-front"), tc.step)
		require.Len(t, s.Prep.Face, 1)
		require.Equal(t, procedure.Dry, s.Prep.Face[0].Use)
		require.Subset(t, s.Prep.Face[0].Never, []procedure.Prep{procedure.Grease, procedure.AntiSeize, procedure.LightOil, procedure.CarbonPaste})
		require.Equal(t, procedure.Friction, s.Prep.Face[0].Reason)
	}
}

// A brake part touched after chain lube was opened is looked at again.
func TestPadsAndRotorAreLookedAtAfterLube(t *testing.T) {
	for _, tc := range []struct{ job, step string }{
		{"rotor", "keep-clean"}, {"rotor", "fit-rotor"}, {"rotor", "fit-splined-rotor"},
		{"disc-caliper", "fit-pads"}, {"rim-brake", "clean-track"}, {"rim-brake", "set-pads"},
	} {
		s, _ := step(t, definition(t, tc.job+"-rear"), tc.step)
		require.Contains(t, s.Voids, "chain-lube/check-brakes", "%s/%s", tc.job, tc.step)
	}
}

// Medium threadlocker: 1 h to bedding in, 3 h to the test ride, 24 h to the
// customer; twice as long on slow metals and below 10 °C.
func TestWaitsOfBrakeBolts(t *testing.T) {
	type wait struct {
		before string
		hours  int
	}
	for _, tc := range []struct {
		job, step string
		want      []wait
	}{
		{"rotor", "prepare-rotor-bolts", []wait{{"disc-caliper-front/bed-in", 1}, {"final-check/slow-ride", 3}, {"release", 24}}},
		{"disc-caliper", "tighten-plate", []wait{{"bed-in", 1}, {"final-check/slow-ride", 3}, {"release", 24}}},
		{"disc-caliper", "tighten-adaptor", []wait{{"bed-in", 1}, {"final-check/slow-ride", 3}, {"release", 24}}},
		{"disc-caliper", "prepare-bolts", []wait{{"bed-in", 1}, {"final-check/slow-ride", 3}, {"release", 24}}},
		{"rim-brake", "prepare-mount-bolts", []wait{{"final-check/slow-ride", 3}, {"release", 24}}},
	} {
		s, _ := step(t, definition(t, tc.job+"-front"), tc.step)
		var got []wait
		for _, w := range s.Waits {
			got = append(got, wait{w.Before, int(time.Duration(w.For) / time.Hour)})
			require.Equal(t, []string{"stainless", "titanium", "anodised-alloy"}, w.Longer[0].Metals)
			require.Equal(t, 10, *w.Longer[1].BelowCelsius)
			require.Equal(t, []int{2, 2}, []int{w.Longer[0].Times, w.Longer[1].Times})
		}
		require.Equal(t, tc.want, got, "%s/%s", tc.job, tc.step)
	}
}

// A bolt with threadlocker is never pulled again: what follows the ride is a
// look at its pen line.
func TestLockedBoltsAreLookedAtNotPulled(t *testing.T) {
	for _, d := range brakeJobs(t) {
		s, _ := step(t, d, "look-at-marks")
		require.Equal(t, procedure.BeforeRelease, s.Due, d.ID)
		require.Nil(t, s.Torque, d.ID)
		require.Equal(t, "lines-whole", s.Checks[0].ID, d.ID)
		require.Equal(t, procedure.Look, s.Checks[0].Kind, d.ID)
		require.Contains(t, s.Rework[0].From, "prepare", d.ID)
	}
}

// Six rotor bolts go across, 1-4-2-5-3-6, low first and then full.
func TestRotorBoltsGoAcross(t *testing.T) {
	s, _ := step(t, definition(t, "rotor-rear"), "tighten-rotor")
	require.Equal(t, []string{"1", "4", "2", "5", "3", "6"}, s.Torque.Order)
	require.Equal(t, []int{40, 100}, s.Torque.Passes)
	require.True(t, s.Torque.Closing)
}

// Rotor, caliper, mount of a rim brake and cable anchor are seen by a second
// person.
func TestBrakesAreSeenByASecondPerson(t *testing.T) {
	for _, tc := range []struct{ job, step string }{
		{"rotor", "tighten-rotor"}, {"rotor", "tighten-lockring"},
		{"disc-caliper", "tighten-adaptor"}, {"disc-caliper", "tighten-caliper"}, {"disc-caliper", "anchor-cable"},
		{"rim-brake", "tighten-mount"}, {"rim-brake", "tighten-posts"}, {"rim-brake", "tighten-pivots"}, {"rim-brake", "anchor-cable"},
	} {
		s, _ := step(t, definition(t, tc.job+"-rear"), tc.step)
		require.NotNil(t, s.Hold, "%s/%s", tc.job, tc.step)
		require.Equal(t, procedure.SecondPerson, s.Hold.By, "%s/%s", tc.job, tc.step)
	}
}

// Limits of the measures of the brake jobs.
func TestMeasuresOfTheBrakes(t *testing.T) {
	for _, tc := range []struct{ job, step, check, unit, low, high string }{
		{"rotor", "check-rotor", "thickness", "mm", "1.5", ""},
		{"rotor", "check-rotor", "flatness", "mm", "0", "0.2"},
		{"rotor", "fit-rotor", "turns", "turns", "4", ""},
		{"rotor", "fit-splined-rotor", "turns", "turns", "2", ""},
		{"rotor", "check-runout", "wander", "mm", "0", "0.3"},
		{"rotor", "check-clearance", "rotor-to-leg", "mm", "3", ""},
		{"disc-caliper", "measure-bolts", "engaged", "mm", "6", "9"},
		{"disc-caliper", "measure-bolts", "off-bottom", "mm", "1", ""},
		{"disc-caliper", "check-mount", "gap", "mm", "0", "0.1"},
		{"disc-caliper", "route-hose", "to-wheel", "mm", "20", ""},
		{"disc-caliper", "check-function", "held", "s", "20", ""},
		{"disc-caliper", "bed-in", "slow-stops", "count", "20", ""},
		{"disc-caliper", "bed-in", "fast-stops", "count", "10", ""},
		{"rim-brake", "count-nut-turns", "nut-turns", "turns", "6", ""},
		{"rim-brake", "set-pads", "below-edge", "mm", "1", ""},
		{"rim-brake", "clamp-cable", "pad-to-rim", "mm", "2", "3"},
		{"rim-brake", "pull-cable", "pulls", "count", "5", ""},
		{"rim-brake", "check-function", "lever-to-bar", "mm", "25", ""},
		{"rim-brake", "check-function", "tail", "mm", "20", "50"},
	} {
		for _, place := range []string{"front", "rear"} {
			s, _ := step(t, definition(t, tc.job+"-"+place), tc.step)
			i := slices.IndexFunc(s.Checks, func(c procedure.Check) bool { return c.ID == tc.check })
			require.GreaterOrEqual(t, i, 0, "%s/%s/%s", tc.job, tc.step, tc.check)
			c := s.Checks[i]
			require.Equal(t, []string{tc.unit, tc.low, tc.high}, []string{c.Unit, c.Min, c.Max}, "%s/%s/%s", tc.job, tc.step, tc.check)
		}
	}
}

// The cable is clamped, pulled at hard, and clamped again; only the last counts.
func TestCableIsClampedTwice(t *testing.T) {
	for _, id := range []string{"rim-brake-front", "rim-brake-rear", "disc-caliper-front", "disc-caliper-rear"} {
		d := definition(t, id)
		inOrder(t, d, "prepare-anchor", "clamp-cable", "pull-cable", "anchor-cable", "check-function")
		for _, spoils := range []string{"clamp-cable", "pull-cable"} {
			s, _ := step(t, d, spoils)
			require.Contains(t, s.Voids, "anchor-cable", id)
		}
		s, _ := step(t, d, "prepare-anchor")
		require.Equal(t, procedure.Dry, s.Prep.Face[0].Use, "cable and groove stay dry")
		require.Equal(t, procedure.Grease, s.Prep.Thread[0].Use)
	}
}
