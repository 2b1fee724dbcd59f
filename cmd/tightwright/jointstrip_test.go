package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The strip areas of joint_strip_areas.csv, of one diameter of thread in mesh,
// through the rows of the command; the source stands in the rows. The tolerances
// are those of package joint: 0.1 % for metric threads, 2 % for inch threads.
func TestJointStripAreas(t *testing.T) {
	tolerances := map[string]float64{"metric": 0.001, "inch": 0.02}
	fits := map[string]string{"6H/6g": "6H/6g", "6H/4g6g": "6h/4g6g", "2A/2B": "2B/2A", "3A/3B": "3b/3a"}
	units := map[string]float64{"mm": 1, "in": 25.4}
	rows := vectors(t, "joint_strip_areas")
	var cells [][]string
	for _, r := range rows {
		engaged := parsedNumber(t, r["engagement"]) * units[r["unit_len"]]
		cells = append(cells, []string{r["designation"], "8.8", "0.12", "1", "60", "40", written(engaged), "310", fits[r["fit"]]})
	}
	header := []string{"thread", "class", "friction", "torque", "head-bearing-diameter", "hole-diameter", "engagement", "part-strength", "fit"}
	for i, got := range throughCSV(t, "joint", header, cells) {
		r := rows[i]
		t.Run(r["designation"]+" "+r["fit"], func(t *testing.T) {
			require.NotContains(t, got, "error")
			strip, square := got["stripping"].(map[string]any), units[r["unit_len"]]*units[r["unit_len"]]
			allowed := tolerances[r["system"]]
			require.InEpsilon(t, parsedNumber(t, r["outer_strip"])*square, strip["outer_strip_area_mm2"], allowed, r["source"])
			require.InEpsilon(t, parsedNumber(t, r["inner_strip"])*square, strip["inner_strip_area_mm2"], allowed, r["source"])
			require.InEpsilon(t, 0.6*310*strip["inner_strip_area_mm2"].(float64), strip["inner_strip_newtons"], 1e-12)
		})
	}
}

func TestJointStripWords(t *testing.T) {
	with := func(more ...string) outcome {
		return tightwright(t, "", append([]string{"joint", "--thread", "M6", "--friction", "0.12", "--torque", "9"}, more...)...)
	}
	enough := with("--class", "8.8", "--engagement", "10", "--part-strength", "310")
	require.Equal(t, codeOK, enough.code, enough.stderr)
	require.Contains(t, enough.stdout, "overtightened   the bolt breaks first; 8.87 mm")
	require.NotContains(t, enough.stdout, "over what the engaged thread")
	short := with("--class", "8.8", "--engagement", "3", "--part-strength", "310")
	require.Contains(t, short.stdout, "overtightened   the thread of the part strips first; with")
	require.Contains(t, short.stdout, "the high end of the preload is over what the engaged thread")
	require.Contains(t, short.stdout, "the thread fit is 6H/6g")
}

func TestJointStripRefusals(t *testing.T) {
	base := []string{"joint", "--json", "--thread", "M6", "--torque", "9"}
	for _, tt := range []struct {
		name          string
		args          []string
		field, reason string
	}{
		{"no strength of the part", []string{"--friction", "0.12", "--class", "8.8", "--engagement", "8"}, "part-strength", "missing_value"},
		{"no length", []string{"--friction", "0.12", "--class", "8.8", "--part-strength", "310"}, "engagement", "missing_value"},
		{"no class", []string{"--friction", "0.12", "--engagement", "8", "--part-strength", "310"}, "class", "missing_value"},
		{"a negative length", []string{"--friction", "0.12", "--class", "8.8", "--engagement", "-8", "--part-strength", "310"}, "engagement", "out_of_range"},
		{"too long", []string{"--friction", "0.12", "--class", "8.8", "--engagement", "201", "--part-strength", "310"}, "engagement", "out_of_range"},
		{"an inch fit", []string{"--friction", "0.12", "--class", "8.8", "--engagement", "8", "--part-strength", "310", "--fit", "2B/2A"}, "fit", "out_of_range"},
		{"with a nut factor", []string{"--nut-factor", "0.2", "--engagement", "8"}, "engagement", "bad_option"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append(base, tt.args...)...)
			require.Equal(t, codeBadInput, got.code, got.stdout)
			failed := answers(t, got.stdout)[0]["error"].(map[string]any)["fields"].([]any)[0].(map[string]any)
			require.Equal(t, tt.field, failed["field"])
			require.Equal(t, tt.reason, failed["rule"])
		})
	}
}
