package torque

// A quantity is the part of a statement between its limit words: one number, a
// range, or a nominal value with its tolerance, with the unit before, after or
// with each number. What a dash means depends on what follows it: a number
// makes it a range sign, a letter part of a unit, another dash a mistake. Before
// the first number it is a minus sign, and no torque on a part is negative.

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

// unreadable names number combinations that look like a value and are none. A
// slash between numbers can be a fraction, a range or two tables' columns.
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

// isRangeSign reports a sign or a word that can stand between the two numbers
// of a range. NIST SP 811 (2008) 7.7 asks for "to" and discourages the dash,
// which can be read as a minus sign; parts are marked with dashes all the same.
func (p *parser) isRangeSign() bool {
	switch next := p.peek(0); next.kind {
	case tokenDash, tokenTilde, tokenEllipsis, tokenDivision:
		return true
	case tokenWord:
		return next.word == wordTo || next.word == wordBis
	default:
		return false
	}
}

// numberFollows reports whether a number comes after the next token.
func (p *parser) numberFollows() bool { return p.peek(1).kind == tokenNumber }

// limitFollows reports whether a limit word comes after the next token.
func (p *parser) limitFollows() bool {
	p.pos++
	found := p.isLimit()
	p.pos--
	return found
}

// toleranceFollows reports whether a tolerance comes after the next token.
func (p *parser) toleranceFollows() bool {
	kind := p.peek(1).kind
	return kind == tokenPlusMinus || kind == tokenPlus
}

// startsNumber reports whether a number comes next.
func (p *parser) startsNumber() bool { return p.at(tokenNumber) }

// rangeTo reads the second number of a range. It may turn out that the dash
// was the lower side of a tolerance, as in 8 -1/+2.
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

// sameUnit settles the unit of a value from that of its last number. A unit
// after the first number alone does not reach the others (NIST SP 811 7.7: it
// must be clear to which number a unit belongs); one before all numbers does.
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

// unitBeforeNumber takes a unit that stands before the number, as in N·m 5.
// Nothing is taken when the words are no unit or no number follows.
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
