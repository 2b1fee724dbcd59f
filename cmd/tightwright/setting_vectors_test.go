package main

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every row of wrench_adapters.csv through the rows of the command, to 1e-12 of
// its exact result; the sources stand in the rows.
func TestSettingVectors(t *testing.T) {
	rows := vectors(t, "wrench_adapters")
	var cells [][]string
	for _, r := range rows {
		torque, setTo := r["torque"], ""
		if r["mode"] == "applied" {
			torque, setTo = "", r["torque"]
		}
		cells = append(cells, []string{torque, setTo, r["torque_unit"], r["wrench_length"], r["extension"], r["angle_deg"], r["length_unit"]})
	}
	header := []string{"torque", "set-to", "unit", "length", "extension", "angle", "length-unit"}
	for i, got := range throughCSV(t, "setting", header, cells) {
		r := rows[i]
		t.Run(r["id"], func(t *testing.T) {
			if r["expected"] == "error" {
				require.NotEmpty(t, got["error"].(map[string]any)["reason"], r["error_reason"])
				require.NotEmpty(t, got["error"].(map[string]any)["message"])
				require.Len(t, got, 1)
				return
			}
			key := "setting"
			if r["mode"] == "applied" {
				key = "torque"
			}
			require.InEpsilon(t, parsedNumber(t, r["result_exact"]), got[key], 1e-12)
			require.Equal(t, r["torque_unit"], got["unit"])
			require.NotContains(t, got, "mark")
			exact, ok := new(big.Rat).SetString(got["exact"].(string))
			require.True(t, ok, got["exact"])
			value, _ := exact.Float64()
			require.InEpsilon(t, value, got[key], 1e-15)
		})
	}
}

// The mark is there only where a wrench is, and never over a maximum. The window
// 5 N·m to 7 N·m with ±4 % gives settings from 5.2 N·m to 6.72 N·m: min·(1+d) and
// max·(1-d), ISO 6789:2003, worked out by hand.
func TestSettingMark(t *testing.T) {
	wrench := []string{"--wrench-min", "2", "--wrench-max", "20", "--graduation", "0.25"}
	lengths := []string{"--unit", "lbf.in", "--length", "10", "--extension", "1.5", "--length-unit", "in"}
	for _, tt := range []struct {
		name string
		args []string
		mark any
	}{
		{"no wrench", append([]string{"--torque", "135"}, lengths...), nil},
		{"a maximum goes down", append([]string{"--torque", "6.3"}, wrench...), 6.25},
		{"a minimum goes up", append([]string{"--torque", "6.3", "--as", "min"}, wrench...), 6.5},
		{"nearest in a window", append([]string{"--torque", "6.3", "--min", "5", "--max", "7"}, wrench...), 6.25},
		{"held by the window", append([]string{"--torque", "6.99", "--min", "5", "--max", "7"}, wrench...), 6.5},
		{"taken at its word", append([]string{"--torque", "6.99", "--min", "5", "--max", "7", "--allowance", "none"}, wrench...), 7.0},
		{"a scale in another unit", append(lengths, "--torque", "135", "--wrench-min", "5", "--wrench-max", "25", "--graduation", "0.5", "--wrench-unit", "N.m"), 13.0},
		{"a small wrench may be 6 % off", []string{"--torque", "6.99", "--min", "5", "--max", "7", "--wrench-min", "2", "--wrench-max", "10", "--graduation", "0.1"}, 6.5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append([]string{"setting", "--json"}, tt.args...)...)
			require.Equal(t, codeOK, got.code, got.stdout)
			require.Equal(t, tt.mark, answers(t, got.stdout)[0]["mark"])
		})
	}
}

// What cannot be is one line, an object with its reason, and 2.
func TestSettingRefusals(t *testing.T) {
	wrench := []string{"--wrench-min", "2", "--wrench-max", "20", "--graduation", "0.2"}
	for _, tt := range []struct {
		name   string
		args   []string
		reason string
	}{
		{"nothing to do", []string{"--torque", "5"}, "missing_value"},
		{"no torque", []string{"--length", "10", "--extension", "1"}, "missing_value"},
		{"no extension", []string{"--torque", "5", "--length", "10"}, "missing_value"},
		{"no number", []string{"--torque", "5", "--length", "NaN", "--extension", "1"}, "not_a_number"},
		{"no end", []string{"--torque", "Inf", "--length", "10", "--extension", "1"}, "not_a_number"},
		{"an exponent", []string{"--torque", "1e3", "--length", "10", "--extension", "1"}, "exponent_not_allowed"},
		{"negative torque", []string{"--torque", "-5", "--length", "10", "--extension", "1"}, "not_positive"},
		{"no torque at all", []string{"--torque", "0", "--length", "10", "--extension", "1"}, "not_positive"},
		{"negative length", []string{"--torque", "5", "--length", "-10", "--extension", "1"}, "out_of_range"},
		{"negative extension", []string{"--torque", "5", "--length", "10", "--extension", "-1"}, "out_of_range"},
		{"lever too short", []string{"--torque", "5", "--length", "10", "--extension", "9.01", "--angle", "180"}, "out_of_range"},
		{"angle past all turns", []string{"--torque", "5", "--length", "10", "--extension", "1", "--angle", "361"}, "out_of_range"},
		{"unit of length", []string{"--torque", "5", "--length", "10", "--extension", "1", "--length-unit", "ell"}, "unknown_word"},
		{"unit of torque", []string{"--torque", "5", "--unit", "nm", "--length", "10", "--extension", "1"}, "unknown_unit"},
		{"no graduation", []string{"--torque", "5", "--wrench-min", "2", "--wrench-max", "20"}, "missing_value"},
		{"off the scale", append([]string{"--torque", "25"}, wrench...), "setting_not_on_the_scale"},
		{"too coarse", append([]string{"--torque", "6", "--min", "5.9", "--max", "6.1"}, wrench...), "deviation_wider_than_window"},
		{"no maximum", append([]string{"--torque", "6", "--min", "5"}, wrench...), "missing_value"},
		{"reversed window", append([]string{"--torque", "6", "--min", "7", "--max", "5"}, wrench...), "reversed_range"},
		{"aimed above the window", append([]string{"--torque", "7.01", "--min", "5", "--max", "7"}, wrench...), "out_of_range"},
		{"aimed below the window", append([]string{"--torque", "4", "--min", "5", "--max", "7"}, wrench...), "out_of_range"},
		{"window without a wrench", []string{"--torque", "6", "--min", "5", "--max", "7", "--length", "10", "--extension", "1"}, "missing_value"},
		{"both ways", []string{"--torque", "6", "--set-to", "5", "--length", "10", "--extension", "1"}, "bad_option"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append([]string{"setting", "--json"}, tt.args...)...)
			require.Equal(t, codeBadInput, got.code)
			require.Empty(t, got.stderr)
			failed := answers(t, got.stdout)[0]["error"].(map[string]any)
			require.Equal(t, tt.reason, failed["reason"], failed["message"])
			got = tightwright(t, "", append([]string{"setting"}, tt.args...)...)
			require.Equal(t, codeBadInput, got.code)
			require.Empty(t, got.stdout)
			require.True(t, strings.HasPrefix(got.stderr, "tightwright: "), got.stderr)
		})
	}
}
