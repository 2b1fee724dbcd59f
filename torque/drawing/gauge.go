package drawing

import (
	"cmp"
	"slices"

	"github.com/tightwright/tightwright/torque/drawing/page"
)

// A bar is a band on a gauge.
type bar struct {
	label              string
	low, nominal, high float64
	fill               fill
	// hasNoNominal leaves the thick stroke out: a range that has no middle worth
	// naming.
	hasNoNominal bool
}

// A limit is a value that bars are held against.
type limit struct {
	label string
	value float64
	// isMark draws it as a pointer to the scale: where the wrench is set.
	isMark bool
}

// A gauge shows bands against limits on one scale.
type gauge struct {
	title  string // with the unit
	bars   []bar
	limits []limit
	scale  axis
	// marks are ticks above the axis, as the graduations of a wrench.
	marks []float64
}

const (
	barHeight   = 32.0
	barGap      = 12.0
	limitHeight = 26.0
)

// dashes tell limits of one gauge apart.
var dashes = [...]string{"14 6", "4 5", "14 5 3 5"}

// draw draws the gauge at the place the picture has come to and moves below it.
// What is written comes last, on white, so that no line runs through it.
func (g gauge) draw(p *picture) {
	p.Paragraph(titleSize, true, g.title)
	p.Gap(4)
	top := p.Y + textSize + 2              // beside the first bar
	labels := make([]float64, len(g.bars)) // baselines
	for i, b := range g.bars {
		labels[i] = p.Y + textSize
		p.Y = labels[i] + 8
		g.drawBar(p, b)
		p.Y += barHeight + barGap
	}
	g.drawMarks(p)
	rows := p.Y + axisHeight
	limits := g.inRows()
	for i, l := range limits {
		g.drawLimit(p, l, top, p.Y, rows+float64(i+1)*limitHeight-4, g.dashOf(l))
	}
	g.scale.draw(p, p.Y)
	for i, b := range g.bars {
		p.Boxed(plotLeft, labels[i], textSize, start, false, b.label)
	}
	for i, l := range limits {
		g.nameLimit(p, l, rows+float64(i+1)*limitHeight-8)
	}
	p.Y = rows + float64(len(limits))*limitHeight + 18
}

// drawBar draws the band with its left and right end inside the plot.
func (g gauge) drawBar(p *picture, b bar) {
	const least = 3 // so that a narrow band is still seen
	left, right := g.scale.x(b.low), g.scale.x(b.high)
	left, right = max(left, plotLeft), min(right, plotRight)
	p.Rect(left, p.Y, max(right-left, least), barHeight, b.fill)
	if !b.hasNoNominal {
		x := g.scale.x(b.nominal)
		p.Line(x, p.Y-4, x, p.Y+barHeight+4, 8, "")
	}
}

// drawMarks draws the graduations as short strokes on the axis.
func (g gauge) drawMarks(p *picture) {
	if len(g.marks) == 0 {
		return
	}
	p.Y += 10
	for _, m := range g.marks {
		x := g.scale.x(m)
		p.Line(x, p.Y-14, x, p.Y, 2, "")
	}
}

// inRows sorts the limits so that no line runs through the name of another one,
// where that can be: a row takes the greatest whose name none of the limits
// below it crosses.
func (g gauge) inRows() []limit {
	rest := slices.Clone(g.limits)
	slices.SortStableFunc(rest, func(a, b limit) int { return cmp.Compare(b.value, a.value) })
	rows := make([]limit, 0, len(rest))
	for len(rest) > 0 {
		next := max(0, slices.IndexFunc(rest, func(l limit) bool { return !g.isCrossed(l, rest) }))
		rows = append(rows, rest[next])
		rest = slices.Delete(rest, next, next+1)
	}
	return rows
}

// isCrossed reports whether the line of a limit runs through the name of l.
func (g gauge) isCrossed(l limit, limits []limit) bool {
	at, x := g.nameAt(l)
	left, right := x, x+page.TextWidth(l.label, textSize, true)
	if at == end {
		left, right = x-(right-left), x
	}
	return slices.ContainsFunc(limits, func(other limit) bool {
		line := g.scale.x(other.value)
		return left < line && line < right
	})
}

// dashOf gives the limits their dashes from the greatest on, whatever the rows.
func (g gauge) dashOf(l limit) string {
	greater := 0
	for _, other := range g.limits {
		if other.value > l.value {
			greater++
		}
	}
	return dashes[greater%len(dashes)]
}

// drawLimit draws the line of a limit from top through the axis to foot.
func (g gauge) drawLimit(p *picture, l limit, top, at, foot float64, dash string) {
	x := g.scale.x(l.value)
	if !l.isMark {
		p.Line(x, top, x, foot, 4, dash)
		return
	}
	p.Line(x, at, x, foot, 4, "")
	p.Polygon(x, at, x-13, at-26, x+13, at-26)
}

// nameLimit writes the name of a limit beside its line.
func (g gauge) nameLimit(p *picture, l limit, y float64) {
	at, x := g.nameAt(l)
	p.Boxed(x, y, textSize, at, true, l.label)
}

// nameAt says where the name of a limit begins or ends: right of its line, or
// left of it where there is no room.
func (g gauge) nameAt(l limit) (at page.Anchor, x float64) {
	x = g.scale.x(l.value) + 10
	if x+page.TextWidth(l.label, textSize, true) > plotRight {
		return end, x - 20
	}
	return start, x
}

// valuesOf lists everything a scale has to show.
func valuesOf(bars []bar, limits []limit) []float64 {
	var values []float64
	for _, b := range bars {
		values = append(values, b.low, b.nominal, b.high)
	}
	for _, l := range limits {
		values = append(values, l.value)
	}
	return values
}

// words says the gauge in a sentence.
func (g gauge) words() string {
	text := g.title + ": "
	for i, b := range g.bars {
		if i > 0 {
			text += "; "
		}
		text += b.label
	}
	for _, l := range g.limits {
		if l.isMark {
			text += "; " + l.label
			continue
		}
		text += "; limit: " + l.label
	}
	return text
}
