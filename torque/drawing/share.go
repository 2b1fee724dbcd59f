package drawing

import "fmt"

// A part is a share of a whole.
type part struct {
	label string
	value float64
	fill  fill
}

// A split shows what a whole is made of, as one bar and a legend.
type split struct {
	title string
	unit  string // as in "N·m"
	parts []part
}

const (
	splitHeight  = 46.0
	legendHeight = 28.0
	swatchWidth  = 44.0
)

// draw draws the split at the place the picture has come to and moves below it.
// Parts below zero count as nothing; a whole of nothing has an empty bar.
func (s split) draw(p *picture) {
	p.Paragraph(titleSize, true, s.title)
	p.Gap(8)
	whole := s.whole()
	p.Rect(plotLeft, p.Y, plotWidth, splitHeight, blank)
	x := plotLeft
	for _, one := range s.parts {
		if width := plotWidth * one.share(whole); width != 0 {
			p.Rect(x, p.Y, width, splitHeight, one.fill)
			x += width
		}
	}
	p.Y += splitHeight + 10
	for _, one := range s.parts {
		p.Rect(plotLeft, p.Y+2, swatchWidth, 20, one.fill)
		p.Text(plotLeft+swatchWidth+12, p.Y+textSize, textSize, start, false, s.legend(one, whole))
		p.Y += legendHeight
	}
	p.Gap(14)
}

func (s split) whole() float64 {
	sum := 0.0
	for _, one := range s.parts {
		sum += max(0, one.value)
	}
	return sum
}

func (one part) share(whole float64) float64 {
	if whole == 0 {
		return 0
	}
	return max(0, one.value) / whole
}

func (s split) legend(one part, whole float64) string {
	return fmt.Sprintf("%s: %s %s, %s", one.label, figures(one.value, 3), s.unit, percent(one.share(whole)))
}

// words says the split in a sentence.
func (s split) words() string {
	text := s.title + ": "
	whole := s.whole()
	for i, one := range s.parts {
		if i > 0 {
			text += "; "
		}
		text += s.legend(one, whole)
	}
	return text
}
