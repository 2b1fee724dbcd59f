package catalogue_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// The facts in this file are what careful workshops do: common practice, no
// source, unless a test says otherwise.

func definition(t testing.TB, id string) *procedure.Definition {
	t.Helper()
	d, ok := load(t).Definition(id)
	require.True(t, ok, id)
	return d
}

func step(t testing.TB, d *procedure.Definition, id string) (*procedure.Step, int) {
	t.Helper()
	for i := range d.Steps {
		if d.Steps[i].ID == id {
			return &d.Steps[i], i
		}
	}
	require.Fail(t, "no such step", "%s/%s", d.ID, id)
	return nil, 0
}

// inOrder wants the steps to stand in this order.
func inOrder(t testing.TB, d *procedure.Definition, ids ...string) {
	t.Helper()
	last := -1
	for _, id := range ids {
		_, at := step(t, d, id)
		require.Greater(t, at, last, "%s/%s comes too early", d.ID, id)
		last = at
	}
}

func TestRiskOfTheJobs(t *testing.T) {
	want := map[string]procedure.Risk{
		"bottom-bracket-threaded": procedure.FunctionCritical,
		"cassette-splined-body":   procedure.FunctionCritical,
		"crank-self-extracting":   procedure.SafetyCritical,
		"crank-square-taper":      procedure.SafetyCritical,
		"crank-two-pinch-bolts":   procedure.SafetyCritical,
		"pedals":                  procedure.SafetyCritical,
		"stem-on-steerer":         procedure.SafetyCritical,
		"handlebar":               procedure.SafetyCritical,
		"levers":                  procedure.SafetyCritical,
		"seatpost":                procedure.SafetyCritical,
		"saddle":                  procedure.SafetyCritical,
		"rotor-front":             procedure.SafetyCritical,
		"disc-caliper-rear":       procedure.SafetyCritical,
		"rim-brake-front":         procedure.SafetyCritical,
		"thru-axle-front":         procedure.SafetyCritical,
		"wheel-in-slots-rear":     procedure.SafetyCritical,
		"wheel-tension-front":     procedure.SafetyCritical,
		"rear-derailleur":         procedure.SafetyCritical,
		"front-derailleur":        procedure.FunctionCritical,
		"chain-joining":           procedure.FunctionCritical,
		"chain-lube":              procedure.SafetyCritical,
		"open-job":                procedure.SafetyCritical,
		"final-check":             procedure.SafetyCritical,
	}
	for id, risk := range want {
		require.Equal(t, risk, definition(t, id).Risk, id)
	}
}

// Common practice, no source: on shells with 1.37 in x 24 tpi (hand as in ISO
// 6696:1989, scope as quoted) and M47x1 the drive side is left-hand; on 36 mm
// x 24 tpi both sides are right-hand; a left pedal is left-hand.
func TestHands(t *testing.T) {
	c := load(t)
	for _, tc := range []struct {
		joint string
		hand  joint.Hand
	}{
		{"bottom-bracket-cup-drive-1-37x24", joint.LeftHand},
		{"bottom-bracket-cup-non-drive-1-37x24", joint.RightHand},
		{"bottom-bracket-flange-drive-1-37x24", joint.LeftHand},
		{"bottom-bracket-support-non-drive-1-37x24", joint.RightHand},
		{"bottom-bracket-cup-drive-m47x1", joint.LeftHand},
		{"bottom-bracket-cup-non-drive-m47x1", joint.RightHand},
		{"bottom-bracket-cup-drive-m36x24", joint.RightHand},
		{"bottom-bracket-cup-non-drive-m36x24", joint.RightHand},
		{"pedal-left-9-16x20", joint.LeftHand},
		{"pedal-right-9-16x20", joint.RightHand},
		{"pedal-left-1-2x20", joint.LeftHand},
		{"pedal-right-1-2x20", joint.RightHand},
	} {
		row, ok := c.Joint(tc.joint)
		require.True(t, ok, tc.joint)
		th, err := joint.ParseThread(row.Thread)
		require.NoError(t, err)
		require.Equal(t, tc.hand, th.Hand(), tc.joint)
	}
}

// Common practice, no source: the order of preload and bolts is opposite on
// the two kinds of crank.
func TestOrderOfPreload(t *testing.T) {
	inOrder(t, definition(t, "crank-two-pinch-bolts"),
		"fit-left-arm", "set-preload", "drop-plate", "tighten-pinch-bolts", "check-crank", "recheck-pinch-bolts")
	inOrder(t, definition(t, "crank-self-extracting"),
		"start-bolt", "tighten-bolt", "take-out-play", "clamp-preload-ring", "check-crank")
}

