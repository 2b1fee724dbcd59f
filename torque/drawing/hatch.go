package drawing

import (
	"fmt"
	"strings"
)

// A fill stands for a color, and is told from the others in black and white.
type fill uint8

const (
	blank   fill = iota // white
	solid               // black
	rising              // strokes from lower left to upper right
	falling             // strokes from upper left to lower right
	dotted
	crossed
)

var hatchNames = [...]string{rising: "rising", falling: "falling", dotted: "dotted", crossed: "crossed"}

// paint returns the value of a fill attribute in a drawing of a kind.
func (f fill) paint(kind string) string {
	switch f {
	case blank:
		return "#fff"
	case solid:
		return "#000"
	default:
		return "url(#" + kind + "-" + hatchNames[f] + ")"
	}
}

// hatches defines the patterns of a drawing of a kind. Each is a tile of 10 px.
func hatches(kind string) string {
	const stroke = `<path d="%s" stroke="#000" stroke-width="%s" fill="none"/>`
	tiles := []struct {
		fill fill
		art  string
	}{
		{rising, fmt.Sprintf(stroke, "M-2,2 L2,-2 M0,10 L10,0 M8,12 L12,8", "2.5")},
		{falling, fmt.Sprintf(stroke, "M-2,8 L2,12 M0,0 L10,10 M8,-2 L12,2", "2.5")},
		{dotted, `<circle cx="2.5" cy="2.5" r="1.7" fill="#000"/><circle cx="7.5" cy="7.5" r="1.7" fill="#000"/>`},
		{crossed, fmt.Sprintf(stroke, "M0,10 L10,0 M0,0 L10,10", "1.5")},
	}
	var out strings.Builder
	out.WriteString("<defs>\n")
	for _, tile := range tiles {
		fmt.Fprintf(&out, `<pattern id="%s-%s" width="10" height="10" patternUnits="userSpaceOnUse"><rect width="10" height="10" fill="#fff"/>%s</pattern>`+"\n",
			kind, hatchNames[tile.fill], tile.art)
	}
	out.WriteString("</defs>\n")
	return out.String()
}
