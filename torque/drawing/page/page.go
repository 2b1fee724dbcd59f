package page

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Format is what a page is like before anything is on it.
type Format struct {
	// Kind is what all ids begin with: lower-case letters, digits and hyphens.
	Kind string
	// Width is the width of the page and Margin what stays free around it, in px.
	Width, Margin float64
	// Hatches are the fills that the drawing uses beside Blank and Solid.
	Hatches []Fill
}

// A Page is a drawing under construction. It grows downward: Y is where the next
// part begins. The first coordinate that is not a number is kept and fails
// [Page.SVG].
type Page struct {
	// Y is where the next part begins, in px from the top.
	Y float64

	format Format
	body   bytes.Buffer
	err    error
}

// New returns an empty page that begins below its margin.
func New(f Format) *Page { return &Page{Y: f.Margin, format: f} }

// Left and Right are the edges of what may be drawn on, Width is between them.
func (p *Page) Left() float64 { return p.format.Margin }

// Right is the right edge of what may be drawn on.
func (p *Page) Right() float64 { return p.format.Width - p.format.Margin }

// Width is how much there is from Left to Right.
func (p *Page) Width() float64 { return p.format.Width - 2*p.format.Margin }

// An Anchor says which part of a text stands at its place.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Num writes a coordinate with at most one decimal.
func (p *Page) Num(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		if p.err == nil {
			p.err = fmt.Errorf("draw %s: %w", p.format.Kind, ErrNotDrawable)
		}
		return "0"
	}
	text := strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

// Rect draws a rectangle with an outline of 2 px.
func (p *Page) Rect(x, y, width, height float64, f Fill) {
	fmt.Fprintf(&p.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="#000" stroke-width="2"/>`+"\n",
		p.Num(x), p.Num(y), p.Num(width), p.Num(height), p.paint(f))
}

// Line draws a stroke; dash is a pattern of SVG or empty.
func (p *Page) Line(x1, y1, x2, y2, width float64, dash string) {
	fmt.Fprintf(&p.body, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#000" stroke-width="%s"`,
		p.Num(x1), p.Num(y1), p.Num(x2), p.Num(y2), p.Num(width))
	if dash != "" {
		fmt.Fprintf(&p.body, ` stroke-dasharray="%s"`, dash)
	}
	p.body.WriteString("/>\n")
}

// WhiteLine draws a white stroke, to open what is black.
func (p *Page) WhiteLine(x1, y1, x2, y2, width float64) {
	fmt.Fprintf(&p.body, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#fff" stroke-width="%s"/>`+"\n",
		p.Num(x1), p.Num(y1), p.Num(x2), p.Num(y2), p.Num(width))
}

// Circle draws a circle with an outline of 3 px.
func (p *Page) Circle(x, y, radius float64, f Fill) {
	fmt.Fprintf(&p.body, `<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="#000" stroke-width="3"/>`+"\n",
		p.Num(x), p.Num(y), p.Num(radius), p.paint(f))
}

// Polygon draws a black shape through pairs of coordinates.
func (p *Page) Polygon(xy ...float64) {
	fmt.Fprintf(&p.body, `<polygon points="%s" fill="#000"/>`+"\n", p.points(xy))
}

// Shape draws a closed outline of 2 px through pairs of coordinates, filled.
func (p *Page) Shape(f Fill, xy ...float64) {
	fmt.Fprintf(&p.body, `<polygon points="%s" fill="%s" stroke="#000" stroke-width="2"/>`+"\n", p.points(xy), p.paint(f))
}

func (p *Page) points(xy []float64) string {
	points := make([]string, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, p.Num(xy[i])+","+p.Num(xy[i+1]))
	}
	return strings.Join(points, " ")
}

// A Point is a place on the page, in px from its upper left corner.
type Point struct{ X, Y float64 }

// Bend draws a stroke from one point to another that leans toward a third.
func (p *Page) Bend(from, toward, to Point, width float64) {
	fmt.Fprintf(&p.body, `<path d="M%s,%s Q%s,%s %s,%s" fill="none" stroke="#000" stroke-width="%s"/>`+"\n",
		p.Num(from.X), p.Num(from.Y), p.Num(toward.X), p.Num(toward.Y), p.Num(to.X), p.Num(to.Y), p.Num(width))
}

// Arc draws a part of a circle around a point, from one angle to a greater one,
// in degrees clockwise from the right, less than a whole turn.
func (p *Page) Arc(center Point, radius, from, to, width float64) {
	at := func(degrees float64) (x, y string) {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return p.Num(center.X + radius*cos), p.Num(center.Y + radius*sin)
	}
	large := 0
	if to-from > 180 {
		large = 1
	}
	x1, y1 := at(from)
	x2, y2 := at(to)
	fmt.Fprintf(&p.body, `<path d="M%s,%s A%s,%[3]s 0 %d 1 %s,%s" fill="none" stroke="#000" stroke-width="%s"/>`+"\n",
		x1, y1, p.Num(radius), large, x2, y2, p.Num(width))
}

// Text writes one line of text with its baseline at y.
func (p *Page) Text(x, y, size float64, at Anchor, isBold bool, text string) {
	p.text(x, y, size, at, isBold, text, "")
}

// WhiteText is Text in white, for a place that is black.
func (p *Page) WhiteText(x, y, size float64, at Anchor, isBold bool, text string) {
	p.text(x, y, size, at, isBold, text, ` fill="#fff"`)
}

func (p *Page) text(x, y, size float64, at Anchor, isBold bool, text, paint string) {
	weight := ""
	if isBold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(&p.body, `<text x="%s" y="%s" font-size="%s" text-anchor="%s"%s%s>%s</text>`+"\n",
		p.Num(x), p.Num(y), p.Num(size), at, weight, paint, escaped(text))
}

// Boxed writes a text on white, so that lines do not run through it.
func (p *Page) Boxed(x, y, size float64, at Anchor, isBold bool, text string) {
	width := TextWidth(text, size, isBold)
	left := x
	switch at {
	case Middle:
		left -= width / 2
	case End:
		left -= width
	case Start:
	}
	fmt.Fprintf(&p.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`+"\n",
		p.Num(left-3), p.Num(y-size*0.85), p.Num(width+6), p.Num(size*1.15))
	p.Text(x, y, size, at, isBold, text)
}

func escaped(text string) string {
	var out strings.Builder
	_ = xml.EscapeText(&out, []byte(text)) // a Builder takes everything
	return out.String()
}

// SVG closes the page, half a margin below Y. title names the drawing in a line,
// description says what it shows.
//
// Errors: [ErrNotDrawable].
func (p *Page) SVG(title, description string) ([]byte, error) {
	height := p.Num(p.Y + p.format.Margin/2)
	if p.err != nil {
		return nil, p.err
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %[1]s %[2]s" role="img" aria-labelledby="%[3]s-title %[3]s-desc" font-family="sans-serif">`+"\n",
		p.Num(p.format.Width), height, p.format.Kind)
	fmt.Fprintf(&out, "<title id=\"%s-title\">%s</title>\n", p.format.Kind, escaped(title))
	fmt.Fprintf(&out, "<desc id=\"%s-desc\">%s</desc>\n", p.format.Kind, escaped(description))
	out.WriteString(p.hatches())
	fmt.Fprintf(&out, `<rect width="%s" height="%s" fill="#fff"/>`+"\n", p.Num(p.format.Width), height)
	out.Write(p.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes(), nil
}
