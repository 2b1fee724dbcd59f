package catalogue_test

import (
	"io/fs"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// The facts in this file are what careful workshops do: common practice, no
// source, as every source in the gears' procedures says itself.

var gearsJobs = []string{"rear-derailleur", "front-derailleur", "chain-joining", "chain-lube"}

func gearsJoints(t testing.TB) []procedure.JointRow {
	t.Helper()
	name := catalogue.JointsFolder + "/gears.yaml"
	data, err := fs.ReadFile(catalogue.FS(), name)
	require.NoError(t, err)
	rows, err := procedure.ReadJoints(name, data)
	require.NoError(t, err)
	return rows
}

// Windows and preps against the trade's table, row by row
// (testdata/windows_gears.csv names the source of each: common practice, no
// source), and every row of the gears has its check value.
func TestWindowsOfTheGears(t *testing.T) {
	want := map[string]map[string]string{}
	for _, r := range records(t, "windows_gears.csv") {
		want[r["joint"]] = r
	}
	rows := gearsJoints(t)
	require.Len(t, rows, len(want))
	for _, row := range rows {
		r := want[row.ID]
		require.NotNil(t, r, row.ID)
		require.Equal(t, r["min_nm"]+" N·m to "+r["max_nm"]+" N·m", row.Window, row.ID)
		require.Equal(t, r["prep"], row.ThreadPrep.String(), row.ID)
		require.Equal(t, procedure.FromMemory, row.Source.Confidence, row.ID)
		require.Equal(t, procedure.FunctionCritical, row.Risk, row.ID)
		aim, err := torque.Parse(row.Aim)
		require.NoError(t, err)
		low, high := newtonMeters(t, r["min_nm"]), newtonMeters(t, r["max_nm"])
		require.True(t, low <= aim && aim <= high, row.ID)
	}
}

// Common practice, no source: every thread of the gears is right-hand, but that
// of the hollow hanger bolt; its hand and that of a ring's lockring are read
// off the part.
func TestHandsOfTheGears(t *testing.T) {
	from := map[string]string{"hanger-hollow-bolt-left-hand": "hanger.bolt_thread", "chainring-direct-lockring": "crankset.ring_lockring_thread"}
	for _, row := range gearsJoints(t) {
		require.Equal(t, from[row.ID], row.ThreadFrom, row.ID)
		if row.ThreadFrom != "" {
			continue
		}
		th, err := joint.ParseThread(row.Thread)
		require.NoError(t, err)
		require.Equal(t, joint.RightHand, th.Hand(), row.ID)
	}
	d := definition(t, "rear-derailleur")
	compare, _ := step(t, d, "compare-hanger")
	require.Contains(t, check(t, compare, "lean").Ask, "left-hand")
}

// check finds one check of a step.
func check(t testing.TB, s *procedure.Step, id string) procedure.Check {
	t.Helper()
	for _, c := range s.Checks {
		if c.ID == id {
			return c
		}
	}
	require.Fail(t, "no such check", "%s/%s", s.ID, id)
	return procedure.Check{}
}

// limits are least, largest and unit of a measure.
func limits(c procedure.Check) [3]string { return [3]string{c.Min, c.Max, c.Unit} }

// Common practice, no source: the brakes are guarded, then the lube goes on
// from the joining link, a few drops a roller for one full turn, about ten
// seconds backward, wiped off chain, jockey wheels and chainrings, and the
// brakes are looked at last.
func TestChainLubeFacts(t *testing.T) {
	d := definition(t, "chain-lube")
	inOrder(t, d, "guard-brakes", "clean-chain", "drip", "work-in", "wipe", "check-brakes")
	guard, _ := step(t, d, "guard-brakes")
	require.Empty(t, guard.When, "the guard is for every bike")
	require.Equal(t, procedure.CleanHands, guard.Hands)
	require.Equal(t, procedure.SafetyCritical, guard.Risk)
	require.Contains(t, guard.Voids, "check-brakes")
	drip, _ := step(t, d, "drip")
	require.Equal(t, procedure.LubeHands, drip.Hands)
	require.Contains(t, check(t, drip, "still-covered").Ask, "before you open")
	require.Contains(t, check(t, drip, "from-joint").Ask, "joining link")
	require.Equal(t, [3]string{"1", "1", "turns"}, limits(check(t, drip, "turns-of-chain")))
	require.Equal(t, [3]string{"1", "3", "count"}, limits(check(t, drip, "drops")))
	work, _ := step(t, d, "work-in")
	require.Contains(t, work.Do, "backward for about 10 s")
	require.Equal(t, "s", check(t, work, "seconds").Unit)
	wipe, _ := step(t, d, "wipe")
	for _, id := range []string{"chain-wiped", "wheels-wiped", "rings-wiped"} {
		require.Equal(t, procedure.Look, check(t, wipe, id).Kind)
	}
	brakes, _ := step(t, d, "check-brakes")
	require.Equal(t, procedure.CleanHands, brakes.Hands)
	require.Contains(t, check(t, brakes, "white-cloth").Ask, "white")
}

// Common practice, no source: chain lube may serve brake pivots and unlined
// cables, not lined ones, and never reaches rotor or rim.
func TestWhatChainLubeMayServe(t *testing.T) {
	all := strings.Join(definition(t, "chain-lube").Cautions, " ")
	for _, fact := range []string{
		"Lube never reaches a rotor or a rim.",
		"brake pivots and cables that run without a liner",
		"does not go into a lined cable",
	} {
		require.Contains(t, all, fact)
	}
}

// Common practice, no source: wet lube stands 5 min to 10 min, a wax emulsion
// 2 h to 4 h, and a printed figure comes before both.
func TestHowLongLubeStands(t *testing.T) {
	d := definition(t, "chain-lube")
	for _, tc := range []struct {
		step, kind  string
		least, most time.Duration
	}{
		{"soak-wet", "wet", 5 * time.Minute, 10 * time.Minute},
		{"dry-wax", "wax-emulsion", 2 * time.Hour, 4 * time.Hour},
	} {
		s, _ := step(t, d, tc.step)
		require.Equal(t, procedure.Condition{"chain.lube": {tc.kind}, "chain.lube_time": {"none"}}, s.When)
		require.Len(t, s.Waits, 1)
		w := s.Waits[0]
		require.Equal(t, procedure.BeforeFinishing, w.Before)
		require.Equal(t, tc.least, time.Duration(w.For))
		require.Equal(t, tc.most, time.Duration(w.For)*time.Duration(w.Longer[0].Times))
	}
	s, _ := step(t, d, "let-stand")
	require.Equal(t, procedure.Condition{"chain.lube_time": {"printed"}}, s.When)
}

// Common practice, no source: chain lube is the last wet work, so it comes
// after every job that touches a brake with clean hands.
func TestChainLubeIsLast(t *testing.T) {
	c := load(t)
	before := map[string]bool{}
	queue := []string{"chain-lube"}
	for len(queue) > 0 {
		d := definition(t, queue[0])
		queue = queue[1:]
		for _, id := range d.After {
			if !before[id] {
				before[id] = true
				queue = append(queue, id)
			}
		}
	}
	require.False(t, before["chain-lube"], "the order goes round in a circle")
	for _, d := range c.Definitions {
		if d.ID == "chain-lube" || d.ID == "final-check" {
			continue
		}
		for _, s := range d.Steps {
			require.True(t, s.Hands != procedure.CleanHands || before[d.ID], "%s/%s comes after the lube", d.ID, s.ID)
			require.NotEqual(t, procedure.LubeHands, s.Hands, "%s/%s opens chain lube", d.ID, s.ID)
		}
	}
}

// Common practice, no source: the hanger is measured at four places of the
// clock, 4 mm apart at most, before stops and gears are set, and a touched
// hanger voids them.
func TestHangerIsMeasuredAtFourPlaces(t *testing.T) {
	d := definition(t, "rear-derailleur")
	s, _ := step(t, d, "align-hanger")
	for _, at := range []string{"12", "3", "6", "9"} {
		require.Equal(t, procedure.Measure, check(t, s, "gap-"+at).Kind)
	}
	require.Equal(t, [3]string{"0", "4", "mm"}, limits(check(t, s, "spread")))
	require.Subset(t, s.Voids, []string{"set-limits", "set-gap", "index-gears", "load-check"})
	inOrder(t, d, "compare-hanger", "align-hanger", "start-mount-bolt", "tighten-mount-bolt", "set-limits", "anchor-cable", "set-gap", "index-gears", "load-check")
	require.Equal(t, [3]string{"5", "7", "mm"}, limits(check(t, first(step(t, d, "set-gap")), "gap")))
}

func first(s *procedure.Step, _ int) *procedure.Step { return s }

// Common practice, no source: a derailleur in the spokes throws the rider, so
// the low stop is safety-critical and a second person pushes, with no cable on.
func TestSecondPersonPushesTheLowStop(t *testing.T) {
	s, at := step(t, definition(t, "rear-derailleur"), "set-limits")
	require.Equal(t, procedure.SafetyCritical, s.Risk)
	require.Equal(t, procedure.SecondPerson, s.Hold.By)
	require.Empty(t, s.Hold.When)
	require.Contains(t, s.Hold.LooksAt, "spokes")
	_, cable := step(t, definition(t, "rear-derailleur"), "anchor-cable")
	require.Less(t, at, cable)
	require.Contains(t, s.Do, "Cable off.")
}

// Common practice, no source: a drop link lowers the derailleur by about 20 mm,
// helps the largest sprocket and not the capacity.
func TestDropLinkFacts(t *testing.T) {
	s, _ := step(t, definition(t, "rear-derailleur"), "start-link-bolt")
	require.Equal(t, []string{"fitted"}, s.When["hanger.extender"])
	require.Equal(t, [3]string{"15", "25", "mm"}, limits(check(t, s, "drop")))
	require.Contains(t, s.Cautions[0], "about 20 mm")
	require.Contains(t, s.Cautions[0], "The capacity stays")
	_, may, _, _ := procedure.FitRuleUses("largest-sprocket")
	require.Contains(t, may, "hanger.extender_drop")
	needs, may, _, _ := procedure.FitRuleUses("derailleur-capacity")
	require.NotContains(t, append(needs, may...), "hanger.extender_drop")
}

// Common practice, no source: the seat of the hanger and the band on carbon stay
// dry, whatever the habit.
func TestFacesOfTheGearsThatStayDry(t *testing.T) {
	s, _ := step(t, definition(t, "rear-derailleur"), "clean-hanger-seat")
	require.Len(t, s.Prep.Face, 1)
	require.Equal(t, procedure.Dry, s.Prep.Face[0].Use)
	require.Contains(t, s.Prep.Face[0].Never, procedure.Grease)
	s, _ = step(t, definition(t, "front-derailleur"), "prepare-mount")
	for _, choice := range s.Prep.Face {
		carbon := len(choice.When["frame.material"]) > 0
		require.Equal(t, carbon, choice.Use == procedure.Dry)
		require.True(t, !carbon || choice.Reason == procedure.Friction)
	}
	for _, job := range []string{"rear-derailleur", "front-derailleur"} {
		s, _ = step(t, definition(t, job), "prepare-cable")
		require.Equal(t, procedure.Dry, s.Prep.Face[0].Use, "a cable is dry where it is clamped")
	}
}

// Common practice, no source: a threadlocked bolt is never pulled again, one in
// grease once, after the test ride.
func TestWhatIsPulledAgain(t *testing.T) {
	pulled := map[string]bool{}
	for _, job := range gearsJobs {
		for _, s := range definition(t, job).Steps {
			if s.Torque == nil || s.Due != procedure.BeforeRelease {
				continue
			}
			for _, choice := range s.Torque.Joints {
				row, ok := load(t).Joint(choice.Joint)
				require.True(t, ok)
				require.False(t, row.ThreadPrep.IsThreadlocker(), "%s/%s", job, s.ID)
			}
			if strings.HasPrefix(s.ID, "recheck-") {
				require.Equal(t, [3]string{"0", "10", "deg"}, limits(check(t, &s, "turned")))
				pulled[s.ID] = true
			}
		}
	}
	require.Equal(t, map[string]bool{"recheck-mount-bolt": true, "recheck-clamp": true}, pulled)
	s, _ := step(t, definition(t, "rear-derailleur"), "look-again")
	require.Nil(t, s.Torque)
	require.Contains(t, check(t, s, "lines-whole").Ask, "paint lines")
}

// Common practice, no source: a cable anchor is tightened before and after the
// cable is pulled hard, and slip is answered by cleaning.
func TestCablesArePulledHard(t *testing.T) {
	for _, job := range []string{"rear-derailleur", "front-derailleur"} {
		s, _ := step(t, definition(t, job), "anchor-cable")
		require.Equal(t, [3]string{"2", "", "count"}, limits(check(t, s, "pulls")))
		require.Equal(t, "prepare-cable", s.Rework[0].From)
		require.Contains(t, s.Voids, map[string]string{"rear-derailleur": "index-gears", "front-derailleur": "check-shift"}[job])
	}
}

// Common practice, no source: a chain is joined with a new pin, flush within
// 0.2 mm, or a link of its own kind; worn is 0.75 % up to ten sprockets and
// 0.5 % from eleven on.
func TestChainJoiningFacts(t *testing.T) {
	d := definition(t, "chain-joining")
	pin, _ := step(t, d, "join-pin")
	require.Equal(t, []string{"joining-pin"}, pin.When["chain.join"])
	require.Contains(t, check(t, pin, "new-pin").Ask, "new")
	require.Equal(t, [3]string{"0", "0.2", "mm"}, limits(check(t, pin, "flush")))
	link, _ := step(t, d, "join-link")
	require.Equal(t, []string{"joining-link"}, link.When["chain.join"])
	require.Contains(t, link.Do, "hold the rear brake and step on the pedal")
	length, _ := step(t, d, "check-length")
	require.Equal(t, "chain-length.pitches", check(t, length, "pitches").Expect)
	require.Equal(t, []string{"try-and-measure"}, length.Hold.When["fit.chain-length"])
	require.Subset(t, length.Voids, []string{"rear-derailleur/index-gears", "rear-derailleur/load-check"})
	run, _ := step(t, d, "check-run")
	require.Equal(t, [3]string{"20", "", "turns"}, limits(check(t, run, "turns-back")))
	wide, narrow := check(t, run, "wear-wide"), check(t, run, "wear-narrow")
	require.Equal(t, [3]string{"0", "0.75", "percent"}, limits(wide))
	require.Equal(t, [3]string{"0", "0.5", "percent"}, limits(narrow))
	require.Contains(t, wide.When["cassette.sprockets"], "10")
	require.Equal(t, []string{"11", "12", "13"}, narrow.When["cassette.sprockets"])
}

// Common practice, no source: the cage stands 1 mm to 3 mm above the largest
// ring, and is measured again when the bolt is tight.
func TestHeightOfTheFrontDerailleur(t *testing.T) {
	d := definition(t, "front-derailleur")
	inOrder(t, d, "measure-mount", "prepare-mount", "set-height", "tighten-clamp", "check-height", "set-limits", "anchor-cable", "check-shift")
	for id, measure := range map[string]string{"set-height": "height", "check-height": "height-after"} {
		s, _ := step(t, d, id)
		require.Equal(t, [3]string{"1", "3", "mm"}, limits(check(t, s, measure)))
	}
	tighten, _ := step(t, d, "tighten-clamp")
	require.Contains(t, tighten.Voids, "check-height")
}

// No figure of the gears claims more than it has: nothing here was read in a
// published document.
func TestSourcesOfTheGears(t *testing.T) {
	memory := procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory}
	for _, job := range gearsJobs {
		d := definition(t, job)
		require.Equal(t, memory, d.Source, job)
		for _, s := range d.Steps {
			require.Nil(t, s.Source, "%s/%s", job, s.ID)
			for _, w := range s.Waits {
				require.Equal(t, memory, w.Source, "%s/%s", job, s.ID)
			}
		}
	}
}

// Common practice, no source: who opens chain lube, opens the joint of a chain
// or turns a limit stop after the test ride, rides again.
func TestGearsTouchedAfterTheTestRide(t *testing.T) {
	for job, ids := range map[string][]string{
		"chain-lube":       {"drip"},
		"chain-joining":    {"check-length", "join-pin", "join-link"},
		"rear-derailleur":  {"tighten-mount-bolt", "set-limits", "index-gears"},
		"front-derailleur": {"tighten-clamp", "set-limits"},
	} {
		for _, id := range ids {
			s, _ := step(t, definition(t, job), id)
			require.Contains(t, s.Voids, "final-check/test-ride", "%s/%s", job, id)
		}
	}
	s, _ := step(t, definition(t, "chain-lube"), "drip")
	require.Contains(t, s.Voids, "final-check/check-brakes")
}
