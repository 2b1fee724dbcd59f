package main

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// clampInputs are the inputs of a row of joint_clamps.csv.
func clampInputs(tb testing.TB, r map[string]string) map[string]any {
	tb.Helper()
	in := map[string]any{}
	require.NoError(tb, json.Unmarshal([]byte(r["inputs_json"]), &in))
	return in
}

func written(x any) string { return strconv.FormatFloat(x.(float64), 'f', -1, 64) }

// The clamps of joint_clamps.csv within 0.1 %. They were worked out apart by the
// same model, with K from 0.8 to 1.25 times its figure: they check the arithmetic
// and the way through the command.
func TestClampVectors(t *testing.T) {
	answersTo := map[string]string{
		"axial slip load": "axial_slip_newtons", "torsional slip moment": "torsional_slip_newton_meters",
		"mean contact pressure": "mean_pressure_megapascals", "bolt preload": "bolt_preload_newtons",
	}
	styles := map[any]string{"single": "single slit", "two": "two-piece"}
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "joint_clamps") {
		in := clampInputs(t, r)
		if !strings.HasPrefix(r["group"], "pinch clamp") || in["side"] == nil {
			continue
		}
		k := in["K"].(float64)
		band := written(0.8*k) + ":" + written(k) + ":" + written(1.25*k)
		rows = append(rows, r)
		cells = append(cells, []string{styles[in["side"]], written(in["D"]), written(in["L"]), written(in["nb"]),
			"M" + written(in["d"]), band, written(in["T"]), written(in["mu"])})
	}
	require.Greater(t, len(rows), 20)
	header := []string{"style", "tube-diameter", "length", "bolts", "thread", "nut-factor", "torque", "contact-friction"}
	for i, got := range throughCSV(t, "clamp", header, cells) {
		t.Run(rows[i]["id"], func(t *testing.T) {
			require.NotContains(t, got, "error")
			band := got[answersTo[rows[i]["output"]]].(map[string]any)
			require.InEpsilon(t, parsedNumber(t, rows[i]["value"]), band["nominal"], 0.001)
		})
	}
}

// The trade facts that have to come out (spline rows of joint_clamps.csv): on
// which side of its limit the pressure lies, for every way of building.
func TestSplineVectors(t *testing.T) {
	bodies := map[string]string{"7075": "7075", "6061": "6061", "42CrMo4": "steel", "Ti-6Al-4V": "titanium"}
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "joint_clamps") {
		if r["group"] != "spline bearing" {
			continue
		}
		in := clampInputs(t, r)
		body := ""
		for name, word := range bodies {
			if strings.Contains(r["scenario"], name) {
				body = word
			}
		}
		require.NotEmpty(t, body, r["scenario"])
		factor := "1.5"
		if in["k_dyn"] != nil {
			factor = written(in["k_dyn"])
		}
		rear, front := teeth(t, r["scenario"])
		rows = append(rows, r)
		cells = append(cells, []string{"90", "175", factor, front, rear, written(in["t_mm"]), written(in["T_lockring_Nm"]), body})
	}
	require.Greater(t, len(rows), 10)
	header := []string{"rider-mass", "crank-length", "dynamic-factor", "chainring", "sprocket", "width", "lockring-torque", "body"}
	for i, got := range throughCSV(t, "spline", header, cells) {
		t.Run(rows[i]["id"], func(t *testing.T) {
			require.NotContains(t, got, "error")
			pressure := got["flank_pressure_megapascals"].(map[string]any)["nominal"].(float64)
			require.InEpsilon(t, parsedNumber(t, rows[i]["value"]), pressure, 0.001)
			if rows[i]["verdict"] == "borderline" {
				return
			}
			marks := strings.HasPrefix(rows[i]["verdict"], "indents")
			require.Equal(t, marks, pressure >= got["pressure_limit_megapascals"].(float64), rows[i]["scenario"])
		})
	}
}

// teeth finds "25T rear / 34T front" in a scenario.
func teeth(tb testing.TB, scenario string) (rear, front string) {
	tb.Helper()
	for field := range strings.FieldsSeq(strings.ReplaceAll(scenario, "T ", "T.")) {
		number, what, _ := strings.Cut(field, "T.")
		switch strings.Trim(what, ",;") {
		case "rear":
			rear = number
		case "front":
			front = number
		}
	}
	require.NotEmpty(tb, rear, scenario)
	require.NotEmpty(tb, front, scenario)
	return rear, front
}
