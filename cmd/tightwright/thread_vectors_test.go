package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The metric sizes of joint_threads_metric.csv: the profile (ISO 68-1 and ISO 724,
// worked out apart) to the last digit printed, the stress area of ISO 898-1 within
// 0.4 %. The source stands in every row.
func TestThreadVectors(t *testing.T) {
	rows := vectors(t, "joint_threads_metric")
	var cells [][]string
	for _, r := range rows {
		cells = append(cells, []string{"M" + r["d_mm"] + "x" + r["P_mm"]})
	}
	require.Greater(t, len(rows), 20)
	for i, got := range throughCSV(t, "thread", []string{"thread"}, cells) {
		r := rows[i]
		t.Run(r["designation"], func(t *testing.T) {
			for column, key := range map[string]string{"d2_mm": "pitch_diameter_mm", "d3_mm": "bolt_minor_diameter_mm",
				"D1_internal_minor_mm": "nut_minor_diameter_mm", "P_mm": "pitch_mm", "d_mm": "diameter_mm"} {
				require.InDelta(t, parsedNumber(t, r[column]), got[key], 0.00051, column)
			}
			if r["As_tab_mm2"] != "" { // the standard has none for some fine threads
				require.InEpsilon(t, parsedNumber(t, r["As_tab_mm2"]), got["stress_area_mm2"], 0.004)
			}
		})
	}
}

// The tensile stress areas of ASME B1.1, as tabulated (joint_threads_inch.csv),
// within 1 %: the table prints three or four figures of a square inch.
func TestThreadInchVectors(t *testing.T) {
	rows := vectors(t, "joint_threads_inch")
	var cells [][]string
	for _, r := range rows {
		cells = append(cells, []string{r["designation"]})
	}
	require.Greater(t, len(rows), 10)
	for i, got := range throughCSV(t, "thread", []string{"thread"}, cells) {
		r := rows[i]
		t.Run(r["designation"], func(t *testing.T) {
			require.Equal(t, parsedNumber(t, r["tpi"]), got["turns_per_inch"])
			require.InDelta(t, parsedNumber(t, r["d_mm"]), got["diameter_mm"], 0.0001)
			require.InEpsilon(t, parsedNumber(t, r["At_tab_mm2"]), got["unified_stress_area_mm2"], 0.01)
		})
	}
}

// A real bolt at either limit of ISO 965-1 class 6g, as published in the rows of
// joint_thread_limits.csv, is known by the thread it has. The standard rounds its
// formulas to preferred numbers, which is worth some micrometers. (The limits of nuts
// stand there from memory and are no evidence.)
func TestThreadKnowsRealBolts(t *testing.T) {
	var wants []string
	var cells [][]string
	for _, r := range vectors(t, "joint_thread_limits") {
		if r["confidence"] != "confirmed" || r["designation"] == "M3" { // M3 is not in use on bicycles
			continue
		}
		for _, column := range []string{"d_6g_max", "d_6g_min"} {
			wants = append(wants, "M"+written(parsedNumber(t, r["d_mm"]))+"x"+written(parsedNumber(t, r["P_mm"])))
			cells = append(cells, []string{r[column], r["P_mm"], "0.005"})
		}
	}
	require.Len(t, cells, 6)
	for i, got := range throughCSV(t, "thread", []string{"diameter", "pitch", "diameter-error"}, cells) {
		var names []any
		for _, one := range got["may_be"].([]any) {
			names = append(names, one.(map[string]any)["thread"])
		}
		require.Contains(t, names, wants[i], cells[i])
	}
}

// The square tapers of joint_clamps.csv, worked out apart by the same model: they
// check the arithmetic and the way through the command.
func TestTaperVectors(t *testing.T) {
	keys := map[string]string{"preload": "bolt_preload_newtons", "flat pressure from wedge action": "flat_pressure_megapascals"}
	var rows []map[string]string
	var cells [][]string
	var bolt map[string]any // the row of a pair that has the bolt; the other leaves it out
	for _, r := range vectors(t, "joint_clamps") {
		if r["group"] != "square taper" {
			continue
		}
		in := clampInputs(t, r)
		if in["K"] != nil {
			bolt = in
		}
		rows = append(rows, r)
		cells = append(cells, []string{"M8x1", written(bolt["K"]), written(bolt["T_Nm"]), written(bolt["mu"]),
			written(bolt["beta_deg"]), written(bolt["L_mm"]), written(bolt["w_mm"])})
	}
	require.Len(t, rows, 4)
	header := []string{"thread", "nut-factor", "torque", "flat-friction", "half-angle", "flat-length", "flat-width"}
	for i, got := range throughCSV(t, "taper", header, cells) {
		t.Run(rows[i]["id"], func(t *testing.T) {
			require.NotContains(t, got, "error")
			band := got[keys[rows[i]["output"]]].(map[string]any)
			require.InEpsilon(t, parsedNumber(t, rows[i]["value"]), band["nominal"], 5e-6)
		})
	}
}
