package catalogue_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// records reads a CSV file of check values as maps by column.
func records(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, column := range rows[0] {
			m[column] = row[i]
		}
		out = append(out, m)
	}
	return out
}

// windowRecords reads the check values of all areas of the bike.
func windowRecords(t testing.TB) []map[string]string {
	t.Helper()
	files, err := filepath.Glob("testdata/windows*.csv")
	require.NoError(t, err)
	var out []map[string]string
	for _, file := range files {
		out = append(out, records(t, filepath.Base(file))...)
	}
	return out
}

// Windows and preps against the trade's table, row by row (testdata/windows*.csv
// names the source of each: common practice, no source).
func TestWindowsOfTheJointTable(t *testing.T) {
	c := load(t)
	checked := map[string]bool{}
	for _, r := range windowRecords(t) {
		row, ok := c.Joint(r["joint"])
		require.True(t, ok, r["joint"])
		m, err := torque.ParseMarking(row.Window)
		require.NoError(t, err)
		w, err := m.Window()
		require.NoError(t, err)
		low, high := newtonMeters(t, r["min_nm"]), newtonMeters(t, r["max_nm"])
		want, err := torque.NewWindow(low, high)
		require.NoError(t, err)
		require.Equal(t, want, w, row.ID)
		require.Equal(t, r["prep"], row.ThreadPrep.String(), row.ID)
		require.Equal(t, procedure.FromMemory, row.Source.Confidence, row.ID)
		checked[row.ID] = true
	}
	for _, row := range c.Joints {
		require.Equal(t, row.Window != "", checked[row.ID], "%s has a window that no check value covers", row.ID)
	}
}

func newtonMeters(t testing.TB, digits string) torque.Torque {
	t.Helper()
	v, err := torque.Parse(digits + " N·m")
	require.NoError(t, err)
	return v
}

// Threads and hands against testdata/threads.csv, which names the source of
// each.
func TestThreadsOfTheJointTable(t *testing.T) {
	c := load(t)
	for _, r := range records(t, "threads.csv") {
		row, ok := c.Joint(r["joint"])
		require.True(t, ok, r["joint"])
		got, err := joint.ParseThread(row.Thread)
		require.NoError(t, err)
		text := "M" + r["major_mm"] + "x" + r["pitch_mm"]
		if r["tpi"] != "" {
			text = r["major_mm"] + " mm x " + r["tpi"] + " tpi"
		}
		want, err := joint.ParseThread(text + " " + r["hand"])
		require.NoError(t, err)
		require.Equal(t, want, got, row.ID)
	}
}

// Where nobody knows a figure, the table has none: it is not filled with a
// guess.
func TestUnknownWindowsStayEmpty(t *testing.T) {
	c := load(t)
	var empty []string
	for _, row := range c.Joints {
		if row.Window == "" {
			empty = append(empty, row.ID)
			require.Empty(t, row.Aim, row.ID)
		}
	}
	require.ElementsMatch(t, []string{
		"bottom-bracket-flange-drive-m36x24", "bottom-bracket-support-non-drive-m36x24",
		"bottom-bracket-flange-drive-m35x1", "bottom-bracket-flange-drive-m35x1-left",
		"bottom-bracket-support-non-drive-m35x1",
		"seat-collar-of-the-maker", "saddle-clamp-of-the-maker",
	}, empty)
}
