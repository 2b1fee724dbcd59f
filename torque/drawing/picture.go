package drawing

import "github.com/tightwright/tightwright/torque/drawing/page"

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

// Anchors and fills, as the page has them.
type fill = page.Fill

const (
	start  = page.Start
	middle = page.Middle
	end    = page.End

	blank   = page.Blank
	solid   = page.Solid
	rising  = page.Rising
	falling = page.Falling
	dotted  = page.Dotted
	crossed = page.Crossed
)

// A picture is a page of this package under construction.
type picture struct{ *page.Page }

func newPicture(kind string) *picture {
	return &picture{page.New(page.Format{Kind: kind, Width: pageWidth, Margin: margin, Hatches: []fill{rising, falling, dotted, crossed}})}
}
