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

// isSingle reports a single figure, in nominal, rather than two limits.
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

// at, atWord, take and takeWord look at the next token and, the last two, go
// past it when it is the one asked for.
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
