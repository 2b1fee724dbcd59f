// Package page is the sheet of paper of this project's drawings: black and white
// SVG that grows downward, with hatching where others take a color, and texts
// whose room is known before they are written.
//
//	p := page.New(page.Format{Kind: "order", Width: 360, Margin: 12})
//	p.Paragraph(18, true, "Tighten in this order")
//	p.Circle(180, p.Y+40, 20, page.Blank)
//	p.Y += 80
//	svg, err := p.SVG("Order of two bolts", "First the left bolt, then the right one.")
//
// A drawing names itself in its title element and says in its desc element what
// it shows, for a screen reader. It asks for no font, no script and no file from
// elsewhere, and all its ids begin with the kind of the drawing, so that drawings
// of different kinds can stand in one page.
//
// The package does no I/O. A page is for one goroutine.
package page

import "errors"

// ErrNotDrawable says that a coordinate is not a number, or that there is
// nothing to draw.
var ErrNotDrawable = errors.New("not drawable")
