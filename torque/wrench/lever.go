package wrench

import (
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// ratio is the setting for one unit of torque at the fastener, L/(L + E·cos a):
// exactly low/den = high/den, or between the two where the cosine is not
// rational. low and high are below 2^56 and den below 2^50.
type ratio struct{ low, high, den uint64 }

// ratioBetween encloses what lies from low to high, both positive and at most
// 10. Small fractions are kept as they are.
func ratioBetween(low, high *big.Rat) ratio {
	const den = 1_000_000_000_000_000
	if low.Cmp(high) == 0 && low.Num().BitLen() <= 56 && low.Denom().BitLen() <= 50 {
		return ratio{low.Num().Uint64(), low.Num().Uint64(), low.Denom().Uint64()}
	}
	scale := new(big.Rat).SetInt64(den)
	bottom := wholeBelow(new(big.Rat).Mul(low, scale))
	top := wholeBelow(new(big.Rat).Mul(high, scale))
	return ratio{bottom.Uint64(), top.Uint64() + 1, den}
}

func wholeBelow(value *big.Rat) *big.Int { return new(big.Int).Div(value.Num(), value.Denom()) }

// settings returns the settings whose delivered torque at the fastener stays
// from min to max when the tool is off by at most d: the exact min·r·(1+d)
// rounded up to max·r·(1-d) rounded down. The products are below
// 2^50·2^56·2^21.
func (r ratio) settings(min, max torque.Torque, d Deviation) (low, high torque.Torque) {
	whole := uint64(deviationWhole)
	low = torque.Torque(product(uint64(min), r.high).times(whole + d.size()).ceilOver(r.den).ceilOver(whole).clamped())
	high = torque.Torque(product(uint64(max), r.low).times(whole - d.size()).floorOver(r.den).floorOver(whole).clamped())
	return low, high
}

// setting returns the setting nearest to a torque at the fastener.
func (r ratio) setting(t torque.Torque) torque.Torque {
	return torque.Torque(product(uint64(max(t, 0)), r.low).evenOver(r.den).clamped())
}

// delivered returns what comes to the fastener at a setting, d either way,
// rounded outwards to whole nanonewton meters.
func (r ratio) delivered(setting torque.Torque, d Deviation) (least, most torque.Torque) {
	whole := uint64(deviationWhole)
	base := product(uint64(setting), r.den).times(whole)
	least = torque.Torque(base.floorOver(whole + d.size()).floorOver(r.high).clamped())
	most = torque.Torque(base.ceilOver(whole - d.size()).ceilOver(max(r.low, 1)).clamped())
	return least, most
}

// delivery turns limits at the fastener, in half nanonewton meters, into ticks
// of a scale. It is exact without an adapter, and with one whose ratio is a
// small fraction. Else it errs inward, by less than 2^-54 of a tick for each
// half nanonewton meter.
type delivery struct{ low, high fraction }

type fraction struct {
	num, den uint64 // below 2^63
	exact    bool
}

// newDelivery works out r·(1+d) and r·(1-d) in ticks per half nanonewton meter.
func newDelivery(g *grid, low, high *big.Rat, d Deviation) delivery {
	ticks := new(big.Rat).SetFrac(new(big.Int).SetUint64(g.den), new(big.Int).SetUint64(g.num))
	ticks.Quo(ticks, big.NewRat(2, 1))
	more := big.NewRat(int64(deviationWhole+d), int64(deviationWhole))
	less := big.NewRat(int64(deviationWhole-d), int64(deviationWhole))
	return delivery{
		low:  newFraction(more.Mul(more.Mul(more, high), ticks), 1),
		high: newFraction(less.Mul(less.Mul(less, low), ticks), 0),
	}
}

// plainDelivery is newDelivery without an adapter, in 64 bits.
func plainDelivery(g *grid, d Deviation) delivery {
	return delivery{smallFraction(uint64(deviationWhole+d), g), smallFraction(uint64(deviationWhole-d), g)}
}

// smallFraction is parts/10^6 · den/(2·num), reduced; num and den have nothing
// in common already. It always fits: den holds powers of 2 and 5 alone, which
// cancel those of 10^6, so the upper product stays below 1e15, and the lower
// below 2e18, which a kilonewton meter without decimals makes.
func smallFraction(parts uint64, g *grid) fraction {
	whole := uint64(deviationWhole)
	common := gcd(parts, whole)
	parts, whole = parts/common, whole/common
	common = gcd(parts, g.num)
	parts, num := parts/common, g.num/common
	common = gcd(g.den, 2*whole)
	return fraction{parts * (g.den / common), num * (2 * whole / common), true}
}

// newFraction keeps a fraction of 63 bits as it is. Else it is cut to as many
// bits as there are, and up is added to the last.
func newFraction(value *big.Rat, up uint64) fraction {
	if value.Num().BitLen() <= 63 && value.Denom().BitLen() <= 63 {
		return fraction{value.Num().Uint64(), value.Denom().Uint64(), true}
	}
	den := uint64(1) << (62 - wholeBelow(value).BitLen())
	cut := wholeBelow(new(big.Rat).Mul(value, new(big.Rat).SetInt(new(big.Int).SetUint64(den))))
	return fraction{cut.Uint64() + up, den, false}
}

// from returns the lowest tick that delivers at least min, to the highest that
// delivers at most max, however far off the tool is. What is delivered counts
// as the Torque nearest to it, ties to even: half a nanonewton meter outside a
// limit is still the limit, and at exactly half it is when the limit is even.
// The products are below 2^52·2^63.
func (d *delivery) from(min torque.Torque) uint64 {
	if min <= 0 {
		return 0
	}
	whole, rest := product(uint64(2*min-1), d.low.num).over(d.low.den)
	if rest > 0 || d.low.exact && min&1 == 1 {
		whole = whole.plus(wide{low: 1})
	}
	return uint64(whole.clamped())
}

func (d *delivery) to(max torque.Torque) uint64 {
	whole, rest := product(uint64(2*max+1), d.high.num).over(d.high.den)
	if rest == 0 && d.high.exact && max&1 == 1 && whole != (wide{}) {
		whole = whole.minus(wide{low: 1})
	}
	return uint64(whole.clamped())
}
