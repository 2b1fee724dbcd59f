package wrench

import "math/bits"

// wide is an unsigned 128-bit number, so that scales and limits compare
// exactly without memory. Its methods do not watch for overflow: at each use
// the bounds of the inputs, checked by the constructors, keep it away.
type wide struct{ high, low uint64 }

// product returns a·b, which always fits.
func product(a, b uint64) wide {
	high, low := bits.Mul64(a, b)
	return wide{high, low}
}

func (w wide) times(m uint64) wide {
	carry, low := bits.Mul64(w.low, m)
	return wide{w.high*m + carry, low}
}

func (w wide) plus(v wide) wide {
	low, carry := bits.Add64(w.low, v.low, 0)
	high, _ := bits.Add64(w.high, v.high, carry)
	return wide{high, low}
}

// minus returns w-v, where v is at most w.
func (w wide) minus(v wide) wide {
	low, borrow := bits.Sub64(w.low, v.low, 0)
	high, _ := bits.Sub64(w.high, v.high, borrow)
	return wide{high, low}
}

func (w wide) less(v wide) bool {
	return w.high < v.high || w.high == v.high && w.low < v.low
}

// over returns the whole part and the rest of w/d. Divisions can follow one
// another: the floor of a floor is the floor of the whole, and so for ceilings.
func (w wide) over(d uint64) (whole wide, rest uint64) {
	high, rest := w.high/d, w.high%d
	low, rest := bits.Div64(rest, w.low, d)
	return wide{high, low}, rest
}

func (w wide) floorOver(d uint64) wide {
	whole, _ := w.over(d)
	return whole
}

func (w wide) ceilOver(d uint64) wide {
	whole, rest := w.over(d)
	if rest > 0 {
		return whole.plus(wide{low: 1})
	}
	return whole
}

// evenOver returns w/d to the nearest whole number, ties to even.
func (w wide) evenOver(d uint64) wide {
	whole, rest := w.over(d)
	if up := d - rest; rest > up || rest == up && whole.low&1 == 1 {
		return whole.plus(wide{low: 1})
	}
	return whole
}

// clamped returns the number, at most the greatest int64.
func (w wide) clamped() int64 {
	const most = 1<<63 - 1
	if w.high > 0 || w.low > most {
		return most
	}
	return int64(w.low)
}

// gcd of two numbers above zero.
func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
