package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The probabilities and decisions of wrench_decisions.csv through the rows of the
// command, to 1e-12; sources stand in the rows, and the names of outcomes there
// are those of ILAC-G8:09/2019 4.2.
func TestDecideVectors(t *testing.T) {
	rules := map[string]string{"simple": "simple", "guarded": "guarded", "non-binary": "guarded-both-ways"}
	names := map[string]string{
		"conforming true": "pass", "nonconforming true": "fail", "nonconforming false": "fail",
		"undecided true": "conditional_pass", "undecided false": "conditional_fail",
	}
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "wrench_decisions") {
		switch r["row_type"] {
		case "probability":
			rows = append(rows, r)
			cells = append(cells, []string{r["TL"], r["TU"], r["y"], r["u"], "", "", ""})
		case "decision":
			rows = append(rows, r)
			cells = append(cells, []string{r["TL"], r["TU"], r["y"], r["u"], rules[r["rule"]], r["r"], r["k"]})
		}
	}
	require.Greater(t, len(rows), 30)
	for i, got := range throughCSV(t, "decide", []string{"min", "max", "reading", "u", "rule", "guard-factor", "k"}, cells) {
		r := rows[i]
		t.Run(r["id"], func(t *testing.T) {
			require.NotContains(t, got, "error")
			want := parsedNumber(t, r["pc"])
			require.InDelta(t, want, got["probability"], 1e-12*math.Max(want, 1e-3))
			if r["row_type"] == "decision" {
				within := map[bool]string{true: " true", false: " false"}[got["within"].(bool)]
				require.Equal(t, r["decision"], names[got["outcome"].(string)+within])
				return
			}
			require.Contains(t, []string{"conforming", "undecided", "nonconforming"}, got["outcome"])
		})
	}
}

func TestDecideRefusals(t *testing.T) {
	for _, tt := range []struct {
		name   string
		args   []string
		reason string
	}{
		{"no limit", []string{"--reading", "6", "--u", "0.1"}, "missing_value"},
		{"no reading", []string{"--max", "7", "--u", "0.1"}, "missing_value"},
		{"no uncertainty", []string{"--max", "7", "--reading", "6"}, "missing_value"},
		{"negative uncertainty", []string{"--max", "7", "--reading", "6", "--u", "-0.1"}, "out_of_range"},
		{"no number", []string{"--max", "7", "--reading", "NaN", "--u", "0.1"}, "not_a_number"},
		{"no end", []string{"--max", "Infinity", "--reading", "6", "--u", "0.1"}, "not_a_number"},
		{"a comma", []string{"--max", "7,5", "--reading", "6", "--u", "0.1"}, "ambiguous_number"},
		{"reversed", []string{"--min", "7", "--max", "5", "--reading", "6", "--u", "0.1"}, "reversed_range"},
		{"rule", []string{"--max", "7", "--reading", "6", "--u", "0.1", "--rule", "kindly"}, "unknown_word"},
		{"level", []string{"--max", "7", "--reading", "6", "--u", "0.1", "--level", "1"}, "out_of_range"},
		{"k alone", []string{"--max", "7", "--reading", "6", "--u", "0.1", "--k", "2"}, "bad_option"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append([]string{"decide", "--json"}, tt.args...)...)
			require.Equal(t, codeBadInput, got.code)
			failed := answers(t, got.stdout)[0]["error"].(map[string]any)
			require.Equal(t, tt.reason, failed["reason"], failed["message"])
		})
	}
}

// A default level of 95 %: a reading 1.6449 standard uncertainties inside one
// limit just conforms (JCGM 106:2012, 7.3), and one 1.64 inside does not.
func TestDecideLevel(t *testing.T) {
	for reading, want := range map[string]string{"6.8355": "conforming", "6.836": "undecided", "7.1645": "nonconforming", "7.164": "undecided"} {
		got := tightwright(t, "", "decide", "--json", "--max", "7", "--reading", reading, "--u", "0.1")
		// 7.1645 is 1.645 beyond
		require.Equal(t, want, answers(t, got.stdout)[0]["outcome"], reading)
	}
}
