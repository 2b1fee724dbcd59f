package fit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

func thread(tb testing.TB, text string) joint.Thread {
	tb.Helper()
	t, err := joint.ParseThread(text)
	require.NoError(tb, err)
	return t
}

func TestSplinePattern(t *testing.T) {
	for _, body := range fit.DriveInterfaces() {
		for _, retainer := range body.Retainers {
			require.False(t, retainer.IsZero(), body.ID)
		}
		for _, cassette := range fit.DriveInterfaces() {
			r, err := fit.SplinePattern(" "+body.ID, cassette.ID)
			require.NoError(t, err)
			want := fit.DoesNotFit
			if body.ID == cassette.ID {
				want = fit.Fits
			}
			require.Equal(t, want, r.Verdict, "%s and %s: there is no close", body.ID, cassette.ID)
		}
	}
}

// TestBodyLength holds the table of spacers (common practice, no source) and
// readings near it.
func TestBodyLength(t *testing.T) {
	for _, test := range []struct {
		name               string
		body, madeFor, own string
		ins                fit.Instrument
		verdict            fit.Verdict
		needs              []string
	}{
		{"same length", "34.9", "34.9", "0", fit.Caliper(), fit.Fits, nil},
		{"same length, its own spacer", "34.9", "34.9", "1", fit.Caliper(), fit.FitsWith, []string{"the cassette's own 1 mm spacer"}},
		{"longer body", "36.75", "34.9", "0", fit.Caliper(), fit.FitsWith, []string{"1.85 mm spacer behind the cassette"}},
		{"longer body, its own spacer", "36.75", "34.9", "1", fit.Caliper(), fit.FitsWith,
			[]string{"1.85 mm spacer behind the cassette", "the cassette's own 1 mm spacer"}},
		{"long type", "36.75", "36.75", "0", fit.Caliper(), fit.Fits, nil},
		{"body too short", "34.9", "36.75", "0", fit.Caliper(), fit.DoesNotFit, nil},
		{"a reading a little off", "36.7", "34.9", "0", fit.Caliper(), fit.FitsWith, []string{"1.85 mm spacer behind the cassette"}},
		{"a reading at the tolerance", "36.65", "34.9", "0", fit.Caliper(), fit.FitsWith, []string{"1.85 mm spacer behind the cassette"}},
		{"a reading past the tolerance", "36.6", "34.9", "0", fit.Caliper(), fit.TryAndMeasure, nil},
		{"no spacer makes it up", "35.4", "34.9", "0", fit.Caliper(), fit.TryAndMeasure, nil},
		{"a hair too short", "34.75", "34.9", "0", fit.Caliper(), fit.TryAndMeasure, nil},
		{"too short past doubt", "34.7", "34.9", "0", fit.Caliper(), fit.DoesNotFit, nil},
		{"a rule is too coarse", "36.75", "34.9", "0", fit.SteelRule(), fit.TryAndMeasure, []string{"1.85 mm spacer behind the cassette"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.BodyLength(mm(t, test.body), mm(t, test.madeFor), mm(t, test.own), test.ins)
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict, r.Why)
			require.Equal(t, test.needs, r.Needs)
		})
	}
}

func TestStackProud(t *testing.T) {
	for _, test := range []struct {
		name, proud string
		verdict     fit.Verdict
	}{
		{"in the middle", "1.2", fit.Fits},
		{"level with the body", "0", fit.DoesNotFit},
		{"one spacer too many", "3.5", fit.DoesNotFit},
		{"at the limit", "0.5", fit.TryAndMeasure},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.StackProud(mm(t, test.proud), fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict)
		})
	}
}

// TestSprocketStacks holds the families against the stacks printed beside them
// in the trade's table (from memory; arithmetic check only).
func TestSprocketStacks(t *testing.T) {
	want := map[int]string{8: "35.4", 9: "36.58", 10: "37.15", 11: "39", 12: "41.2", 13: "42.3"}
	for _, f := range fit.SprocketFamilies() {
		require.Equal(t, want[f.Speeds]+" mm", f.Stack().String())
		r, err := fit.ChainClearance(f.Pitch, f.Thickness, f.ChainLeast, fit.CarefulCaliper())
		require.NoError(t, err)
		require.Equal(t, fit.Fits, r.Verdict, "%d speeds: a family runs on itself", f.Speeds)
	}
}

func TestChainBetweenLimits(t *testing.T) {
	r, err := fit.ChainClearance(mm(t, "3.95"), mm(t, "1.6"), mm(t, "6.2"), fit.Caliper())
	require.NoError(t, err)
	require.Equal(t, fit.TryAndMeasure, r.Verdict)
	require.Equal(t, "-0.05 mm", r.Margin.String())
}

func TestShifterMatch(t *testing.T) {
	for _, test := range []struct {
		name              string
		speeds, sprockets int
		family            string
		verdict           fit.Verdict
	}{
		{"belongs", 11, 11, "Road 11", fit.Fits},
		{"other count", 10, 11, "road 11", fit.DoesNotFit},
		{"other family", 11, 11, "off-road 11", fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.ShifterMatch(test.speeds, test.sprockets, test.family, "road 11 ")
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict)
		})
	}
}