// Common practice, no source: fingers start both cups, a second person looks,
// and only then does a tool touch.
func TestFingersBeforeTools(t *testing.T) {
	d := definition(t, "bottom-bracket-threaded")
	inOrder(t, d, "start-drive-side", "start-non-drive-side", "tighten-drive-side", "tighten-non-drive-side")
	s, held := step(t, d, "start-non-drive-side")
	require.NotNil(t, s.Hold)
	require.Equal(t, procedure.SecondPerson, s.Hold.By)
	for i := range d.Steps {
		require.False(t, d.Steps[i].Torque != nil && i <= held, "a tool touches before the hold, in %s", d.Steps[i].ID)
	}
	for _, id := range []string{"start-drive-side", "start-non-drive-side"} {
		s, _ := step(t, d, id)
		require.Equal(t, procedure.Measure, s.Checks[0].Kind)
		require.Equal(t, "3", s.Checks[0].Min)
		require.Equal(t, "turns", s.Checks[0].Unit)
	}
}

// Common practice, no source: whatever the materials, the faces of a square
// taper stay dry while its bolt is coated.
func TestTaperFacesStayDry(t *testing.T) {
	d := definition(t, "crank-square-taper")
	for _, side := range []string{"right", "left"} {
		s, _ := step(t, d, "clean-"+side+"-taper")
		require.Len(t, s.Prep.Face, 1)
		require.Empty(t, s.Prep.Face[0].When)
		require.Equal(t, procedure.Dry, s.Prep.Face[0].Use)
		b, _ := step(t, d, "prepare-"+side+"-bolt")
		for _, choice := range b.Prep.Thread {
			require.Contains(t, []procedure.Prep{procedure.Grease, procedure.AntiSeize}, choice.Use)
		}
		inOrder(t, d, "clean-"+side+"-taper", "seat-"+side+"-arm", "start-"+side+"-bolt", "tighten-"+side+"-arm")
	}
}

// Common practice, no source: a square taper is pulled again once, after the
// test ride, and the pulls are counted.
func TestTaperIsPulledAgainOnce(t *testing.T) {
	d := definition(t, "crank-square-taper")
	for _, side := range []string{"right", "left"} {
		s, _ := step(t, d, "recheck-"+side+"-arm")
		require.Equal(t, procedure.BeforeRelease, s.Due)
		require.Equal(t, []int{100}, s.Torque.Passes)
		require.False(t, s.Torque.Closing)
		require.Equal(t, "count", s.Checks[1].Unit)
		require.Equal(t, "1", s.Checks[1].Max)
	}
}

// Common practice, no source: the retaining plate is the step that is
// forgotten, so it asks for a photo, and the bolts wait for it.
func TestPlateIsPhotographed(t *testing.T) {
	d := definition(t, "crank-two-pinch-bolts")
	s, plate := step(t, d, "drop-plate")
	var kinds []procedure.CheckKind
	for _, c := range s.Checks {
		kinds = append(kinds, c.Kind)
	}
	require.Contains(t, kinds, procedure.Photo)
	_, bolts := step(t, d, "tighten-pinch-bolts")
	require.Less(t, plate, bolts)
}

// Common practice, no source: a group goes round until no bolt moves; a single
// large bolt gets a confirming pull; both are seen by a second person.
func TestClosingRounds(t *testing.T) {
	s, _ := step(t, definition(t, "crank-two-pinch-bolts"), "tighten-pinch-bolts")
	require.Equal(t, []int{50, 75, 100}, s.Torque.Passes)
	require.True(t, s.Torque.Closing)
	require.Equal(t, 3, s.Torque.ClosingLimit)
	require.Equal(t, procedure.SecondPerson, s.Hold.By)
	s, _ = step(t, definition(t, "crank-self-extracting"), "tighten-bolt")
	require.Len(t, s.Torque.Bolts, 1)
	require.True(t, s.Torque.Closing)
	require.Equal(t, procedure.SecondPerson, s.Hold.By)
}

// Common practice, no source: the preload cap is found by feel, and it is not
// what holds the arm.
func TestPreloadCapIsFoundByFeel(t *testing.T) {
	s, _ := step(t, definition(t, "crank-two-pinch-bolts"), "set-preload")
	require.True(t, s.Torque.ByFeel)
	require.Equal(t, procedure.FunctionCritical, s.Risk)
}

// Common practice, no source: a cup that is touched spoils everything in the
// crank job that stands on it.
func TestCupSpoilsTheCrank(t *testing.T) {
	d := definition(t, "bottom-bracket-threaded")
	for _, id := range []string{"tighten-drive-side", "tighten-non-drive-side"} {
		s, _ := step(t, d, id)
		for _, crank := range []string{"crank-two-pinch-bolts/*", "crank-self-extracting/*", "crank-square-taper/*"} {
			require.Contains(t, s.Voids, crank, id)
		}
	}
}

// Common practice, no source: with the arm moved, preload, plate and bolts are
// all to be done again.
func TestArmSpoilsWhatLeansOnIt(t *testing.T) {
	s, _ := step(t, definition(t, "crank-two-pinch-bolts"), "fit-left-arm")
	require.Subset(t, s.Voids, []string{"set-preload", "drop-plate", "tighten-pinch-bolts", "recheck-pinch-bolts"})
	s, _ = step(t, definition(t, "crank-two-pinch-bolts"), "set-preload")
	require.Contains(t, s.Voids, "tighten-pinch-bolts")
}

