package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/joint"
)

func find(tb testing.TB, q joint.LookAlikeQuestion) joint.LookAlikeAnswer {
	tb.Helper()
	a, err := q.Find(joint.KnownThreads())
	require.NoError(tb, err)
	return a
}

// TestFindCycleThreads puts caliper and gauge on every row of the cycle thread
// table: the rounded size as it is printed there (its sources stand in each row)
// names the thread of the row, with the instruments of a workshop.
func TestFindCycleThreads(t *testing.T) {
	hands := map[string]joint.Hand{"RH": joint.RightHand, "LH": joint.LeftHand}
	for _, row := range vectors(t, "joint_threads_cycle.csv") {
		if row["tpi"] == "56" { // spokes are not screwed into anything on the list
			continue
		}
		t.Run(row["id"], func(t *testing.T) {
			q := joint.LookAlikeQuestion{
				DiameterMM: number(t, row["major_mm"]), PitchMM: number(t, row["pitch_mm"]), Hand: hands[row["hand"]],
			}
			require.Contains(t, names(find(t, q).MayBe, joint.Matches), cycleThread(t, row))
			if row["tpi"] == "" {
				return
			}
			q.PitchMM, q.TurnsPerInch = 0, number(t, row["tpi"])
			require.Contains(t, names(find(t, q).MayBe, joint.Matches), cycleThread(t, row))
		})
	}
}

// TestFindSaysWhatIsAssumed: each figure that is given takes its assumption away.
func TestFindSaysWhatIsAssumed(t *testing.T) {
	bare := find(t, joint.LookAlikeQuestion{DiameterMM: 14.1, PitchMM: 1.26})
	require.Equal(t, []joint.Assumption{joint.AssumedCaliper, joint.AssumedPitchGauge, joint.AssumedEngagedLength}, bare.Assumptions.List())
	require.Equal(t, 10.0, bare.EngagedMM)
	require.Equal(t, []string{"9/16 in x 20 tpi", "M14x1.25"}, names(bare.MayBe, joint.Matches), "a gauge that nobody read closely can't tell the pedals apart")
	counted := find(t, joint.LookAlikeQuestion{DiameterMM: 14.2, TurnsPerInch: 20, EngagedMM: 12.7})
	require.Equal(t, []joint.Assumption{joint.AssumedCaliper}, counted.Assumptions.List())
	require.Zero(t, counted.Measured.PitchErrorMM)
	for _, l := range counted.Wrecks {
		if l.Known.Thread == mustParse(t, "M14x1.25") {
			require.InDelta(t, 12.7/1.25*0.02, l.Mating.AccumulatedMM, 1e-9)
			return
		}
	}
	require.Fail(t, "the metric pedal thread is missing")
}

func TestFindRefuses(t *testing.T) {
	var field *joint.FieldError
	for _, test := range []struct {
		name, path string
		q          joint.LookAlikeQuestion
	}{
		{"no diameter", "diameter_mm", joint.LookAlikeQuestion{PitchMM: 1}},
		{"no pitch", "pitch_mm", joint.LookAlikeQuestion{DiameterMM: 6}},
		{"two pitches", "turns_per_inch", joint.LookAlikeQuestion{DiameterMM: 6, PitchMM: 1, TurnsPerInch: 24}},
		{"no number", "pitch_mm", joint.LookAlikeQuestion{DiameterMM: 6, PitchMM: math.NaN()}},
		{"turns without end", "turns_per_inch", joint.LookAlikeQuestion{DiameterMM: 6, TurnsPerInch: math.Inf(1)}},
		{"turns the wrong way", "turns_per_inch", joint.LookAlikeQuestion{DiameterMM: 6, TurnsPerInch: -24}},
		{"caliper", "diameter_error_mm", joint.LookAlikeQuestion{DiameterMM: 6, PitchMM: 1, DiameterErrorMM: -0.1}},
		{"gauge", "pitch_error_mm", joint.LookAlikeQuestion{DiameterMM: 6, PitchMM: 1, PitchErrorMM: 2}},
		{"engaged", "engaged_mm", joint.LookAlikeQuestion{DiameterMM: 6, PitchMM: 1, EngagedMM: -1}},
		{"hand", "hand", joint.LookAlikeQuestion{DiameterMM: 6, PitchMM: 1, Hand: 9}},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := test.q.Find(joint.KnownThreads())
			require.ErrorAs(t, err, &field)
			require.Equal(t, test.path, field.Path)
		})
	}
}
