package torque

// The grammar of a marking, after the tokens:
//
//	marking    = statement { further } [ "." ]
//	further    = open statement { separator statement } close
//	           | separator statement | limit statement of the other direction
//	statement  = { limit word | label } quantity { limit word | label }
//	quantity   = [ "between" | "from" ] number [ unit ] [ to number [ unit ] | tolerance ]
//	           | open quantity close [ unit ] | unit number …
//	tolerance  = "±" number ( unit | "%" ) | "+" number [ "/" ] [ "-" number ] …
//
// Every function returns a reason, "" when all went well.

// direction is the side that a statement limits.
type direction uint8

const (
	bothSides direction = iota
	upperSide
	lowerSide
)

// statement is one value with its limit words. Figures are digits, empty where
// there is none; a single figure is in nominal whatever its direction.
type statement struct {
	side               direction
	nominal, low, high string
	unit               Unit
	hasUnit            bool
	unitLeads          bool // the unit stands before the number
	toleranceOpen      bool // the last tolerance read has no unit of its own
}

func (s *statement) isSingle() bool { return s.low == "" && s.high == "" }

// maxAlternates is the number of further units that one marking may state.
const maxAlternates = 4

// reading is what has been read of a marking so far.
type reading struct {
	main       statement
	alternates [maxAlternates]statement
	count      int
}

// marking reads all tokens.
func (p *parser) marking() (Marking, *MarkingError) {
	var r reading
	reason := p.statement(&r.main)
	for reason == "" && p.peek(0).kind != tokenEnd {
		before := p.pos
		reason = p.further(&r)
		if reason == "" && p.pos == before {
			reason = p.leftover()
		}
	}
	if reason == "" {
		reason = p.settle(&r)
	}
	if reason != "" {
		return Marking{}, refuse(reason, p.given)
	}
	return p.result(&r), nil
}

// peek returns the token n places ahead, tokenEnd past the last.
func (p *parser) peek(n int) token {
	if at := p.pos + n; at >= 0 && at < p.count {
		return p.tokens[at]
	}
	return token{}
}

func (p *parser) at(kind tokenKind) bool { return p.peek(0).kind == kind }

func (p *parser) atWord(w word) bool { return p.peek(0).kind == tokenWord && p.peek(0).word == w }

func (p *parser) take(kind tokenKind) bool {
	if !p.at(kind) {
		return false
	}
	p.pos++
	return true
}

func (p *parser) takeWord(w word) bool {
	if !p.atWord(w) {
		return false
	}
	p.pos++
	return true
}

// place is a reading position to come back to.
type place struct {
	pos    int
	warned warned
}

func (p *parser) mark() place { return place{p.pos, p.warned} }

func (p *parser) reset(to place) { p.pos, p.warned = to.pos, to.warned }

func (p *parser) textOf(t token) string { return p.text[t.start:t.end] }

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

func (p *parser) isSeparator(kind tokenKind) bool {
	return kind == tokenSlash || kind == tokenSeparator || kind == tokenComma || kind == tokenColon
}

// joinsLimits reports a dash or a word between a minimum and a maximum.
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

// another reads one more statement and puts it where it belongs.
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

func (p *parser) restHasAngle() bool {
	for at := p.pos; at < p.count; at++ {
		if t := p.tokens[at]; t.kind == tokenDegree || t.kind == tokenWord && t.word == wordAngle {
			return true
		}
	}
	return false
}
