package torque_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// row is one line of a file of published figures, by column name. The source
// of each row stands in its column "source".
type row map[string]string

// vectors reads testdata/vectors/<name>.csv.
func vectors(tb testing.TB, name string) []row {
	tb.Helper()
	file, err := os.Open(filepath.Join("..", "testdata", "vectors", name+".csv"))
	require.NoError(tb, err)
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	require.NoError(tb, err)
	require.NotEmpty(tb, records)
	rows := make([]row, 0, len(records)-1)
	for _, record := range records[1:] {
		r := row{}
		for i, column := range records[0] {
			r[column] = record[i]
		}
		rows = append(rows, r)
	}
	return rows
}
