package torque

// quantity reads the numbers and units of one value.
func (p *parser) quantity(s *statement) string {
	if p.at(tokenOpen) {
		return ReasonMalformed
	}
	paired := p.atWord(wordBetween)
	needsRange := paired || p.atWord(wordFrom)
	if needsRange {
		p.pos++
	}
	unitFirst := p.unitBeforeNumber(s)
	first, reason := p.number()
	if reason != "" {
		return reason
	}
	s.nominal = first
	if !unitFirst {
		if reason := p.optionalUnit(s); reason != "" {
			return reason
		}
	}
	switch {
	case p.isRangeSign() && p.numberFollows() || paired && p.atWord(wordAnd):
		return p.rangeTo(s)
	case needsRange:
		return ReasonMalformed
	case p.at(tokenPlusMinus), p.at(tokenPlus), p.at(tokenOpen) && p.toleranceFollows():
		return p.tolerance(s)
	}
	return p.unreadable(s)
}

// unreadable names number combinations that look like a value and are none.
func (p *parser) unreadable(s *statement) string {
	next := p.peek(0)
	switch {
	case next.kind == tokenSlash && !next.spaced && p.peek(1).kind == tokenNumber && !s.hasUnit:
		if p.peek(2).kind == tokenWord && p.peek(2).word == wordAngle {
			return ReasonNoTorque // 1/4 turn
		}
		return ReasonAmbiguousNumber // 5/7, 1/2
	case s.hasUnit:
		return ""
	case next.kind == tokenDot:
		return ReasonMalformed // no full stop after a number
	case next.kind == tokenPercent, next.kind == tokenDegree, p.atWord(wordAngle):
		return ReasonNotTorque
	case next.kind == tokenCaret:
		return ReasonExponentNotAllowed
	case next.kind == tokenNumber, p.atWord(wordOr), p.atWord(wordAnd) && !p.limitFollows():
		return ReasonMultipleValues
	case p.isRangeSign() && !p.limitFollows():
		return ReasonMalformed // 5--7, 5 - Nm
	}
	return ""
}

func (p *parser) isRangeSign() bool {
	switch next := p.peek(0); next.kind {
	case tokenDash, tokenTilde, tokenEllipsis, tokenDivision:
		return true
	case tokenWord:
		return next.word == wordTo || next.word == wordBis
	}
	return false
}

func (p *parser) numberFollows() bool { return p.peek(1).kind == tokenNumber }

func (p *parser) limitFollows() bool {
	p.pos++
	found := p.isLimit()
	p.pos--
	return found
}

func (p *parser) toleranceFollows() bool {
	kind := p.peek(1).kind
	return kind == tokenPlusMinus || kind == tokenPlus
}

// startsNumber reports whether a number comes next.
func (p *parser) startsNumber() bool { return p.at(tokenNumber) }

// rangeTo reads the second number of a range.
func (p *parser) rangeTo(s *statement) string {
	sign := p.peek(0).kind
	p.pos++
	high, reason := p.number()
	if reason != "" {
		return reason
	}
	second := statement{nominal: high}
	if reason := p.optionalUnit(&second); reason != "" {
		return reason
	}
	if sign == tokenDash && p.plusFollowsMinus() {
		return p.minusThenPlus(s, second)
	}
	s.low, s.high, s.nominal = s.nominal, high, ""
	if p.isRangeSign() && !p.limitFollows() {
		return ReasonMalformed // 5-7-9
	}
	return s.sameUnit(second)
}

// sameUnit settles the unit of a value from that of its last number.
func (s *statement) sameUnit(last statement) string {
	switch {
	case s.hasUnit && !last.hasUnit:
		if s.unitLeads {
			return ""
		}
		return ReasonMissingUnit
	case s.hasUnit && s.unit != last.unit:
		return ReasonMixedUnits
	}
	s.unit, s.hasUnit = last.unit, last.hasUnit
	return ""
}

// unitBeforeNumber takes a unit that stands before the number.
func (p *parser) unitBeforeNumber(s *statement) bool {
	if !p.at(tokenWord) {
		return false
	}
	start := p.mark()
	unit, reason := p.unit()
	if reason == "" {
		p.take(tokenColon)
	}
	if reason != "" || !p.startsNumber() {
		p.reset(start)
		return false
	}
	s.unit, s.hasUnit, s.unitLeads = unit, true, true
	return true
}
