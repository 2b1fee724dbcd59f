package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The page, in px.
const (
	pageWidth = 960.0
	margin    = 40.0
	plotLeft  = margin
	plotRight = pageWidth - margin
	plotWidth = plotRight - plotLeft
)

// Sizes of text, in px; 16 is the least.
const (
	headSize  = 24.0
	titleSize = 20.0
	textSize  = 18.0
	smallSize = 16.0
)

// An anchor says which part of a text stands at its place.
type anchor string

const (
	start  anchor = "start"
	middle anchor = "middle"
	end    anchor = "end"
)

// A picture is a drawing under construction. It grows downward: y is where the
// next part begins. The first figure that is not a number is kept in err.
type picture struct {
	kind string // what all ids begin with
	y    float64
	body bytes.Buffer
	err  error
}

func newPicture(kind string) *picture { return &picture{kind: kind, y: margin} }

// num writes a coordinate with at most one decimal.
func (p *picture) num(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		if p.err == nil {
			p.err = fmt.Errorf("draw %s: %w", p.kind, ErrNotDrawable)
		}
		return "0"
	}
	text := strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

func (p *picture) rect(x, y, width, height float64, f fill) {
	fmt.Fprintf(&p.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="#000" stroke-width="2"/>`+"\n",
		p.num(x), p.num(y), p.num(width), p.num(height), f.paint(p.kind))
}

// line draws a stroke; dash is a pattern of SVG or empty.
func (p *picture) line(x1, y1, x2, y2, width float64, dash string) {
	fmt.Fprintf(&p.body, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#000" stroke-width="%s"`,
		p.num(x1), p.num(y1), p.num(x2), p.num(y2), p.num(width))
	if dash != "" {
		fmt.Fprintf(&p.body, ` stroke-dasharray="%s"`, dash)
	}
	p.body.WriteString("/>\n")
}

func (p *picture) circle(x, y, radius float64, f fill) {
	fmt.Fprintf(&p.body, `<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="#000" stroke-width="3"/>`+"\n",
		p.num(x), p.num(y), p.num(radius), f.paint(p.kind))
}

// polygon draws a black shape through pairs of coordinates.
func (p *picture) polygon(xy ...float64) {
	points := make([]string, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, p.num(xy[i])+","+p.num(xy[i+1]))
	}
	fmt.Fprintf(&p.body, `<polygon points="%s" fill="#000"/>`+"\n", strings.Join(points, " "))
}

// text writes one line of text with its baseline at y.
func (p *picture) text(x, y, size float64, at anchor, isBold bool, text string) {
	weight := ""
	if isBold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(&p.body, `<text x="%s" y="%s" font-size="%s" text-anchor="%s"%s>%s</text>`+"\n",
		p.num(x), p.num(y), p.num(size), at, weight, escaped(text))
}

// boxed writes a text on white, so that lines do not run through it.
func (p *picture) boxed(x, y, size float64, at anchor, isBold bool, text string) {
	width := textWidth(text, size, isBold)
	left := x
	switch at {
	case middle:
		left -= width / 2
	case end:
		left -= width
	case start:
	}
	fmt.Fprintf(&p.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`+"\n",
		p.num(left-3), p.num(y-size*0.85), p.num(width+6), p.num(size*1.15))
	p.text(x, y, size, at, isBold, text)
}

func escaped(text string) string {
	var out strings.Builder
	_ = xml.EscapeText(&out, []byte(text)) // a Builder takes everything
	return out.String()
}

// svg closes the picture. title names it in a line, description says what it
// shows.
func (p *picture) svg(title, description string) ([]byte, error) {
	height := p.num(p.y + margin/2)
	if p.err != nil {
		return nil, p.err
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %[1]s %[2]s" role="img" aria-labelledby="%[3]s-title %[3]s-desc" font-family="sans-serif">`+"\n",
		p.num(pageWidth), height, p.kind)
	fmt.Fprintf(&out, "<title id=\"%s-title\">%s</title>\n", p.kind, escaped(title))
	fmt.Fprintf(&out, "<desc id=\"%s-desc\">%s</desc>\n", p.kind, escaped(description))
	out.WriteString(hatches(p.kind))
	fmt.Fprintf(&out, `<rect width="%s" height="%s" fill="#fff"/>`+"\n", p.num(pageWidth), height)
	out.Write(p.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes(), nil
}
