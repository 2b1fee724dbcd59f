package sketch

import (
	"math"

	"github.com/tightwright/tightwright/torque/drawing/page"
)

// arrows leads from each bolt to the next in the order: straight where nothing
// is in the way, else around it.
func (g *group) arrows(s *sheet, turns []int) {
	order := byTurn(turns)
	for i := 1; i < len(order); i++ {
		g.arrow(s, order[i-1], order[i])
	}
}

// bends are how far an arrow leans aside, in px; the first that is clear counts.
var bends = [...]float64{0, 50, -50, 90, -90, 140, -140}

func (g *group) arrow(s *sheet, from, to int) {
	a, b := g.bolts[from], g.bolts[to]
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if length == 0 {
		return
	}
	middle := page.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	toward := middle
	for _, bend := range bends {
		toward = page.Point{X: middle.X + bend*(b.Y-a.Y)/length, Y: middle.Y - bend*(b.X-a.X)/length}
		if g.isClear(a, toward, b, from, to) {
			break
		}
		toward = middle
	}
	start := moved(a, toward, boltRadius+3)
	tip := moved(b, toward, boltRadius+4)
	neck := moved(b, toward, boltRadius+17)
	if toward == middle {
		s.Line(start.X, start.Y, neck.X, neck.Y, 3, "")
	} else {
		s.Bend(start, toward, neck, 3)
	}
	dx, dy := (tip.X-neck.X)/13, (tip.Y-neck.Y)/13
	s.Polygon(tip.X, tip.Y, neck.X-7*dy, neck.Y+7*dx, neck.X+7*dy, neck.Y-7*dx)
}

// moved returns the point at a distance from one point toward another.
func moved(from, toward page.Point, distance float64) page.Point {
	length := math.Hypot(toward.X-from.X, toward.Y-from.Y)
	if length == 0 {
		return from
	}
	return page.Point{X: from.X + (toward.X-from.X)*distance/length, Y: from.Y + (toward.Y-from.Y)*distance/length}
}

// isClear reports whether a bent arrow stays on the drawing and off the names and
// the other bolts.
func (g *group) isClear(a, toward, b page.Point, from, to int) bool {
	const steps = 24
	top, bottom := math.Inf(1), math.Inf(-1)
	for _, l := range g.labels {
		top, bottom = min(top, l.box().top), max(bottom, l.box().bottom)
	}
	for _, at := range g.bolts {
		top, bottom = min(top, at.Y-boltRadius-34), max(bottom, at.Y+boltRadius)
	}
	for i := 1; i < steps; i++ {
		t := float64(i) / steps
		x := (1-t)*(1-t)*a.X + 2*t*(1-t)*toward.X + t*t*b.X
		y := (1-t)*(1-t)*a.Y + 2*t*(1-t)*toward.Y + t*t*b.Y
		if x < 4 || x > pageWidth-4 || y < top || y > bottom {
			return false
		}
		for j, at := range g.bolts {
			if j != from && j != to && math.Hypot(x-at.X, y-at.Y) < boltRadius+6 {
				return false
			}
		}
		for _, l := range g.labels {
			box := l.box()
			if x > box.left-3 && x < box.right+3 && y > box.top-2 && y < box.bottom+2 {
				return false
			}
		}
	}
	return true
}
