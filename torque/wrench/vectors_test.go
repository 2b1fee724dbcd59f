package wrench_test

import (
	"encoding/csv"
	"math/big"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// row is one line of a file of published figures, by column name. The source
// of each row stands in its column "source", and "confidence" says whether it
// was read there or is from memory.
type row map[string]string

// vectors reads testdata/vectors/wrench_<name>.csv.
func vectors(tb testing.TB, name string) []row {
	tb.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "vectors", "wrench_"+name+".csv"))
	require.NoError(tb, err)
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	require.NoError(tb, err)
	require.Greater(tb, len(records), 1)
	rows := make([]row, 0, len(records)-1)
	for _, record := range records[1:] {
		r := row{}
		for i, column := range records[0] {
			r[column] = record[i]
		}
		require.NotEmpty(tb, r["source"], r)
		rows = append(rows, r)
	}
	return rows
}

// ofType returns the rows with a type, at least one.
func ofType(tb testing.TB, rows []row, column, want string) []row {
	tb.Helper()
	var found []row
	for _, r := range rows {
		if r[column] == want {
			found = append(found, r)
		}
	}
	require.NotEmpty(tb, found, want)
	return found
}

func number(tb testing.TB, text string) float64 {
	tb.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(tb, err, text)
	return x
}

func rat(tb testing.TB, text string) *big.Rat {
	tb.Helper()
	value, ok := new(big.Rat).SetString(text)
	require.True(tb, ok, text)
	return value
}

// optionalRat is nil for no text.
func optionalRat(tb testing.TB, text string) *big.Rat {
	tb.Helper()
	if text == "" {
		return nil
	}
	return rat(tb, text)
}

func figure(tb testing.TB, digits string, unit torque.Unit) torque.Figure {
	tb.Helper()
	f, err := torque.ParseFigure(digits, unit)
	require.NoError(tb, err)
	return f
}

func newtonMeters(tb testing.TB, digits string) torque.Torque {
	tb.Helper()
	value, err := figure(tb, digits, torque.NewtonMeters).Torque()
	require.NoError(tb, err)
	return value
}

// window reads "5 to 7", "5 to" or "to 7" in newton meters.
func window(tb testing.TB, low, high string) torque.Window {
	tb.Helper()
	var w torque.FigureWindow
	if low != "" {
		w.Min = figure(tb, low, torque.NewtonMeters)
	}
	if high != "" {
		w.Max = figure(tb, high, torque.NewtonMeters)
	}
	out, err := w.Window()
	require.NoError(tb, err)
	return out
}

func tool(tb testing.TB, d wrench.Description) *wrench.Wrench {
	tb.Helper()
	w, err := wrench.New(d)
	require.NoError(tb, err)
	return w
}

// setting is a setting tool in newton meters.
func setting(tb testing.TB, low, high, graduation string) *wrench.Wrench {
	tb.Helper()
	return tool(tb, wrench.Description{ID: "tool", Kind: wrench.Setting, Min: low, Max: high, Graduation: graduation})
}

// closeTo compares relative to the wanted value, and absolutely where that is
// smaller than the tolerance allows a float.
func closeTo(tb testing.TB, want, got, relative float64, what ...any) {
	tb.Helper()
	if want == 0 {
		require.InDelta(tb, want, got, 1e-300, what...)
		return
	}
	require.InEpsilon(tb, want, got, relative, what...)
}
