package torque

import (
	"math/bits"
	"strings"
)

// Markings are checked with whole numbers of up to 128 bits instead of
// rationals, because a rational needs memory for every step and the common
// markings are to be read without any. The bounds below keep every product
// within 128 bits, so nothing is rounded either.

// Bounds of the numbers in a marking: with these every comparison fits in 128
// bits and needs no memory.
const (
	maxDecimalDigits = 15
	maxDecimalPlaces = 12
)

// decimal is coefficient·10^-places.
type decimal struct {
	coefficient uint64
	places      int
}

// parseDecimal reads digits with at most one point between them. It reports
// false for more digits than the bounds allow.
func parseDecimal(digits string) (decimal, bool) {
	var d decimal
	if at := strings.IndexByte(digits, '.'); at >= 0 {
		d.places = len(digits) - at - 1
	}
	significant := 0
	for i := range len(digits) {
		if digits[i] == '.' {
			continue
		}
		if significant > 0 || digits[i] != '0' {
			significant++
		}
		if significant > maxDecimalDigits {
			return decimal{}, false
		}
		d.coefficient = 10*d.coefficient + uint64(digits[i]-'0')
	}
	return d, d.places <= maxDecimalPlaces
}

// compare returns -1, 0 or 1 as d is below, equal to or above e.
func (d decimal) compare(e decimal) int {
	return product128(d.coefficient, 1).shift(e.places).compare(product128(e.coefficient, 1).shift(d.places))
}

// compareIn compares d, in a unit, with a torque.
func (d decimal) compareIn(unit Unit, t Torque) int {
	factor := unit.facts().factor
	left := product128(d.coefficient, factor.coefficient)
	right := product128(uint64(t), 1)
	// d·factor·10^-exponent·10^9 nN·m against t nN·m, kept in whole numbers.
	exponent := d.places + factor.exponent - nanoPlaces
	return left.shift(-exponent).compare(right.shift(exponent))
}

// wide is an unsigned 128-bit number.
type wide struct{ high, low uint64 }

// product128 returns a·b.
func product128(a, b uint64) wide {
	high, low := bits.Mul64(a, b)
	return wide{high, low}
}

// shift multiplies by 10^n, a negative n leaves w as it is. The bounds above keep the result below 2^128: at
// most 2e13 nN·m · 10^(12+21-9), or 1e15 · 10^12.
func (w wide) shift(n int) wide {
	for range max(n, 0) {
		carry, low := bits.Mul64(w.low, 10)
		w = wide{w.high*10 + carry, low}
	}
	return w
}

// compare returns -1, 0 or 1 as w is below, equal to or above v.
func (w wide) compare(v wide) int {
	switch {
	case w == v:
		return 0
	case w.high < v.high, w.high == v.high && w.low < v.low:
		return -1
	}
	return 1
}
