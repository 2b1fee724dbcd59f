package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque/joint"
)

// Published profile diameters are printed to 0.001 mm, so they agree to half of
// that. The cycle table computed its diameters from rounded sizes.
const (
	printedMM  = 0.00051
	computedMM = 0.001
)

// TestMetricProfile holds the formulas against the profile values of ISO 724
// and the stress areas of ISO 898-1 as quoted in public tables; the source
// stands in each row. Rows whose figures are only recalled or computed are
// checked too and are not counted as evidence.
func TestMetricProfile(t *testing.T) {
	var read, areas int
	var worst float64
	for _, row := range vectors(t, "joint_threads_metric.csv") {
		t.Run(row["designation"], func(t *testing.T) {
			p := mustParse(t, row["designation"]).BasicProfile()
			require.InDelta(t, number(t, row["d2_mm"]), p.PitchDiameterMM, printedMM)
			require.InDelta(t, number(t, row["d3_mm"]), p.MinorDiameterMM, printedMM)
			require.InDelta(t, number(t, row["D1_internal_minor_mm"]), p.InnerMinorDiameterMM, printedMM)
			require.InDelta(t, number(t, row["d0_stress_dia_mm"]), p.StressDiameterMM, printedMM)
			require.InDelta(t, number(t, row["lead_angle_deg"]), p.LeadAngleRad*180/math.Pi, 0.001)
			read += count(row["profile_confidence"] == "confirmed")
		})
		if tab := row["As_tab_mm2"]; tab != "" {
			want := number(t, tab)
			got := mustParse(t, row["designation"]).BasicProfile().StressAreaMM2
			require.InEpsilon(t, want, got, 0.004, "%s: %s", row["designation"], row["source"])
			areas += count(row["confidence"] == "confirmed")
			worst = max(worst, math.Abs(got/want-1))
		}
	}
	require.GreaterOrEqual(t, read, 10, "profiles read in a published table")
	require.GreaterOrEqual(t, areas, 15, "stress areas read in a published table")
	t.Logf("stress areas: %d published rows, largest deviation %.2f %%", areas, 100*worst)
}

// TestUnifiedStressArea holds ASME B1.1 areas, as tabulated in public tables,
// against the formula.
func TestUnifiedStressArea(t *testing.T) {
	var worst float64
	for _, row := range vectors(t, "joint_threads_inch.csv") {
		thread := mustParse(t, row["designation"])
		require.Equal(t, thread, mustParse(t, row["designation"]+" "+row["series"]))
		require.InDelta(t, number(t, row["d_in"])*25.4, thread.Diameter().Float64(), 1e-9, row["designation"])
		require.InDelta(t, 25.4/number(t, row["tpi"]), thread.Pitch().Float64(), 1e-12, row["designation"])
		want := number(t, row["At_tab_in2"]) * 25.4 * 25.4
		require.InEpsilon(t, want, thread.UnifiedStressAreaMM2(), 0.004, row["designation"])
		worst = max(worst, math.Abs(thread.UnifiedStressAreaMM2()/want-1))
	}
	t.Logf("largest deviation %.2f %%", 100*worst)
}

// TestCycleThreads holds the list of threads against the cycle thread table.
// Diameters and pitches are the published part; d2, d3 and As of the table were
// computed and check the arithmetic only.
func TestCycleThreads(t *testing.T) {
	for _, row := range vectors(t, "joint_threads_cycle.csv") {
		t.Run(row["id"], func(t *testing.T) {
			thread := mustParse(t, cycleName(row))
			require.InDelta(t, number(t, row["major_mm"]), thread.Diameter().Float64(), 0.001)
			require.InDelta(t, number(t, row["pitch_mm"]), thread.Pitch().Float64(), 0.0001)
			p := thread.BasicProfile()
			require.InDelta(t, number(t, row["d2_calc_mm"]), p.PitchDiameterMM, computedMM)
			require.InDelta(t, number(t, row["d3_calc_mm"]), p.MinorDiameterMM, computedMM)
			require.InEpsilon(t, number(t, row["As_calc_mm2"]), p.StressAreaMM2, 0.002)
		})
	}
}

// cycleName writes a row of the cycle table as a person would.
func cycleName(row map[string]string) string {
	name := "M" + row["major_mm"] + "x" + row["pitch_mm"]
	if row["tpi"] != "" {
		name = row["major_mm"] + " mm x " + row["tpi"] + " tpi"
	}
	return name + " " + row["hand"]
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func TestBasicProfileOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := threads().Draw(t, "thread")
		b, d := p.BasicProfile(), p.Diameter().Float64()
		require.Less(t, b.MinorDiameterMM, b.InnerMinorDiameterMM)
		require.Less(t, b.InnerMinorDiameterMM, b.PitchDiameterMM)
		require.Less(t, b.PitchDiameterMM, d)
		require.Positive(t, b.MinorDiameterMM)
		require.Less(t, b.StressAreaMM2, math.Pi/4*d*d)
		require.Equal(t, b, p.WithHand(joint.LeftHand).BasicProfile(), "hand does not change the profile")
	})
}

func TestZeroThreadHasNoProfile(t *testing.T) {
	require.Zero(t, joint.Thread{}.BasicProfile())
	require.Zero(t, joint.Thread{}.UnifiedStressAreaMM2())
}

func BenchmarkBasicProfile(b *testing.B) {
	thread := mustParse(b, "M8x1.25")
	b.ReportAllocs()
	for b.Loop() {
		_ = thread.BasicProfile()
	}
}
