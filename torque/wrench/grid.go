package wrench

import (
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// maxPlaces bounds the decimals of a scale. Together with the range of
// [torque.Torque] it keeps every product below 128 bits; the bounds stand
// beside the methods of grid.
const maxPlaces = 6

// grid is a row of marks in whole ticks, a tick being 10^-places of the unit.
// Mark k stands at first + k·step, k from 0 to last; the tool is used from
// mark least on. Ticks are at most 1.1e16 (1e6 N·m in gf·cm, six places).
type grid struct {
	unit          torque.Unit
	places, shown int // of a tick, of a mark as it is written
	first, step   uint64
	least, last   uint64
	// A tick is num/den nanonewton meters, in lowest terms: num is at most
	// 3.4e15 (lbf·ft), den at most 1.6e14 (ozf·in with six places).
	num, den uint64
	// The ends of use, which need not be on a mark.
	lowest, highest torque.Torque
}

// newGrid returns the marks from low to high, used from leastPercent of high
// on. The caller has seen to the decimals, the order and the range.
func newGrid(unit torque.Unit, low, high, step decimal, leastPercent uint64) grid {
	places := max(low.places, high.places, step.places)
	g := grid{unit: unit, places: places, shown: max(low.places, step.places)}
	g.num, g.den = tickOf(unit, places)
	top := high.at(places)
	g.first, g.step = low.at(places), step.at(places)
	g.last = (top - g.first) / g.step
	g.least = g.from((top*leastPercent + 99) / 100)
	bottom := product(top*leastPercent, g.num).evenOver(100 * g.den)
	g.lowest = max(torque.Torque(bottom.clamped()), g.torqueOf(g.first))
	g.highest = g.torqueOf(top)
	return g
}

// tickOf returns a tick in nanonewton meters, in lowest terms. Most scales are
// in newton meters, where it needs no rational.
func tickOf(unit torque.Unit, places int) (num, den uint64) {
	if unit == torque.NewtonMeters {
		return uint64(torque.NewtonMeter) / power10(places), 1
	}
	tick := new(big.Rat).Mul(unit.Factor(), big.NewRat(int64(torque.NewtonMeter), int64(power10(places))))
	return tick.Num().Uint64(), tick.Denom().Uint64()
}

// isTooFine reports whether marks are less than a nanonewton meter apart, so
// that they could not be told apart as Torques.
func (g *grid) isTooFine() bool { return product(g.step, g.num).less(wide{low: g.den}) }

// from returns the number of the first mark at or above a tick.
func (g *grid) from(tick uint64) uint64 {
	if tick <= g.first {
		return 0
	}
	return (tick - g.first + g.step - 1) / g.step
}

// to returns the number of the last mark at or below a tick, which is not
// below the first mark.
func (g *grid) to(tick uint64) uint64 { return (tick - g.first) / g.step }

func (g *grid) tick(k uint64) uint64 { return g.first + k*g.step }

// torqueOf returns the Torque nearest to a tick, ties to even. The product is
// below 2^54·2^52.
func (g *grid) torqueOf(tick uint64) torque.Torque {
	return torque.Torque(product(tick, g.num).evenOver(g.den).clamped())
}

// nearest returns the number of the mark nearest to t, the higher of two
// equally near ones, whether or not the scale reaches it.
func (g *grid) nearest(t torque.Torque) uint64 {
	aim, first := product(uint64(max(t, 0)), g.den), product(g.first, g.num)
	if aim.less(first) {
		return 0
	}
	twice := aim.minus(first).times(2).plus(product(g.step, g.num))
	return uint64(twice.floorOver(2 * g.num).floorOver(g.step).clamped())
}

// figure writes mark k with the decimals of the scale.
func (g *grid) figure(k uint64) torque.Figure {
	var room [32]byte
	at, rest := len(room), g.tick(k)/power10(g.places-g.shown)
	for i := 0; rest > 0 || i <= g.shown; i++ {
		if i == g.shown && i > 0 {
			at--
			room[at] = '.'
		}
		at--
		room[at] = '0' + byte(rest%10)
		rest /= 10
	}
	figure, _ := torque.ParseFigure(string(room[at:]), g.unit) // cannot fail: digits and one point
	return figure
}
