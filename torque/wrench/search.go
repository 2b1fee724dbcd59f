package wrench

import (
	"math"

	"github.com/tightwright/tightwright/torque"
)

// leastReading is the smallest: no torque at all is no reading.
const leastReading = torque.NanonewtonMeter

// search finds where the outcome changes. The conformance probability rises to
// a peak and falls again: with u² = f² + (s·y)² the standardized limits
// (T_U-y)/u and (T_L-y)/u fall as y grows, and the derivative of p_c has one
// zero only. So the readings that conform, and those that are possible, are
// intervals around the peak.
type search struct {
	level  Level
	window torque.Window
	u      Uncertainty
}

// is reports whether a reading has that outcome or a better one.
func (s *search) is(reading torque.Torque, worst Outcome) bool {
	return s.level.outcome(tailsOf(s.window, reading, s.u)) <= worst
}

// top returns a reading that conforms if any does. Half way between the limits
// that hold for one tail each is good enough as a rule; else it is the peak.
func (s *search) top() torque.Torque {
	low, hasLow := s.window.Min()
	high, hasHigh := s.window.Max()
	if hasLow && hasHigh {
		z := s.level.Z()
		half := (s.guess(float64(low), z) + s.guess(float64(high), -z)) / 2
		if at := nearestWithin(half, max(low, leastReading), high); s.is(at, Conforming) {
			return at
		}
	}
	return s.peak()
}

// peak returns the reading most likely to conform. With one limit it is the
// far end.
func (s *search) peak() torque.Torque {
	low, hasLow := s.window.Min()
	high, hasHigh := s.window.Max()
	switch {
	case !hasLow:
		return leastReading
	case !hasHigh:
		return torque.MaxWire
	case s.u.share == 0:
		return max(low+(high-low)/2, leastReading)
	}
	// Halve the interval by the sign of the derivative; the peak is not above
	// the middle, because u grows with the reading.
	from, to := low, low+(high-low)/2
	for from < to {
		middle := from + (to-from)/2
		if s.rises(float64(middle), float64(low), float64(high)) {
			from = middle + 1
		} else {
			to = middle
		}
	}
	return max(from, leastReading)
}

// rises is the sign of d p_c/dy, that of φ(z_L)·(f² + s²·y·T_L) -
// φ(z_U)·(f² + s²·y·T_U), taken in logarithms.
func (s *search) rises(y, low, high float64) bool {
	u := s.u.nano(y)
	if u == 0 {
		return true
	}
	fixed, square := s.u.fixedNewtonMeters*float64(torque.NewtonMeter), s.u.share*s.u.share
	zLow, zHigh := (low-y)/u, (high-y)/u
	ratio := (fixed*fixed + square*y*low) / (fixed*fixed + square*y*high)
	return math.Log(ratio) > (zLow*zLow-zHigh*zHigh)/2
}

// interval returns the readings around the top with that outcome or a better
// one; ok is false where there are none.
func (s *search) interval(top torque.Torque, worst Outcome) (window torque.Window, ok bool) {
	if !s.is(top, worst) {
		return torque.Window{}, false
	}
	inward := s.level.Z()
	if worst == Undecided {
		inward = -inward
	}
	low, hasLow := s.window.Min()
	high, hasHigh := s.window.Max()
	from, to := leastReading, torque.MaxWire
	if hasLow {
		from = s.edge(top, leastReading, s.refine(s.guess(float64(low), inward), worst), worst)
	}
	if hasHigh {
		to = s.edge(top, torque.MaxWire, s.refine(s.guess(float64(high), -inward), worst), worst)
	}
	return between(from, to, hasLow && from > leastReading, hasHigh && to < torque.MaxWire), true
}

// refine brings the guess for one tail nearer by Newton's method on p_c, where
// the other tail counts.
func (s *search) refine(y float64, worst Outcome) float64 {
	low, hasLow := s.window.Min()
	high, hasHigh := s.window.Max()
	if !hasLow || !hasHigh {
		return y
	}
	for range 4 {
		u := s.u.nano(y)
		t := NormalTails((float64(low)-y)/u, (float64(high)-y)/u)
		missing := s.level.Probability() - t.Inside
		if worst == Undecided {
			missing = t.Outside() - s.level.Probability()
		}
		step := missing / s.slope(y, float64(low), float64(high))
		if !(math.Abs(step) < u) {
			return y // no slope to speak of, or too far from it
		}
		if y += step; math.Abs(step) < 0.25 {
			return y
		}
	}
	return y
}

// slope is d p_c/dy = (φ(z_L)·(f² + s²·y·T_L) - φ(z_U)·(f² + s²·y·T_U))/u³.
func (s *search) slope(y, low, high float64) float64 {
	u := s.u.nano(y)
	fixed, square := s.u.fixedNewtonMeters*float64(torque.NewtonMeter), s.u.share*s.u.share
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	return (density((low-y)/u)*(fixed*fixed+square*y*low) - density((high-y)/u)*(fixed*fixed+square*y*high)) / (u * u * u)
}

// between cannot fail: 0 < from <= to.
func between(from, to torque.Torque, hasLow, hasHigh bool) torque.Window {
	var window torque.Window
	switch {
	case hasLow && hasHigh:
		window, _ = torque.NewWindow(from, to)
	case hasLow:
		window, _ = torque.AtLeast(from)
	case hasHigh:
		window, _ = torque.AtMost(to)
	}
	return window
}

// guess solves y = limit + z·u(y), z of either sign, which is the answer where
// the other limit does not count; infinite where there is none.
func (s *search) guess(limit, z float64) float64 {
	fixed := s.u.fixedNewtonMeters * float64(torque.NewtonMeter)
	zs, zf := z*s.u.share, z*fixed
	root := math.Sqrt(zf*zf*(1-zs*zs) + zs*zs*limit*limit)
	switch lead := 1 - zs*zs; {
	case z > 0 && lead <= 0:
		return math.Inf(1)
	case z > 0:
		return (limit + root) / lead
	}
	return (limit*limit - zf*zf) / (limit + root)
}

// edge returns the last reading from the top towards end that still has the
// outcome: a bracket around the guess, widened in steps that double, and then
// halved.
func (s *search) edge(top, end torque.Torque, guess float64, worst Outcome) torque.Torque {
	if s.is(end, worst) {
		return end
	}
	good, bad := top, end
	outward := torque.Torque(1)
	if end < top {
		outward = -1
	}
	at := nearestWithin(guess, min(top, end), max(top, end))
	for step := torque.Torque(1); (at-good)*outward >= 0 && (bad-at)*outward > 0; step *= 2 {
		if !s.is(at, worst) {
			bad = at
			at -= outward * step
		} else {
			good = at
			at += outward * step
		}
	}
	for (bad-good)*outward > 1 {
		if middle := good + (bad-good)/2; s.is(middle, worst) {
			good = middle
		} else {
			bad = middle
		}
	}
	return good
}

func nearestWithin(value float64, low, high torque.Torque) torque.Torque {
	if !(value > float64(low)) {
		return low
	}
	if value >= float64(high) {
		return high
	}
	return torque.Torque(math.Round(value))
}
