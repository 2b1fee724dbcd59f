package page

import (
	"fmt"
	"strings"
)

// A Fill stands for a color, and is told from the others in black and white.
type Fill uint8

// The fills. Blank is white, Solid black; the others are hatches, which a page
// defines only where its [Format] lists them.
const (
	Blank Fill = iota
	Solid
	Rising  // strokes from lower left to upper right
	Falling // strokes from upper left to lower right
	Dotted
	Crossed
	Waved   // waves from left to right
	Ringed  // small rings
	Grained // small triangles, like grit
	Bricked // laid like bricks
	Thin    // thin rising strokes, for metal that is cut through
)

const hatchStroke = `<path d="%s" stroke="#000" stroke-width="%s" fill="none"/>`

// tile is the name of a hatch and its art on a tile of 10 px.
func (f Fill) tile() (name, art string) {
	switch f {
	case Rising:
		return "rising", fmt.Sprintf(hatchStroke, "M-2,2 L2,-2 M0,10 L10,0 M8,12 L12,8", "2.5")
	case Falling:
		return "falling", fmt.Sprintf(hatchStroke, "M-2,8 L2,12 M0,0 L10,10 M8,-2 L12,2", "2.5")
	case Dotted:
		return "dotted", `<circle cx="2.5" cy="2.5" r="1.7" fill="#000"/><circle cx="7.5" cy="7.5" r="1.7" fill="#000"/>`
	case Crossed:
		return "crossed", fmt.Sprintf(hatchStroke, "M0,10 L10,0 M0,0 L10,10", "1.5")
	case Waved:
		return "waved", fmt.Sprintf(hatchStroke, "M-1,3 Q2.5,-1 5,3 T11,3 M-1,8 Q2.5,4 5,8 T11,8", "1.8")
	case Ringed:
		return "ringed", `<circle cx="5" cy="5" r="3" fill="none" stroke="#000" stroke-width="1.5"/>`
	case Grained:
		return "grained", `<path d="M1,5 L3,1 L5,5 Z M6,9.5 L8,5.5 L10,9.5 Z" fill="#000"/>`
	case Bricked:
		return "bricked", fmt.Sprintf(hatchStroke, "M0,0.8 H10 M0,5.8 H10 M2.5,0.8 V5.8 M7.5,5.8 V10", "1.5")
	case Thin:
		return "thin", fmt.Sprintf(hatchStroke, "M-1,1 L1,-1 M0,10 L10,0 M9,11 L11,9", "0.8")
	default:
		return "", ""
	}
}

// paint returns the value of a fill attribute.
func (p *Page) paint(f Fill) string {
	switch f {
	case Blank:
		return "#fff"
	case Solid:
		return "#000"
	default:
		name, _ := f.tile()
		return "url(#" + p.format.Kind + "-" + name + ")"
	}
}

// hatches defines the patterns of the page.
func (p *Page) hatches() string {
	if len(p.format.Hatches) == 0 {
		return ""
	}
	var out strings.Builder
	out.WriteString("<defs>\n")
	for _, f := range p.format.Hatches {
		name, art := f.tile()
		fmt.Fprintf(&out, `<pattern id="%s-%s" width="10" height="10" patternUnits="userSpaceOnUse"><rect width="10" height="10" fill="#fff"/>%s</pattern>`+"\n",
			p.format.Kind, name, art)
	}
	out.WriteString("</defs>\n")
	return out.String()
}
