package main

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func parsedNumber(tb testing.TB, text string) float64 {
	tb.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(tb, err)
	return x
}

// The tables of preloads and torques in joint_vdi2230.csv that were read, with
// the deviations that package joint allows for each; the source stands in every
// row. Tables recalled from memory are left out: they are no evidence.
func TestJointVectors(t *testing.T) {
	tolerances := map[string]struct{ preload, torque float64 }{
		"fine": {0.005, 0.012}, "stainless": {0.023, 0.035}, "stainless-torque": {0, 0.035},
		"hexagon-torque": {0, 0.015}, "pre2001-handbook": {0, 0.035}, "pre2001-manual": {0, 0.035},
	}
	torsions := map[string]string{"1.5": "plastic", "2.0": "elastic"}
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "joint_vdi2230") {
		if _, ok := tolerances[r["table"]]; !ok || isMisprint(r) {
			continue
		}
		rows = append(rows, r)
		cells = append(cells, []string{r["thread"], r["class"], r["friction"], r["utilization"],
			torsions[r["torsion_factor"]], r["d_w_mm"], r["d_h_mm"]})
	}
	require.Greater(t, len(rows), 200)
	header := []string{"thread", "class", "friction", "utilization", "torsion", "head-bearing-diameter", "hole-diameter"}
	for i, got := range throughCSV(t, "joint", header, cells) {
		r := rows[i]
		allowed := tolerances[r["table"]]
		t.Run(r["id"], func(t *testing.T) {
			require.NotContains(t, got, "error")
			require.InEpsilon(t, parsedNumber(t, r["torque_Nm"]), got["torque_newton_meters"], allowed.torque, r["source"])
			if allowed.preload > 0 {
				require.InEpsilon(t, 1000*parsedNumber(t, r["preload_kN"]), got["preload_newtons"], allowed.preload, r["source"])
			}
		})
	}
}

// isMisprint is the one torque that a table prints off its own pattern: 1.6 N·m
// to two figures, 1.69 N·m by the pattern.
func isMisprint(r map[string]string) bool {
	return r["table"] == "stainless" && r["thread"] == "M5" && r["class"] == "A-50" && r["friction"] == "0.100"
}

// The preload of a torque is the one that the torque was answered for.
func TestJointThereAndBack(t *testing.T) {
	var cells, back [][]string
	for _, r := range vectors(t, "joint_vdi2230") {
		if r["table"] == "fine" {
			cells = append(cells, []string{r["thread"], r["class"], r["friction"], r["utilization"], ""})
		}
	}
	header := []string{"thread", "class", "friction", "utilization", "torque"}
	there := throughCSV(t, "joint", header, cells)
	for i, got := range there {
		torque := strconv.FormatFloat(got["torque_newton_meters"].(float64), 'f', 9, 64)
		back = append(back, []string{cells[i][0], cells[i][1], cells[i][2], "", torque})
	}
	for i, got := range throughCSV(t, "joint", header, back) {
		require.InEpsilon(t, there[i]["preload_newtons"], got["preload_newtons"], 1e-9)
	}
}

// Proof loads of ISO 898-1 as printed, and stress areas, through the rows of the
// command; the sources stand in the rows.
func TestJointProofLoads(t *testing.T) {
	rows := vectors(t, "joint_proof_loads")
	var cells [][]string
	for _, r := range rows {
		cells = append(cells, []string{r["thread"], r["class"], "0.12", "1"})
	}
	for i, got := range throughCSV(t, "joint", []string{"thread", "class", "friction", "torque"}, cells) {
		r := rows[i]
		require.InEpsilon(t, parsedNumber(t, r["proof_load_N"]), got["proof_load_newtons"], 0.005, "%s %s: %s", r["thread"], r["class"], r["source"])
		require.InEpsilon(t, parsedNumber(t, r["As_nom_mm2"]), got["stress_area_mm2"], 0.004, "%s: %s", r["thread"], r["source"])
	}
}

// Pitch diameters and stress areas of metric threads (ISO 724, ISO 898-1).
func TestJointThreadGeometry(t *testing.T) {
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "joint_threads_metric") {
		rows = append(rows, r)
		cells = append(cells, []string{r["designation"], "0.12", "1", "60", "40"})
	}
	for i, got := range throughCSV(t, "joint", []string{"thread", "friction", "torque", "head-bearing-diameter", "hole-diameter"}, cells) {
		r := rows[i]
		require.InDelta(t, parsedNumber(t, r["d2_mm"]), got["pitch_diameter_mm"], 0.0006, r["designation"])
		if r["As_tab_mm2"] != "" && r["confidence"] == "confirmed" {
			require.InEpsilon(t, parsedNumber(t, r["As_tab_mm2"]), got["stress_area_mm2"], 0.004, "%s: %s", r["designation"], r["source"])
		}
	}
}

// The worked examples of the short form T = K·d·F in joint_worked_examples.csv,
// for a #10 screw (0.190 in); the source stands in the rows.
func TestJointShortForm(t *testing.T) {
	seen := 0
	for _, r := range vectors(t, "joint_worked_examples") {
		in := clampInputs(t, r)
		if r["topic"] != "short form T=K d F" || in["d_in"] != 0.19 {
			continue
		}
		seen++
		const newtonsPerPound = 4.4482216152605 // exact
		newtons := strconv.FormatFloat(newtonsPerPound*in["F_lbf"].(float64), 'f', 9, 64)
		got := tightwright(t, "", "joint", "--json", "--thread", "#10-32", "--preload", newtons, "--nut-factor", written(in["K"]))
		require.Equal(t, codeOK, got.code, got.stdout)
		inches := answers(t, got.stdout)[0]["torque_newton_meters"].(float64) / (newtonsPerPound * 0.0254)
		require.InEpsilon(t, parsedNumber(t, r["expected"]), inches, parsedNumber(t, r["tolerance_pct"])/100, r["source"])
	}
	require.GreaterOrEqual(t, seen, 3)
}

// µ and K are never taken for each other, and what rests on friction says that it
// decides nothing.
func TestJointKeepsFrictionApart(t *testing.T) {
	byMu := tightwright(t, "", "joint", "--json", "--thread", "M8", "--torque", "20", "--friction", "0.2")
	byK := tightwright(t, "", "joint", "--json", "--thread", "M8", "--torque", "20", "--nut-factor", "0.2")
	require.Equal(t, codeOK, byMu.code)
	require.Equal(t, codeOK, byK.code)
	mu, k := answers(t, byMu.stdout)[0], answers(t, byK.stdout)[0]
	require.Greater(t, k["preload_newtons"], 1.2*mu["preload_newtons"].(float64))
	for _, got := range []map[string]any{mu, k} {
		require.True(t, strings.HasPrefix(got["use"].(string), "explanation only: it sets no window, no plan and no wrench"))
	}
	both := tightwright(t, "", "joint", "--thread", "M8", "--torque", "20", "--nut-factor", "0.2", "--friction", "0.2")
	require.Equal(t, outcome{codeBadInput, "", "tightwright: nut-factor: it is given together with friction: give one of them\n"}, both)
}
