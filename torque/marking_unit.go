package torque

// A unit of torque is a force times a length, written in one word or in two.
// Both words must be known and be of one alphabet: a Latin N before a Cyrillic м
// prints like N·m and is refused, because a marking typed so was not typed by
// someone who looked.

// optionalUnit reads the unit after a number where there is one. Words that
// the grammar knows, signs and the end mean that there is none.
func (p *parser) optionalUnit(s *statement) string {
	next := p.peek(0)
	if next.kind != tokenWord || next.word != wordUnknown && next.word != wordForce {
		return ""
	}
	unit, reason := p.unit()
	if reason == "" {
		reason = p.unitGoesOn()
	}
	if reason != "" {
		return reason
	}
	s.unit, s.hasUnit = unit, true
	return ""
}

// unit takes a unit of torque: both halves in one word, or two words with a
// multiplication sign, a full stop, a dash, a space or nothing between. The
// position is only defined where the reason is "".
func (p *parser) unit() (Unit, string) {
	word := p.peek(0)
	text := p.textOf(word)
	p.pos++
	first := partOf(text, p.allCapitals)
	if !first.known() {
		unit, warnings, reason := p.splitPart(text)
		if reason != "" {
			return 0, reason
		}
		p.warned |= warnings
		p.take(tokenDot)
		return unit, ""
	}
	p.takeForce(&first)
	if p.at(tokenSlash) && p.peek(1).kind == tokenWord && p.peek(1).word == wordUnknown {
		return 0, ReasonNotTorque // N/m, lb/in, ft/lb
	}
	second, found := p.secondPart()
	if !found {
		return 0, alone(first)
	}
	unit, warnings, reason := p.join(first, second)
	if reason != "" {
		return 0, reason
	}
	p.warned |= warnings
	p.take(tokenDot)
	return unit, ""
}

// alone is the reason why half a unit is none: newtons and pounds are forces,
// millimeters and inches lengths, joules and bars neither.
func alone(part unitPart) string {
	if part.refusal != "" {
		return part.refusal
	}
	return ReasonNotTorque
}

// secondPart takes what joins the halves of a unit and the second half. The
// dash of 44-62 in-lb joins, that of 5 N - 7 does not: letters must follow.
func (p *parser) secondPart() (unitPart, bool) {
	start := p.pos
	p.take(tokenDot) // in. lbs, kgf.m
	if p.at(tokenTimes) || p.at(tokenDash) {
		p.pos++
	}
	if next := p.peek(0); next.kind == tokenWord && next.word == wordUnknown {
		if part := partOf(p.textOf(next), p.allCapitals); part.known() && !part.otherQty {
			p.pos++
			p.takeForce(&part)
			return part, true
		}
	}
	p.pos = start
	return unitPart{}, false
}

// takeForce takes the word force of pound-force and kilogram-force, which also
// takes back the warning that a mass was read as a force.
func (p *parser) takeForce(part *unitPart) {
	start := p.pos
	p.take(tokenDash)
	if part.force < poundForce || !p.takeWord(wordForce) {
		p.pos = start
		return
	}
	part.warning = 0 // a force is what it says
}

// unitGoesOn reports a unit that turns out to be part of a longer one: N·m2,
// N·m·s, N·m/rad. Dropping the rest would make a torque of something else.
func (p *parser) unitGoesOn() string {
	next, after := p.peek(0), p.peek(1)
	wordFollows := after.kind == tokenWord && after.word == wordUnknown
	switch {
	case next.kind == tokenCaret, next.kind == tokenNumber && !next.spaced:
		return ReasonNotTorque // N·m2
	case next.kind == tokenTimes && after.kind == tokenWord:
		return ReasonNotTorque // N·m·s
	case next.kind == tokenSlash && (after.kind == tokenDegree || after.kind == tokenWord && after.word == wordAngle):
		return ReasonNotTorque // N·m/rad
	case next.kind == tokenSlash && wordFollows && !p.unitLeadsAt(1):
		return ReasonNotTorque
	}
	return ""
}

// unitLeadsAt reports whether, n tokens ahead, a unit stands before a number.
func (p *parser) unitLeadsAt(n int) bool {
	start := p.mark()
	p.pos += n
	var s statement
	leads := p.unitBeforeNumber(&s)
	p.reset(start)
	return leads
}
