package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
)

func TestPlaces(t *testing.T) {
	for _, tt := range []struct {
		name  string
		names []string
		want  []procedure.Cell
	}{
		{"side by side, as named the other way round", []string{"right", "left"}, []procedure.Cell{{1, 0}, {0, 0}}},
		{"one above the other", []string{"lower", "upper"}, []procedure.Cell{{0, 1}, {0, 0}}},
		{"front at the top", []string{"front", "rear"}, []procedure.Cell{{0, 0}, {0, 1}}},
		{"words around the side", []string{"left nut", "right nut"}, []procedure.Cell{{0, 0}, {1, 0}}},
		{"closed edge at the top", []string{"closed-left", "closed-right", "open-left", "open-right"}, []procedure.Cell{{0, 0}, {1, 0}, {0, 1}, {1, 1}}},
		{"outer ones outside", []string{"left-inner", "left-outer", "right-inner", "right-outer"}, []procedure.Cell{{1, 0}, {0, 0}, {2, 0}, {3, 0}}},
		{"bare signs", []string{"A", "B"}, nil},
		{"a name without a side", []string{"left", "clamp bolt"}, nil},
		{"two in one place", []string{"left upper", "upper left"}, nil},
		{"none", nil, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := procedure.Places(tt.names)
			require.Equal(t, tt.want != nil, ok)
			require.Equal(t, tt.want, got)
		})
	}
}

// Whatever the names are, no two of them share a place, and no row or column
// is left empty.
func TestPlacesAreApart(t *testing.T) {
	word := rapid.SampledFrom([]string{"left", "right", "upper", "lower", "front", "rear", "inner", "outer", "closed", "open", "A", "nut"})
	name := rapid.Custom(func(t *rapid.T) string { return word.Draw(t, "first") + "-" + word.Draw(t, "second") })
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfN(name, 1, 8).Draw(t, "names")
		cells, ok := procedure.Places(names)
		if !ok {
			return
		}
		require.Len(t, cells, len(names))
		seen, columns, rows := map[procedure.Cell]bool{}, map[int]bool{}, map[int]bool{}
		for _, c := range cells {
			require.False(t, seen[c], cells)
			seen[c], columns[c.Column], rows[c.Row] = true, true, true
		}
		for i := range len(columns) {
			require.True(t, columns[i], cells)
		}
		for i := range len(rows) {
			require.True(t, rows[i], cells)
		}
	})
}
