package sketch

import (
	"strings"

	"github.com/tightwright/tightwright/torque/drawing/page"
)

// A label is the name of a bolt, in lines.
type label struct {
	lines []string
	x     float64
	top   float64
	at    page.Anchor
}

func (l label) box() box {
	width := 0.0
	for _, line := range l.lines {
		width = max(width, page.TextWidth(line, smallSize, true))
	}
	left := l.x
	switch l.at {
	case page.Middle:
		left -= width / 2
	case page.End:
		left -= width
	case page.Start:
	}
	return box{left, l.top, left + width, l.top + float64(len(l.lines))*lineHeight}
}

// nameLines breaks a name to a width, at its spaces and behind its hyphens.
func nameLines(name string, width float64) []string {
	var lines []string
	for _, line := range page.Wrapped(strings.ReplaceAll(boltName(name), "-", "- "), width, smallSize, true) {
		lines = append(lines, strings.ReplaceAll(line, "- ", "-"))
	}
	return lines
}

// widest is how wide the names beside a ring are.
func widest(bolts []string) float64 {
	width := 0.0
	for _, name := range bolts {
		for _, line := range nameLines(name, labelWidth) {
			width = max(width, page.TextWidth(line, smallSize, true))
		}
	}
	return width
}

func beside(name string, at page.Point, anchor page.Anchor, width float64) label {
	lines := nameLines(name, width)
	x := at.X + boltRadius + labelAside
	if anchor == page.End {
		x = at.X - boltRadius - labelAside
	}
	return label{lines, x, at.Y - float64(len(lines))*lineHeight/2, anchor}
}

func underOrOver(lines []string, at page.Point, isOver bool) label {
	top := at.Y + boltRadius + labelAside
	if isOver {
		top = at.Y - boltRadius - labelAside - float64(len(lines))*lineHeight
	}
	return label{lines, at.X, top, page.Middle}
}

// outside sets a name on the far side of a bolt from the middle of a ring.
func outside(name string, at page.Point, sin, cos float64) label {
	switch {
	case cos > 0.3:
		return beside(name, at, page.Start, labelWidth)
	case cos < -0.3:
		return beside(name, at, page.End, labelWidth)
	default:
		return underOrOver(nameLines(name, 2*labelWidth), at, sin < 0)
	}
}
