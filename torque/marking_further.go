package torque

// further reads what follows the first statement: the same torque in another
// unit, the other limit, a limit word that stands last, or a final full stop.
func (p *parser) further(r *reading) string {
	if r.main.hasUnit && p.restHasAngle() {
		return ReasonTorquePlusAngle
	}
	switch next := p.peek(0); {
	case next.kind == tokenOpen:
		return p.bracketed(r)
	case next.kind == tokenDot && p.peek(1).kind == tokenEnd && p.peek(-1).kind != tokenNumber:
		p.pos++
		return ""
	case p.isSeparator(next.kind) && p.peek(1).kind != tokenEnd:
		p.pos++
		return p.another(r, false)
	case r.main.side != bothSides && (p.startsNumber() || p.isLimit() || p.joinsLimits()):
		if p.joinsLimits() {
			p.pos++
		}
		return p.another(r, false)
	case r.main.side == bothSides && r.count > 0 && p.isLimit():
		return p.limits(&r.main, true)
	}
	return p.leftover()
}

// isSeparator reports a sign between the same torque in two units. A colon or
// an equals sign counts: 5 Nm = 44 in-lb.
func (p *parser) isSeparator(kind tokenKind) bool {
	return kind == tokenSlash || kind == tokenSeparator || kind == tokenComma || kind == tokenColon
}

// joinsLimits reports a dash or a word between a minimum and a maximum, as in
// min 5 - max 7 Nm.
func (p *parser) joinsLimits() bool {
	joint := p.isRangeSign()
	if joint {
		p.pos++
		joint = p.isLimit() || p.startsNumber()
		p.pos--
	}
	return joint || p.atWord(wordAnd)
}

// bracketed reads alternates in brackets, or a limit word in brackets.
func (p *parser) bracketed(r *reading) string {
	open := p.textOf(p.peek(0))
	p.pos++
	for {
		if reason := p.another(r, true); reason != "" {
			return reason
		}
		if p.closes(open) {
			return ""
		}
		if !p.isSeparator(p.peek(0).kind) {
			return p.leftover()
		}
		p.pos++
	}
}

// closes takes the bracket that belongs to an opening one.
func (p *parser) closes(open string) bool {
	if !p.at(tokenClose) {
		return false
	}
	switch open + p.textOf(p.peek(0)) {
	case "()", "[]", "{}":
		p.pos++
		return true
	}
	return false
}

// another reads one more statement and puts it where it belongs: the other limit
// of the first, or an alternate. Two values in one unit are neither.
func (p *parser) another(r *reading, inBrackets bool) string {
	var next statement
	switch reason := p.statement(&next); reason {
	case "":
	case ReasonNoTorque:
		return ReasonExtraText // 5 Nm (dry)
	default:
		return reason
	}
	opposite := r.main.side != bothSides && next.side != bothSides && r.main.side != next.side
	switch {
	case opposite && !inBrackets && r.count == 0:
		return p.merge(&r.main, next)
	case !r.main.hasUnit && inBrackets:
		return ReasonMissingUnit
	case !r.main.hasUnit, !inBrackets && next.hasUnit && next.unit == r.main.unit:
		return ReasonMultipleValues
	case !next.hasUnit:
		return ReasonMissingUnit
	case r.count == maxAlternates:
		return ReasonMultipleValues
	}
	r.alternates[r.count] = next
	r.count++
	return ""
}

// merge makes a range of a minimum and a maximum stated one after the other.
func (p *parser) merge(main *statement, next statement) string {
	switch {
	case !main.isSingle() || !next.isSingle():
		return ReasonConflictingQualifier
	case !next.hasUnit:
		return ReasonMissingUnit
	case main.hasUnit && main.unit != next.unit:
		return ReasonMixedUnits
	}
	low, high := main.nominal, next.nominal
	if main.side == upperSide {
		low, high = high, low
	}
	*main = statement{low: low, high: high, unit: next.unit, hasUnit: true}
	return ""
}

// leftover names what is wrong with a text that goes on after a value.
func (p *parser) leftover() string {
	next := p.peek(0)
	switch {
	case next.kind == tokenNumber, p.atWord(wordOr), p.atWord(wordAnd), next.kind == tokenSeparator:
		return ReasonMultipleValues
	case p.atWord(wordApproximate), next.kind == tokenTilde, next.kind == tokenAbout:
		return ReasonApproximate
	case p.isLimit():
		return ReasonConflictingQualifier
	case next.kind == tokenWord, next.kind == tokenOther, next.kind == tokenOpen:
		return ReasonExtraText
	case next.kind == tokenCaret:
		return ReasonExponentNotAllowed
	}
	return ReasonMalformed
}

// restHasAngle reports an angle anywhere in what is left. An angle that is
// turned after the torque must not be dropped: the joint would be left slack.
func (p *parser) restHasAngle() bool {
	for at := p.pos; at < p.count; at++ {
		if t := p.tokens[at]; t.kind == tokenDegree || t.kind == tokenWord && t.word == wordAngle {
			return true
		}
	}
	return false
}