func TestLargestSprocket(t *testing.T) {
	for _, test := range []struct {
		name             string
		sprocket, marked int
		extender         string
		verdict          fit.Verdict
	}{
		{"smaller", 32, 34, "0", fit.Fits},
		{"equal", 34, 34, "0", fit.Fits},
		{"larger", 36, 34, "0", fit.DoesNotFit},
		{"four teeth with an extender", 38, 34, "20", fit.FitsWith},
		{"six teeth with an extender", 40, 34, "20", fit.TryAndMeasure},
		{"eight teeth with an extender", 42, 34, "20", fit.DoesNotFit},
		{"an extender that is not needed", 32, 34, "20", fit.Fits},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.LargestSprocket(test.sprocket, test.marked, mm(t, test.extender))
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict, r.Why)
		})
	}
}

// TestPitchRadius checks against the exact values of the polygon: a wheel of
// four teeth is a square, one of six a hexagon.
func TestPitchRadius(t *testing.T) {
	require.Equal(t, fit.ChainPitch, fit.PitchRadius(6))
	require.InDelta(t, 12.7/1.4142135623730951, fit.PitchRadius(4).Millimeters(), 1e-6)
	require.Zero(t, fit.PitchRadius(2))
}

func TestChainLength(t *testing.T) {
	gears := fit.Gears{BigRing: 50, SmallRing: 34, BigSprocket: 34, SmallSprocket: 11}
	for _, test := range []struct {
		name      string
		chainstay string
		pitches   int
		verdict   fit.Verdict
	}{
		{"right", "410", 110, fit.Fits},
		{"long", "410", 116, fit.FitsWith},
		{"short", "410", 108, fit.DoesNotFit},
		// At 417.6 mm the formula stands at 109.97: a tape good for 1 mm can't
		// tell 110 from 112.
		{"at the edge", "417.6", 110, fit.TryAndMeasure},
		{"at the edge, longer chain", "417.6", 112, fit.Fits},
		{"at the edge, shorter chain", "417.6", 108, fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.ChainLength(gears, mm(t, test.chainstay), test.pitches, fit.Tape())
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict, r.Limit)
		})
	}
	require.Zero(t, fit.ChainPitches(0, 50, 34))
	// Two equal wheels: the belt is two straight runs and one full wheel.
	require.InDelta(t, 2*40+30+2, fit.ChainPitches(40*fit.ChainPitch, 30, 30), 1e-12)
}

func TestChainline(t *testing.T) {
	run := fit.ChainRun{
		Front: 45 * fit.Millimeter, Hub: 142 * fit.Millimeter, Chainstay: 415 * fit.Millimeter,
		Sprockets: fit.SprocketFamilies()[3],
	}
	for _, test := range []struct {
		name, front string
		verdict     fit.Verdict
	}{
		{"in line", "45", fit.Fits},
		{"a little out", "49.8", fit.TryAndMeasure},
		{"far out", "55", fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			run := run
			run.Front = mm(t, test.front)
			results, err := fit.Chainline(run, fit.SteelRule())
			require.NoError(t, err)
			require.Equal(t, test.verdict, fit.Worst(results...), results)
		})
	}
	results, err := fit.CrankClearance(mm(t, "4"), mm(t, "2.8"), fit.SteelRule())
	require.NoError(t, err)
	require.Equal(t, fit.Fits, byCheck(t, results, "ring to chainstay").Verdict)
	require.Equal(t, fit.TryAndMeasure, byCheck(t, results, "arm to chainstay").Verdict)
}

func TestFrontDerailleur(t *testing.T) {
	good := fit.FrontDerailleur{
		Band: 31800 * fit.Micrometer, SeatTube: 31800 * fit.Micrometer, IsTubeRound: true,
		BigRing: 50, NextRing: 34, MostDifference: 16, MostRing: 53, CageRing: 52,
		ChainlineDesign: 43500 * fit.Micrometer, Chainline: 44 * fit.Millimeter,
	}
	for _, test := range []struct {
		name, check string
		change      func(*fit.FrontDerailleur)
		verdict     fit.Verdict
	}{
		{"band", "mount", func(*fit.FrontDerailleur) {}, fit.Fits},
		{"band on another tube", "mount", func(f *fit.FrontDerailleur) { f.SeatTube = 34900 * fit.Micrometer }, fit.DoesNotFit},
		{"band on a shaped tube", "mount", func(f *fit.FrontDerailleur) { f.IsTubeRound = false }, fit.DoesNotFit},
		{"tab", "mount", func(f *fit.FrontDerailleur) { f.NeedsTab, f.HasTab = true, true }, fit.Fits},
		{"tab missing, round tube", "mount", func(f *fit.FrontDerailleur) { f.NeedsTab = true }, fit.FitsWith},
		{"tab missing, shaped tube", "mount", func(f *fit.FrontDerailleur) { f.NeedsTab, f.IsTubeRound = true, false }, fit.DoesNotFit},
		{"rings too far apart", "ring difference", func(f *fit.FrontDerailleur) { f.NextRing = 30 }, fit.DoesNotFit},
		{"big ring too big", "big ring", func(f *fit.FrontDerailleur) { f.BigRing, f.NextRing = 54, 40 }, fit.DoesNotFit},
		{"cage for another ring", "cage", func(f *fit.FrontDerailleur) { f.CageRing = 42 }, fit.DoesNotFit},
		{"chainline", "chainline", func(*fit.FrontDerailleur) {}, fit.Fits},
		{"chainline out", "chainline", func(f *fit.FrontDerailleur) { f.Chainline = 47 * fit.Millimeter }, fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			f := good
			test.change(&f)
			results, err := fit.FrontDerailleurFit(f, fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, byCheck(t, results, test.check).Verdict)
		})
	}
}