// Common practice, no source: the stack stands 0.5 mm to 2 mm beyond the body,
// a tight cassette does not rock, and sprockets fitted one by one mark a soft
// body.
func TestCassetteFacts(t *testing.T) {
	d := definition(t, "cassette-splined-body")
	s, _ := step(t, d, "stack-height")
	require.Equal(t, []string{"0.5", "2", "mm"}, []string{s.Checks[0].Min, s.Checks[0].Max, s.Checks[0].Unit})
	s, _ = step(t, d, "check-cassette")
	require.Equal(t, procedure.Look, s.Checks[0].Kind)
	require.Contains(t, s.Checks[0].Ask, "rock")
	s, _ = step(t, d, "inspect-body")
	told := s.Checks[3]
	require.Equal(t, []string{"individual"}, told.When["cassette.carrier"])
	require.Equal(t, []string{"alloy", "anodised-alloy"}, told.When["freehub-body.material"])
	s, _ = step(t, d, "fit-spacer")
	require.Equal(t, []string{"fits-with"}, s.When["fit.body-length"])
	require.Equal(t, "body-length.spacer", s.Checks[0].Expect)
}

// Common practice, no source: titanium never goes together on grease alone.
func TestTitaniumTakesAntiSeize(t *testing.T) {
	asked := 0
	for _, d := range load(t).Definitions {
		for _, s := range d.Steps {
			if s.Prep == nil {
				continue
			}
			for _, list := range [][]procedure.PrepChoice{s.Prep.Thread, s.Prep.Face} {
				for _, choice := range list {
					for key, values := range choice.When {
						if strings.HasSuffix(key, ".material") && strings.Contains(strings.Join(values, " "), "titanium") {
							require.Equal(t, procedure.AntiSeize, choice.Use, "%s/%s", d.ID, s.ID)
							asked++
						}
					}
				}
			}
		}
	}
	require.GreaterOrEqual(t, asked, 8)
}

// Common practice, no source: threadlocker cures slowly on stainless,
// titanium and anodised metal, and below 10 °C.
func TestThreadlockerWaits(t *testing.T) {
	found := 0
	for _, d := range load(t).Definitions {
		for _, s := range d.Steps {
			for _, w := range s.Waits {
				if len(w.With) == 0 {
					continue // lube that soaks in, glue that dries: no thread
				}
				for _, prep := range w.With {
					require.True(t, prep.IsThreadlocker(), "%s/%s", d.ID, s.ID)
				}
				require.Len(t, w.Longer, 2, "%s/%s", d.ID, s.ID)
				require.Equal(t, []string{"stainless", "titanium", "anodised-alloy"}, w.Longer[0].Metals, "%s/%s", d.ID, s.ID)
				require.Equal(t, 10, *w.Longer[1].BelowCelsius, "%s/%s", d.ID, s.ID)
				found++
			}
		}
	}
	require.GreaterOrEqual(t, found, 3)
}

// Common practice, no source: a crossed or torn thread ends the job here; it
// is not tightened through.
func TestCrossedThreadStopsTheJob(t *testing.T) {
	for _, tc := range []struct{ job, step string }{
		{"bottom-bracket-threaded", "start-drive-side"},
		{"bottom-bracket-threaded", "start-non-drive-side"},
		{"cassette-splined-body", "start-lockring"},
		{"crank-two-pinch-bolts", "start-pinch-bolts"},
		{"crank-self-extracting", "start-bolt"},
		{"pedals", "start-right"},
		{"pedals", "start-left"},
	} {
		s, _ := step(t, definition(t, tc.job), tc.step)
		stops := false
		for _, r := range s.Rework {
			stops = stops || r.From == "stop" && strings.Contains(r.If, "crossed")
		}
		require.True(t, stops, "%s/%s", tc.job, tc.step)
	}
}

// Common practice, no source: every fine thread is started with the fingers
// before a wrench goes on, and the turns are counted.
func TestEveryTorqueFollowsAFingerStart(t *testing.T) {
	exempt := map[string]bool{
		"set-preload":         true,                                                      // found by feel, with the fingers
		"clamp-preload-ring":  true,                                                      // a captive screw
		"tighten-ring":        true,                                                      // started by fingers in the same step
		"recheck-pinch-bolts": true, "recheck-right-arm": true, "recheck-left-arm": true, // in already
		// A nut or bolt of each side has its own start.
	}
	for _, d := range load(t).Definitions {
		counted := 0
		for _, s := range d.Steps {
			for _, c := range s.Checks {
				if c.Unit == "turns" {
					counted++
				}
			}
			if s.Torque != nil && !exempt[s.ID] {
				require.Positive(t, counted, "%s/%s", d.ID, s.ID)
			}
		}
	}
}
