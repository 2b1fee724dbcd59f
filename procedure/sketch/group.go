package sketch

import (
	"math"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// Measures of a group of bolts, in px.
const (
	boltRadius = 22.0
	labelAside = 6.0  // from a bolt to its name
	labelWidth = 88.0 // of a name beside a ring
	lineHeight = 1.25 * smallSize
)

// A group is the bolts of a step at their places on the page.
type group struct {
	bolts  []page.Point
	labels []label
	height float64
}

// A box is what something takes on the page.
type box struct{ left, top, right, bottom float64 }

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

func boltBox(at page.Point) box {
	const r = boltRadius + 2
	return box{at.X - r, at.Y - r, at.X + r, at.Y + r}
}

// lay lays the bolts out, from the top of a page of their own.
func lay(t *procedure.PlannedTorque, isNamed bool) *group {
	count := len(t.Bolts)
	cells, placed := cellsOf(t)
	if !placed || columnsOf(cells) > 6 || rowsOf(cells) > 8 {
		return ringGroup(t.Bolts, isNamed)
	}
	if columnsOf(cells) == 1 && count > 1 {
		return columnGroup(t.Bolts, cells, isNamed)
	}
	return gridGroup(t.Bolts, cells, isNamed)
}

// cellsOf says where the bolts lie by the layout, else by their names; false
// stands for a ring. Two bolts of which nothing is said lie side by side.
func cellsOf(t *procedure.PlannedTorque) ([]procedure.Cell, bool) {
	layout := t.Layout
	if layout == 0 {
		if cells, ok := procedure.Places(t.Bolts); ok {
			return cells, true
		}
		if len(t.Bolts) <= 2 {
			layout = procedure.Row
		}
	}
	cells := make([]procedure.Cell, 0, len(t.Bolts))
	for i := range t.Bolts {
		switch {
		case layout == procedure.Row:
			cells = append(cells, procedure.Cell{Column: i})
		case layout == procedure.Column:
			cells = append(cells, procedure.Cell{Row: i})
		case layout == procedure.Square && len(t.Bolts) == 4:
			cells = append(cells, procedure.Cell{Column: i % 2, Row: i / 2})
		default:
			return nil, false
		}
	}
	return cells, true
}

func columnsOf(cells []procedure.Cell) int {
	return 1 + slices.MaxFunc(cells, func(a, b procedure.Cell) int { return a.Column - b.Column }).Column
}

func rowsOf(cells []procedure.Cell) int {
	return 1 + slices.MaxFunc(cells, func(a, b procedure.Cell) int { return a.Row - b.Row }).Row
}

// columnGroup lays bolts one above the other, their names on the right.
func columnGroup(bolts []string, cells []procedure.Cell, isNamed bool) *group {
	const left, pitch = 110.0, 2*boltRadius + 36
	g := &group{}
	for i, c := range cells {
		at := page.Point{X: left, Y: boltRadius + 4 + pitch*float64(c.Row)}
		g.bolts = append(g.bolts, at)
		if isNamed {
			g.labels = append(g.labels, beside(bolts[i], at, page.Start, pageWidth-margin-left-boltRadius-labelAside))
		}
	}
	g.height = pitch*float64(rowsOf(cells)-1) + 2*boltRadius + 8
	return g
}

// gridGroup lays bolts in rows, their names above the first row of two, else
// below.
func gridGroup(bolts []string, cells []procedure.Cell, isNamed bool) *group {
	columns, rows := columnsOf(cells), rowsOf(cells)
	pitch := (pageWidth - 2*margin) / float64(columns)
	above := 0.0
	var names [][]string
	for i, c := range cells {
		lines := nameLines(bolts[i], pitch-8)
		names = append(names, lines)
		if isNamed && rows > 1 && c.Row == 0 {
			above = max(above, float64(len(lines))*lineHeight+labelAside)
		}
	}
	g := &group{}
	top := above + boltRadius + 4
	if rows == 1 && columns > 2 {
		top += 34 // for arrows that lead around a bolt
	}
	for i, c := range cells {
		at := page.Point{X: margin + pitch*(float64(c.Column)+0.5), Y: top + 100*float64(c.Row)}
		g.bolts = append(g.bolts, at)
		if isNamed {
			g.labels = append(g.labels, underOrOver(names[i], at, rows > 1 && c.Row == 0))
		}
	}
	g.height = top + 100*float64(rows-1) + boltRadius + 4
	for _, l := range g.labels {
		g.height = max(g.height, l.box().bottom+2)
	}
	return g
}

// ringGroup lays bolts on a circle, clockwise from the top, their names outside.
func ringGroup(bolts []string, isNamed bool) *group {
	g := &group{}
	count := float64(len(bolts))
	least := count * (2*boltRadius + 8) / (2 * math.Pi)
	radius := max(least, 70)
	if isNamed {
		radius = max(least, min(96, (pageWidth-2*margin)/2-boltRadius-labelAside-widest(bolts)))
	}
	if len(bolts) == 1 {
		radius = 0
	}
	centerY := radius + boltRadius + 4
	if isNamed {
		centerY += 2*lineHeight + labelAside
	}
	for i, name := range bolts {
		sin, cos := math.Sincos(2*math.Pi*float64(i)/count - math.Pi/2)
		at := page.Point{X: pageWidth/2 + radius*cos, Y: centerY + radius*sin}
		g.bolts = append(g.bolts, at)
		if isNamed {
			g.labels = append(g.labels, outside(name, at, sin, cos))
		}
	}
	g.height = centerY + radius + boltRadius + 4
	for _, l := range g.labels {
		g.height = max(g.height, l.box().bottom+2)
	}
	return g
}

// hasRoom reports whether all names are on the page, and clear of each other and
// of the bolts.
func (g *group) hasRoom() bool {
	var taken []box
	for _, b := range g.bolts {
		taken = append(taken, boltBox(b))
	}
	for _, l := range g.labels {
		b := l.box()
		if b.left < margin || b.right > pageWidth-margin || b.top < 0 || len(l.lines) > 3 {
			return false
		}
		if slices.ContainsFunc(taken, b.meets) {
			return false
		}
		taken = append(taken, b)
	}
	return true
}

// moveTo moves the group down the page.
func (g *group) moveTo(y float64) {
	for i := range g.bolts {
		g.bolts[i].Y += y
	}
	for i := range g.labels {
		g.labels[i].top += y
	}
}

// draw draws the bolts with their turns, and their names.
func (g *group) draw(s *sheet, turns []int) {
	for i, at := range g.bolts {
		if len(turns) == 1 {
			s.front(at, boltRadius)
			continue
		}
		s.Circle(at.X, at.Y, boltRadius, page.Blank)
		s.Text(at.X, at.Y+6, 16, page.Middle, true, ordinal(turns[i]))
	}
	for _, l := range g.labels {
		for i, line := range l.lines {
			s.Text(l.x, l.top+float64(i)*lineHeight+smallSize, smallSize, l.at, true, line)
		}
	}
}
