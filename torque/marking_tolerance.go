package torque

import "math/big"

// amount is one side of a tolerance: in the unit of the value, or in percent of
// the nominal value. Empty digits stand for a side that was not written.
type amount struct {
	digits  string
	percent bool
}

// tolerance reads what follows a nominal value: ± 1 N·m, ±10 %, +2/-1 N·m,
// +2 N·m, with or without brackets.
func (p *parser) tolerance(s *statement) string {
	if p.restHasAngle() {
		return ReasonTorquePlusAngle
	}
	next := p.peek(0)
	bareSum := !s.hasUnit && next.kind == tokenPlus && !next.spaced
	open := ""
	if p.at(tokenOpen) {
		open = p.textOf(p.peek(0))
		p.pos++
	}
	isBoth := p.at(tokenPlusMinus)
	p.pos++
	plus, reason := p.amount(s)
	if reason != "" {
		return reason
	}
	minus := plus
	if !isBoth {
		if minus, reason = p.minusPart(s, &plus); reason != "" {
			return reason
		}
		if minus.digits == "" && (bareSum || plus.exceeds(s.nominal)) {
			return ReasonMalformed // 5+7 N·m is no tolerance, 8 +2 N·m is one
		}
	}
	if open != "" && !p.closes(open) {
		return ReasonMalformed
	}
	return p.applyTolerance(s, minus, plus)
}

// amount reads a number with % or a unit. A unit settles that of the value:
// the unit after the last number belongs to all of them, as in 8 ± 1 N·m. Where
// the nominal value has its own unit the tolerance must have one too.
func (p *parser) amount(s *statement) (amount, string) {
	digits, reason := p.number()
	if reason != "" {
		return amount{}, reason
	}
	if p.take(tokenPercent) {
		s.toleranceOpen = false // a percentage needs no unit
		return amount{digits: digits, percent: true}, ""
	}
	last := statement{}
	if reason := p.optionalUnit(&last); reason != "" {
		return amount{}, reason
	}
	s.toleranceOpen = !last.hasUnit && s.hasUnit && !s.unitLeads
	if last.hasUnit {
		if reason := s.sameUnit(last); reason != "" {
			return amount{}, reason
		}
	}
	return amount{digits: digits}, ""
}

// minusPart reads the lower side after the upper one. Without one there are no
// digits, and the nominal value is the lower limit.
func (p *parser) minusPart(s *statement, plus *amount) (amount, string) {
	separated := (p.at(tokenSlash) || p.at(tokenComma)) && p.peek(1).kind == tokenDash
	if separated {
		p.pos++
	}
	if !p.at(tokenDash) || !p.numberFollows() {
		return amount{percent: plus.percent}, ""
	}
	p.pos++
	minus, reason := p.amount(s)
	plus.percent = plus.percent || minus.percent // +10/-5 %
	return minus, reason
}

// plusFollowsMinus reports the second half of 8 -1/+2.
func (p *parser) plusFollowsMinus() bool {
	return p.at(tokenPlus) || p.at(tokenSlash) && p.peek(1).kind == tokenPlus
}

// minusThenPlus reads a tolerance whose lower side stands first. Its number
// has been read as if it were the end of a range.
func (p *parser) minusThenPlus(s *statement, lower statement) string {
	if p.restHasAngle() {
		return ReasonTorquePlusAngle
	}
	if lower.hasUnit {
		if reason := s.sameUnit(lower); reason != "" {
			return reason
		}
	}
	p.take(tokenSlash)
	p.pos++ // the plus sign
	plus, reason := p.amount(s)
	if reason != "" {
		return reason
	}
	return p.applyTolerance(s, amount{digits: lower.nominal}, plus)
}

// applyTolerance works out the limits exactly, with as many decimals as were
// written, more only where a percentage needs them.
func (p *parser) applyTolerance(s *statement, minus, plus amount) string {
	if !s.hasUnit {
		if reason := p.optionalUnit(s); reason != "" {
			return reason
		}
		s.toleranceOpen = false
	}
	if s.toleranceOpen {
		return ReasonMissingUnit // 8 N·m ± 1
	}
	low, lowPlaces := minus.from(s.nominal, -1)
	high, highPlaces := plus.from(s.nominal, 1)
	if low.Sign() <= 0 {
		return ReasonNotPositive
	}
	if minus.percent || plus.percent {
		lowPlaces, _ = low.FloatPrec()
		highPlaces, _ = high.FloatPrec()
	}
	decimals := max(lowPlaces, highPlaces, places(s.nominal))
	s.low, s.high = low.FloatString(decimals), high.FloatString(decimals)
	return ""
}

// from returns nominal + sign·amount and the decimals written in it.
func (a amount) from(nominal string, sign int64) (*big.Rat, int) {
	value, part := rational(nominal), rational(a.digits)
	if a.percent {
		part.Mul(part, value)
		part.Quo(part, big.NewRat(100, 1))
	}
	part.Mul(part, big.NewRat(sign, 1))
	return value.Add(value, part), max(places(nominal), places(a.digits))
}

// exceeds reports a tolerance larger than the value it belongs to, a sign that
// two separate torques were read as one.
func (a amount) exceeds(nominal string) bool {
	return !a.percent && rational(a.digits).Cmp(rational(nominal)) > 0
}

// rational reads digits that have been checked; no digits are zero.
func rational(digits string) *big.Rat {
	value, ok := new(big.Rat).SetString(digits)
	if !ok {
		return new(big.Rat)
	}
	return value
}
