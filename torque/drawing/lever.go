package drawing

import (
	"fmt"
	"math"
	"strconv"

	"github.com/tightwright/tightwright/torque/drawing/page"
	"github.com/tightwright/tightwright/torque/wrench"
)

// A lever is a wrench with an adapter, seen from above.
type lever struct {
	length, extension, radians float64
	wrench.AdapterDescription
}

const leverHeight = 190.0

func newLever(a wrench.AdapterDescription) (lever, error) {
	l := lever{AdapterDescription: a}
	degrees := 0.0
	for _, number := range []struct {
		text string
		to   *float64
	}{{a.Length, &l.length}, {a.Extension, &l.extension}, {a.AngleDegrees, &degrees}} {
		if number.text == "" {
			continue
		}
		value, err := strconv.ParseFloat(number.text, 64)
		if err != nil {
			return lever{}, fmt.Errorf("draw lever: %w", ErrNotDrawable)
		}
		*number.to = value
	}
	l.radians = degrees * math.Pi / 180
	return l, nil
}

// draw draws the lever to scale: the grip on the left, the drive, the adapter
// and the fastener at its end.
func (l lever) draw(p *picture) {
	reach, lift := l.length+l.extension*math.Cos(l.radians), l.extension*math.Sin(l.radians)
	left, right := min(0, reach), max(l.length, reach)
	scale := min(0.86*plotWidth/(right-left), (leverHeight-60)/math.Max(math.Abs(lift), 1e-9*l.length))
	x0 := plotLeft + (plotWidth-scale*(right-left))/2 - scale*left
	y0 := p.Y + 34 + scale*math.Max(0, lift)
	driveX, endX, endY := x0+scale*l.length, x0+scale*reach, y0-scale*lift
	p.Line(x0, y0, driveX, y0, 10, "")
	p.Rect(x0, y0-11, 0.25*scale*l.length, 22, falling)
	if l.extension > 0 {
		p.Line(driveX, y0, endX, endY, 16, "")
		p.WhiteLine(driveX, y0, endX, endY, 9)
	}
	p.Circle(driveX, y0, 9, solid)
	p.Circle(endX, endY, 14, crossed)
	p.Text(x0+0.55*scale*l.length, y0-16, textSize, middle, true, "L")
	if scale*l.extension > 60 {
		const aside = 24
		p.Text((driveX+endX)/2+aside*math.Sin(l.radians), (y0+endY)/2+aside*math.Cos(l.radians)+6, textSize, middle, true, "E")
	}
	p.Y = max(y0, endY) + 44
	l.dimension(p, x0, endX, reach)
	p.Paragraph(textSize, false, l.words())
	p.Gap(14)
}

// dimension draws what the hand's pull works over, below the lever.
func (l lever) dimension(p *picture, from, to, reach float64) {
	p.Line(from, p.Y, to, p.Y, 2, "")
	for _, x := range []float64{from, to} {
		p.Line(x, p.Y-9, x, p.Y+9, 2, "")
	}
	label := "L + E·cos a = " + figures(reach, 4) + " " + l.Unit.String()
	half := page.TextWidth(label, textSize, false) / 2
	p.Boxed(min(max((from+to)/2, plotLeft+half), plotRight-half), p.Y+28, textSize, middle, false, label)
	p.Y += 40
}

func (l lever) words() string {
	angle := l.AngleDegrees
	if angle == "" {
		angle = "0"
	}
	return fmt.Sprintf("L is %s %v from the middle of the grip to the drive, E is %s %v from the drive to the fastener, a is %s°.",
		l.Length, l.Unit, l.Extension, l.Unit, angle)
}
