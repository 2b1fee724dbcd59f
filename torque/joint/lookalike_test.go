package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque/joint"
)

// TestMate holds the pairs that workshops mix up. Which of them start is common
// practice (public repair pages say of the M14 pedal that it enters an inch
// crank about one turn, jams and damages it; measuring guides say that the
// 12 mm thru axles with 1.0, 1.5 and 1.75 mm pitch coexist and never
// interchange). The accumulated errors are arithmetic.
func TestMate(t *testing.T) {
	for _, test := range []struct {
		name, outer, inner string
		engagedMM          float64
		match              joint.Match
		accumulatedMM      float64
	}{
		{"the same", "M6x1", "M6x1", 10, joint.Matches, 0},
		{"metric pedal in an inch arm", "M14x1.25", "9/16 in x 20 tpi", 12.7, joint.OtherPitch, 0.2},
		{"left pedal in a right arm", "9/16 in x 20 tpi LH", "9/16 in x 20 tpi", 12, joint.OtherHand, 0},
		{"1.5 axle in a 1.0 insert", "M12x1.5", "M12x1", 10, joint.OtherPitch, 5},
		{"1.75 axle in a 1.5 insert", "M12x1.75", "M12x1.5", 12, joint.OtherPitch, 2},
		{"1.0 axle in a 1.75 insert", "M12x1", "M12x1.75", 14, joint.OtherPitch, 6},
		{"26 on 24 turns", "3/8 in x 26 tpi", "3/8 in x 24 tpi", 25.4, joint.OtherPitch, 24 * (25.4/24 - 25.4/26)},
		{"26 turns in a metric nut", "3/8 in x 26 tpi", "M10x1", 10, joint.OtherPitch, 10 * (1 - 25.4/26)},
		{"metric axle in an inch nut", "M10x1", "3/8 in x 26 tpi", 10, joint.TooLarge, 10 / (25.4 / 26) * (1 - 25.4/26)},
		{"freewheel ring on a cup thread", "1.37 in x 24 tpi", "1.375 in x 24 tpi", 10, joint.LooseMatch, 0},
		{"cup thread too small for it", "1.375 in x 24 tpi", "1.37 in x 24 tpi", 10, joint.TightMatch, 0},
		{"limit screws", "M4x0.75", "M4x0.7", 7, joint.OtherPitch, 0.5},
		{"inch screw in a metric hole", "#10-32", "M5x0.8", 8, joint.OtherPitch, 0.0625},
		{"barely caught", "M5x0.8", "M6x1", 10, joint.OtherPitch, 2},
		{"drops through without touching", "M4x0.7", "M6x1", 10, joint.TooSmall, 3},
		{"does not enter", "M8x1", "M6x1", 10, joint.TooLarge, 0},
		{"does not enter, whatever the hand", "M8x1 LH", "M6x1", 10, joint.TooLarge, 0},
		{"no engaged length", "M12x1.5", "M12x1", -1, joint.OtherPitch, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := joint.Mate(mustParse(t, test.outer), mustParse(t, test.inner), test.engagedMM)
			require.Equal(t, test.match, got.Match, got.Match)
			require.InDelta(t, test.accumulatedMM, got.AccumulatedMM, 1e-9)
		})
	}
}

func TestMateWithNoThread(t *testing.T) {
	require.Zero(t, joint.Mate(joint.Thread{}, mustParse(t, "M6"), 10))
	require.Zero(t, joint.Mate(mustParse(t, "M6"), joint.Thread{}, 10))
	require.False(t, joint.NoMatch.Starts())
	require.Equal(t, "match 99", joint.Match(99).String())
}

func TestMateProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := threads().Draw(t, "a"), threads().Draw(t, "b")
		length := rapid.Float64Range(0.1, 50).Draw(t, "length")
		require.Equal(t, joint.Matches, joint.Mate(a, a, length).Match)
		m := joint.Mate(a, b, length)
		require.GreaterOrEqual(t, m.AccumulatedMM, 0.0)
		require.InEpsilon(t, 1+m.AccumulatedMM, 1+joint.Mate(a, b, 2*length).AccumulatedMM/2, 1e-9, "twice the length, twice the error")
		require.True(t, m.FlankShare >= 0 && m.FlankShare <= 1)
		require.InDelta(t, -m.PitchDifferenceMM, joint.Mate(b, a, length).PitchDifferenceMM, 1e-12)
	})
}

// names lists the likenesses of one kind.
func names(list []joint.Likeness, m joint.Match) []string {
	var out []string
	for _, l := range list {
		if l.Match == m {
			out = append(out, l.Known.Thread.String())
		}
	}
	return out
}

