package procedure

import (
	"slices"
	"strings"
)

// Layout says where the bolts of a group lie, for a drawing of them. The zero
// value leaves it to their names, see [Places].
type Layout uint8

// The layouts. Bolts are laid in the order in which they are named.
const (
	// Row is from left to right, Column from top to bottom.
	Row Layout = iota + 1
	Column
	// Square is upper left, upper right, lower left, lower right.
	Square
	// Ring is a circle, clockwise from the top.
	Ring
)

var layoutNames = []string{"", "row", "column", "square", "ring"}

// String returns the layout as written in a procedure.
func (l Layout) String() string { return enumName(layoutNames, l) }

// MarshalText writes the layout; the zero value is empty.
func (l Layout) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (l *Layout) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*l = 0
		return nil
	}
	*l, err = enumParse[Layout]("layout", layoutNames, string(b))
	return err
}

// A Cell is a place on a grid: Column counts from the left, Row from the top,
// both from 0.
type Cell struct{ Column, Row int }

// sides are the words in a name that say where something lies, as steps from
// the middle to the right and downward. The front is drawn at the top, and an
// edge that is closed above the one that stays open.
var sides = map[string]Cell{
	"left": {-2, 0}, "right": {2, 0},
	"upper": {0, -1}, "lower": {0, 1}, "front": {0, -1}, "rear": {0, 1}, "closed": {0, -1}, "open": {0, 1},
}

// Places returns where things of these names lie on a grid: by the words left,
// right, upper, lower, front, rear, closed and open in the names, with inner
// and outer for two on one side. It returns false where the names do not say
// it for every one of them, or put two into one place.
func Places(names []string) ([]Cell, bool) {
	cells := make([]Cell, 0, len(names))
	for _, name := range names {
		at, ok := sideOf(name)
		if !ok || slices.Contains(cells, at) {
			return nil, false
		}
		cells = append(cells, at)
	}
	if len(cells) == 0 {
		return nil, false
	}
	return pressed(cells), true
}

func sideOf(name string) (at Cell, ok bool) {
	outward := 0
	for _, word := range strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == ' ' }) {
		switch side, known := sides[word]; {
		case known:
			at.Column, at.Row, ok = at.Column+side.Column, at.Row+side.Row, true
		case word == "outer":
			outward = 1
		case word == "inner":
			outward = -1
		}
	}
	switch {
	case at.Column > 0:
		at.Column += outward
	case at.Column < 0:
		at.Column -= outward
	}
	return at, ok
}

// pressed moves cells together, so that no column and no row is left empty.
func pressed(cells []Cell) []Cell {
	var columns, rows []int
	for _, c := range cells {
		columns, rows = append(columns, c.Column), append(rows, c.Row)
	}
	columns, rows = ranks(columns), ranks(rows)
	out := make([]Cell, 0, len(cells))
	for _, c := range cells {
		out = append(out, Cell{slices.Index(columns, c.Column), slices.Index(rows, c.Row)})
	}
	return out
}

func ranks(values []int) []int {
	slices.Sort(values)
	return slices.Compact(values)
}
