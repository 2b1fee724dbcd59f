package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"math/big"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// vectors reads testdata/vectors/NAME.csv; each row names its source.
func vectors(t testing.TB, name string) []map[string]string {
	t.Helper()
	file, err := os.Open("../../testdata/vectors/" + name + ".csv")
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, file.Close()) })
	records, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, cell := range record {
			row[records[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

// throughCSV starts the command in a process of its own, feeds it the cells
// as CSV and returns its answers, one a row.
func throughCSV(t testing.TB, command string, header []string, cells [][]string) []map[string]any {
	t.Helper()
	var stdin, stdout, stderr bytes.Buffer
	w := csv.NewWriter(&stdin)
	require.NoError(t, w.Write(header))
	require.NoError(t, w.WriteAll(cells))
	cmd := exec.Command("tightwright", command, "-")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = &stdin, &stdout, &stderr
	require.NoError(t, cmd.Run(), stderr.String())
	out := answers(t, stdout.String())
	require.Len(t, out, len(cells))
	return out
}

// Every row of units_markings.csv through the rows of the command.
func TestMarkingVectors(t *testing.T) {
	rows := vectors(t, "units_markings")
	var cells [][]string
	for _, r := range rows {
		cells = append(cells, []string{r["text"]})
	}
	for i, got := range throughCSV(t, "marking", []string{"text"}, cells) {
		r := rows[i]
		t.Run(r["id"], func(t *testing.T) {
			if r["expected"] == "error" {
				require.Equal(t, r["error_reason"], got["error"].(map[string]any)["reason"])
				require.Len(t, got, 1)
				return
			}
			for _, key := range []string{"kind", "nominal", "min", "max", "unit"} {
				require.Equal(t, r[key], got[key], "%s of %q", key, r["text"])
			}
			require.Equal(t, r["text"], got["as_written"])
			alternates := got["alternates"].([]any)
			if r["alt_unit"] == "" {
				require.Empty(t, alternates)
				return
			}
			for _, key := range []string{"nominal", "min", "max", "unit"} {
				require.Equal(t, r["alt_"+key], alternates[0].(map[string]any)[key], "alternate %s of %q", key, r["text"])
			}
		})
	}
}

// requireExact checks value and exact against an exact decimal or fraction;
// the value may be off by half a last bit.
func requireExact(t testing.TB, want string, got map[string]any) {
	t.Helper()
	exact, ok := new(big.Rat).SetString(want)
	require.True(t, ok, want)
	require.NotContains(t, got, "error")
	read, ok := new(big.Rat).SetString(got["exact"].(string))
	require.True(t, ok, got["exact"])
	require.Zero(t, exact.Cmp(read), "want %s, got %s", want, got["exact"])
	nearest, _ := exact.Float64()
	require.Equal(t, nearest, got["value"])
}

// Exact factors and reciprocals of units_factors.csv (NIST SP 811, 2008,
// appendix B.8, and exact definitions) through the rows of the command, and the
// printed factors to their last digit.
func TestConvertFactors(t *testing.T) {
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "units_factors") {
		if isTorqueUnit(r["ucum_from"]) && isTorqueUnit(r["ucum_to"]) {
			rows = append(rows, r)
			cells = append(cells, []string{"1", r["ucum_from"], r["ucum_to"]}, []string{"-1", r["symbol"], r["ucum_to"]})
		}
	}
	require.NotEmpty(t, rows)
	got := throughCSV(t, "convert", []string{"value", "from", "to"}, cells)
	for i, r := range rows {
		t.Run(r["id"], func(t *testing.T) {
			requireExact(t, r["exact_fraction"], got[2*i])
			requireExact(t, "-"+r["exact_fraction"], got[2*i+1])
			require.Equal(t, r["ucum_to"], got[2*i]["unit"])
			if printed, ok := new(big.Rat).SetString(r["printed_value"]); ok {
				value, _ := printed.Float64()
				require.InEpsilon(t, value, got[2*i]["value"], 5e-7)
			}
		})
	}
}

func isTorqueUnit(code string) bool {
	_, err := torque.ParseUCUM(code)
	return err == nil
}

// What GNU units 2.22 gave (units_gnu.csv), to 1e-13 of the value.
func TestConvertGNUUnits(t *testing.T) {
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "units_gnu") {
		from, errFrom := torque.ParseUnit(r["from_unit"])
		to, errTo := torque.ParseUnit(r["to_unit"])
		if errFrom == nil && errTo == nil {
			rows = append(rows, r)
			cells = append(cells, []string{r["value"], from.UCUM(), to.UCUM()})
		}
	}
	require.Greater(t, len(rows), 20)
	for i, got := range throughCSV(t, "convert", []string{"value", "from", "to"}, cells) {
		t.Run(rows[i]["id"], func(t *testing.T) {
			var want float64
			require.NoError(t, json.Unmarshal([]byte(rows[i]["gnu_units_output"]), &want))
			require.InDelta(t, want, got["value"], 1e-13*math.Abs(want))
			requireExact(t, rows[i]["exact_fraction"], got)
		})
	}
}

// Rounding of units_rounding.csv (NIST SP 811, 2008, B.7.1; inward limits
// after ASME A112.18.1-2018/CSA B125.1-18 Annex A.2 e; first-digit rule of
// NIST SP 1038 4.4) through the rows of the command.
func TestConvertRounding(t *testing.T) {
	var rows []map[string]string
	var cells [][]string
	for _, r := range vectors(t, "units_rounding") {
		from, to := r["input_unit"], r["target_unit"]
		if from == "1" { // a bare number: rounding alone
			from, to = "N.m", "N.m"
		}
		if !isTorqueUnit(from) || !isTorqueUnit(to) || r["status"] != "ok" || strings.Contains(r["input_value"], "..") {
			continue
		}
		digits, places, as := "", "", map[string]string{"floor": "max", "ceil": "min"}[r["method"]]
		switch {
		case r["method"] == "first_digit":
			digits = "auto"
		case r["digits_kind"] == "sig":
			digits = r["digits"]
		default:
			places = r["digits"]
		}
		rows = append(rows, r)
		cells = append(cells, []string{r["input_value"], from, to, digits, places, as})
	}
	require.Greater(t, len(rows), 40)
	for i, got := range throughCSV(t, "convert", []string{"value", "from", "to", "digits", "places", "as"}, cells) {
		t.Run(rows[i]["id"], func(t *testing.T) {
			require.Equal(t, rows[i]["expected"], got["rounded"], "%v: %s", cells[i], rows[i]["rule"])
		})
	}
}
