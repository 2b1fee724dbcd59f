package torque

import "math/big"

// settle checks a complete reading: every value has a unit, positive and
// believable figures in the right order, and all values are the same torque.
func (p *parser) settle(r *reading) string {
	if !r.main.hasUnit {
		return ReasonMissingUnit
	}
	if reason := r.main.check(); reason != "" {
		return reason
	}
	for i := range r.count {
		other := &r.alternates[i]
		if other.side == bothSides && other.isSingle() && r.main.isSingle() {
			other.side = r.main.side // max 5 Nm (44 in-lb)
		}
		if reason := other.check(); reason != "" {
			return reason
		}
		if reason := r.main.agrees(other); reason != "" {
			return reason
		}
	}
	return ""
}

// check looks at the figures of one value: each within the bounds of belief,
// in the right order, and not both a range and a limit.
func (s *statement) check() string {
	if s.side != bothSides && !s.isSingle() {
		return ReasonConflictingQualifier // max 5-7 Nm
	}
	reason := s.checkFigure(s.nominal)
	if reason == "" {
		reason = s.checkFigure(s.low)
	}
	if reason == "" {
		reason = s.checkFigure(s.high)
	}
	if reason != "" || s.isSingle() {
		return reason
	}
	low, _ := parseDecimal(s.low)
	high, _ := parseDecimal(s.high)
	if low.compare(high) > 0 {
		return ReasonReversedRange
	}
	return ""
}

// checkFigure compares exactly and without memory; see decimal.
func (s *statement) checkFigure(digits string) string {
	if digits == "" {
		return ""
	}
	value, fits := parseDecimal(digits)
	switch {
	case !fits:
		return ReasonOutOfRange
	case value.coefficient == 0:
		return ReasonNotPositive
	case value.compareIn(s.unit, MinMarking) < 0, value.compareIn(s.unit, MaxMarking) > 0:
		return ReasonOutOfRange
	}
	return ""
}

// agrees checks that another value is the same torque in another unit: each
// figure, widened by half of its last written digit, must reach the other.
// Minimum is compared with minimum and maximum with maximum, because two
// ranges overlap long before they say the same.
func (s *statement) agrees(other *statement) string {
	switch {
	case s.side != other.side:
		return ReasonConflictingQualifier
	case s.unit == other.unit, s.isSingle() != other.isSingle():
		return ReasonAlternateDisagrees
	}
	for _, pair := range [...][2]string{{s.nominal, other.nominal}, {s.low, other.low}, {s.high, other.high}} {
		if pair[0] != "" && pair[1] != "" && !overlap(pair[0], s.unit, pair[1], other.unit) {
			return ReasonAlternateDisagrees
		}
	}
	return ""
}

// overlap reports whether two figures, each widened by half of its last written
// digit, have a torque in common: 5 N·m is 4.5 to 5.5, 44 lbf·in is 43.5 to
// 44.5. Touching counts. Half a digit is what rounding can have moved it.
func overlap(first string, firstUnit Unit, second string, secondUnit Unit) bool {
	value, half := widened(first, firstUnit)
	otherValue, otherHalf := widened(second, secondUnit)
	distance := value.Sub(value, otherValue)
	return distance.Abs(distance).Cmp(half.Add(half, otherHalf)) <= 0
}

// widened returns a figure and half of its last written digit in newton
// meters.
func widened(digits string, unit Unit) (value, half *big.Rat) {
	factor := unit.Factor()
	value = rational(digits)
	half = powerOfTen(-places(digits))
	half.Quo(half, big.NewRat(2, 1))
	return value.Mul(value, factor), half.Mul(half, factor)
}

// result writes a settled reading as a Marking.
func (p *parser) result(r *reading) Marking {
	m := Marking{Unit: r.main.unit, Warnings: p.warned.list()}
	m.Nominal, m.Min, m.Max = r.main.figures()
	switch {
	case !r.main.isSingle() && r.main.nominal != "":
		m.Kind = KindNominalPlusMinus
	case !r.main.isSingle():
		m.Kind = KindRange
	case r.main.side == upperSide:
		m.Kind = KindMax
	case r.main.side == lowerSide:
		m.Kind = KindMin
	default:
		m.Kind = KindNominal
	}
	for i := range r.count {
		other := Alternate{Unit: r.alternates[i].unit}
		other.Nominal, other.Min, other.Max = r.alternates[i].figures()
		m.Alternates = append(m.Alternates, other)
	}
	return m
}

// figures puts a single figure on the side that it limits.
func (s *statement) figures() (nominal, low, high string) {
	switch {
	case s.isSingle() && s.side == upperSide:
		return "", "", s.nominal
	case s.isSingle() && s.side == lowerSide:
		return "", s.nominal, ""
	}
	return s.nominal, s.low, s.high
}

// warned is a set of warnings.
type warned uint8

const (
	warnedKilogram warned = 1 << iota
	warnedOldUnit
	warnedStrictSign
	warnedCapitals
)

func (w warned) list() []Warning {
	var all []Warning
	for i, warning := range [...]Warning{WarnKilogramAsForce, WarnOldUnit, WarnStrictSign, WarnAllCapitals} {
		if w&(1<<i) != 0 {
			all = append(all, warning)
		}
	}
	return all
}
