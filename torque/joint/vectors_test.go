package joint_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// vectors reads a table of published figures, one map a row by column name.
func vectors(tb testing.TB, name string) []map[string]string {
	tb.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "vectors", name))
	require.NoError(tb, err)
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(tb, err)
	require.Greater(tb, len(lines), 1)
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// number reads a figure of a table.
func number(tb testing.TB, text string) float64 {
	tb.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(tb, err)
	return x
}