func TestLookAlikes(t *testing.T) {
	for _, test := range []struct {
		name     string
		measured joint.Measured
		maybe    []string
		wrecks   []string
	}{
		{
			"inch pedal axle",
			joint.Measured{DiameterMM: 14.2, PitchMM: 1.27, DiameterErrorMM: 0.1},
			[]string{"9/16 in x 20 tpi"}, []string{"M14x1.25"},
		},
		{
			"metric pedal axle",
			joint.Measured{DiameterMM: 13.9, PitchMM: 1.25, DiameterErrorMM: 0.1},
			[]string{"M14x1.25"}, []string{"9/16 in x 20 tpi", "M15x1.5"},
		},
		{
			"pedal axle without a pitch gauge",
			joint.Measured{DiameterMM: 14.1, PitchMM: 1.26, DiameterErrorMM: 0.1, PitchErrorMM: 0.02},
			[]string{"9/16 in x 20 tpi", "M14x1.25"}, nil,
		},
		{
			"thru axle",
			joint.Measured{DiameterMM: 11.9, PitchMM: 1.5, DiameterErrorMM: 0.1},
			[]string{"M12x1.5"}, []string{"M12x1.75", "1/2 in x 20 tpi", "M12x1"},
		},
		{
			"rear axle of 26 turns",
			joint.Measured{DiameterMM: 9.45, PitchMM: 25.4 / 26, DiameterErrorMM: 0.1},
			[]string{"3/8 in x 26 tpi"}, []string{"M10x1", "3/8 in x 24 tpi"},
		},
		{
			"shell of 24 turns, bore between the crests",
			joint.Measured{DiameterMM: 33.8, PitchMM: 25.4 / 24, DiameterErrorMM: 0.1, IsInner: true, Hand: joint.LeftHand},
			[]string{"1.37 in x 24 tpi LH"}, []string{"M35x1 LH"},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			list, err := joint.LookAlikes(test.measured, 10, joint.KnownThreads())
			require.NoError(t, err)
			require.Equal(t, test.maybe, names(list, joint.Matches))
			require.Subset(t, names(list, joint.OtherPitch), test.wrecks)
		})
	}
}

func TestLookAlikesSaysHowFarOff(t *testing.T) {
	m := joint.Measured{DiameterMM: 13.9, PitchMM: 1.25, DiameterErrorMM: 0.1}
	list, err := joint.LookAlikes(m, 12.7, joint.KnownThreads())
	require.NoError(t, err)
	for _, l := range list {
		if l.Match == joint.OtherPitch && l.Known.Thread == mustParse(t, "9/16 in x 20 tpi") {
			require.InDelta(t, 0.2, l.Mating.AccumulatedMM, 1e-9) // 10 turns of 0.02 mm
			require.Contains(t, l.Why, "0.020 mm, which adds up to 0.20 mm")
			return
		}
	}
	require.Fail(t, "the inch pedal thread is missing")
}

func TestLookAlikesOtherHand(t *testing.T) {
	m := joint.Measured{DiameterMM: 14.2, PitchMM: 1.27, DiameterErrorMM: 0.1, Hand: joint.LeftHand}
	list, err := joint.LookAlikes(m, 12, joint.KnownThreads())
	require.NoError(t, err)
	require.Equal(t, []string{"9/16 in x 20 tpi LH"}, names(list, joint.Matches))
	require.Contains(t, names(list, joint.OtherHand), "9/16 in x 20 tpi")
}

func TestLookAlikesRefuses(t *testing.T) {
	good := joint.Measured{DiameterMM: 6, PitchMM: 1}
	for _, test := range []struct {
		name    string
		change  func(*joint.Measured)
		engaged float64
	}{
		{"no diameter", func(m *joint.Measured) { m.DiameterMM = 0 }, 10},
		{"no number", func(m *joint.Measured) { m.PitchMM = math.NaN() }, 10},
		{"infinite", func(m *joint.Measured) { m.DiameterMM = math.Inf(1) }, 10},
		{"negative error", func(m *joint.Measured) { m.DiameterErrorMM = -1 }, 10},
		{"absurd error", func(m *joint.Measured) { m.PitchErrorMM = 2 }, 10},
		{"no engaged length", func(*joint.Measured) {}, 0},
		{"no such hand", func(m *joint.Measured) { m.Hand = 9 }, 10},
	} {
		t.Run(test.name, func(t *testing.T) {
			m := good
			test.change(&m)
			_, err := joint.LookAlikes(m, test.engaged, joint.KnownThreads())
			require.ErrorIs(t, err, joint.ErrMeasurement)
		})
	}
}

// TestEveryKnownThreadIsFound measures each thread of the list at its nominal
// size and finds it among what it may be, alone with threads of the same pitch.
func TestEveryKnownThreadIsFound(t *testing.T) {
	known := joint.KnownThreads()
	require.Len(t, known, 40, "every name of the list can be read")
	for _, k := range known {
		m := joint.Measured{
			DiameterMM: k.Thread.Diameter().Float64(), PitchMM: k.Thread.Pitch().Float64(), Hand: k.Thread.Hand(),
		}
		list, err := joint.LookAlikes(m, 10, known)
		require.NoError(t, err)
		require.Contains(t, names(list, joint.Matches), k.Thread.String(), k.Use)
		require.NotEmpty(t, k.Source)
	}
}

// TestKnownThreadsAreOnTheTable compares the list with the cycle thread table.
func TestKnownThreadsAreOnTheTable(t *testing.T) {
	known := map[joint.Thread]bool{}
	for _, k := range joint.KnownThreads() {
		require.False(t, known[k.Thread], "%s is listed twice", k.Thread)
		known[k.Thread] = true
	}
	for _, row := range vectors(t, "joint_threads_cycle.csv") {
		if row["tpi"] == "56" { // spokes are not screwed into anything on this list
			continue
		}
		thread := mustParse(t, cycleThread(t, row))
		require.True(t, known[thread], "%s %s", row["id"], thread)
	}
}

// cycleThread writes a row with the exact size: the table rounds inches to the
// nearest 0.001 mm.
func cycleThread(tb testing.TB, row map[string]string) string {
	tb.Helper()
	for _, k := range joint.KnownThreads() {
		isSize := math.Abs(k.Thread.Diameter().Float64()-number(tb, row["major_mm"])) < 0.001
		isPitch := math.Abs(k.Thread.Pitch().Float64()-number(tb, row["pitch_mm"])) < 0.0001
		isHand := (k.Thread.Hand() == joint.LeftHand) == (row["hand"] == "LH")
		if isSize && isPitch && isHand {
			return k.Thread.String()
		}
	}
	return cycleName(row)
}
