package drawing

import (
	"math"
	"strconv"
)

// An axis is a straight scale from low to high across the page.
type axis struct{ low, high float64 }

// axisTo returns the axis from zero with room above the greatest of some values.
func axisTo(values ...float64) axis {
	top := 0.0
	for _, v := range values {
		if v > top || math.IsNaN(v) { // a NaN is kept, for [page.Page.Num] to find
			top = v
		}
	}
	const least = 1e-12 // below it there is nothing to be seen
	if top < least {
		top = 1
	}
	return axis{0, 1.08 * top}
}

// axisAround returns the axis that shows values from low to high near enough to
// be read, with room at both ends; it begins at zero where that is not far off.
func axisAround(low, high float64) axis {
	if high <= 0 {
		return axisTo(high)
	}
	room := 0.15 * (high - low)
	if room == 0 {
		room = 0.15 * high
	}
	if low-room < 0.4*high {
		return axis{0, high + room}
	}
	return axis{low - room, high + room}
}

// x is where a value lies on the page.
func (a axis) x(value float64) float64 {
	return plotLeft + plotWidth*(value-a.low)/(a.high-a.low)
}

// step is a round distance between ticks, so that there are four to nine of
// them.
func (a axis) step() float64 {
	span := a.high - a.low
	unit := math.Pow(10, math.Floor(math.Log10(span)))
	for _, factor := range []float64{0.1, 0.2, 0.5, 1} {
		if span/(factor*unit) <= 9 {
			return factor * unit
		}
	}
	return 2 * unit
}

// draw draws the axis at y with its ticks and their figures, which take
// axisHeight.
func (a axis) draw(p *picture, y float64) {
	p.Line(plotLeft, y, plotRight, y, 3, "")
	step := a.step()
	places := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	first := math.Ceil(a.low/step - 1e-9)
	for i := 0.0; i < 20; i++ { // never more than nine, and no endless loop on a NaN
		value := (first + i) * step
		if !(value <= a.high) {
			break
		}
		x := a.x(value)
		p.Line(x, y, x, y+8, 2, "")
		p.Boxed(x, y+26, smallSize, middle, false, strconv.FormatFloat(value, 'f', places, 64))
	}
}

const axisHeight = 34.0
