package torque

// A statement is a value together with the words that make it a limit. Limit
// words stand before or after the value, some of them only on one side of it;
// labels such as "torque" say nothing and may stand in the same places. A
// marking has one statement for each unit, or one for the minimum and one for
// the maximum.

// statement reads one value with the limit words before and after it.
func (p *parser) statement(s *statement) string {
	if reason := p.limits(s, false); reason != "" {
		return reason
	}
	var reason string
	if p.at(tokenOpen) {
		reason = p.grouped(s)
	} else {
		reason = p.quantity(s)
	}
	if reason != "" {
		return reason
	}
	return p.limits(s, true)
}

// grouped reads a value in brackets: (5 to 7) N·m, (5 N·m), (8 ± 1) N·m.
func (p *parser) grouped(s *statement) string {
	open := p.textOf(p.peek(0))
	p.pos++
	reason := p.limits(s, false)
	if reason == "" {
		reason = p.quantity(s)
	}
	if reason == "" {
		reason = p.limits(s, true)
	}
	switch {
	case reason != "":
		return reason
	case !p.closes(open):
		return p.leftover()
	case s.hasUnit:
		return ""
	}
	return p.optionalUnit(s)
}

// limits reads labels and limit words before or after a value, in any order
// and in brackets or not, and sets the side they limit. Saying the same side
// twice is no contradiction, saying both sides of one number is.
func (p *parser) limits(s *statement, after bool) string {
	for {
		start := p.mark()
		open := ""
		if p.at(tokenOpen) {
			open = p.textOf(p.peek(0))
			p.pos++
		}
		side, isLimit := p.limitWord(after)
		switch {
		case !isLimit, open != "" && !p.closes(open), after && p.belongsToNext(s, side):
			p.reset(start)
			return ""
		case side == bothSides: // a label
		case s.side != bothSides && s.side != side, !s.isSingle():
			return ReasonConflictingQualifier
		default:
			s.side = side
		}
	}
}

// belongsToNext reports that a limit word read after a value is really the
// beginning of the next statement, as in min 5 max 7 Nm.
func (p *parser) belongsToNext(s *statement, side direction) bool {
	return s.side != bothSides && side != bothSides && side != s.side && p.startsNumber()
}

// isLimit reports whether a limit word or a label comes next.
func (p *parser) isLimit() bool {
	start := p.mark()
	_, found := p.limitWord(false)
	if !found {
		_, found = p.limitWord(true)
	}
	p.reset(start)
	return found
}

// limitWord takes one limit word, sign or label with its full stop or colon. A
// label counts as limiting both sides.
func (p *parser) limitWord(after bool) (direction, bool) {
	side, found := p.limitPhrase(after)
	if !found {
		return bothSides, false
	}
	if last := p.peek(-1).word; last == wordMax || last == wordMin {
		p.take(tokenDot) // both are abbreviations more often than not
	}
	if !after {
		p.take(tokenColon)
	}
	return side, true
}

// limitPhrase takes the words or the sign themselves. After a value only the
// short words count, so that "5 Nm up to" is left over and refused.
func (p *parser) limitPhrase(after bool) (direction, bool) {
	next := p.peek(0)
	switch {
	case !after && isLimitSign(next) && !isLimitSign(p.peek(-1)):
		return p.limitSign(next), true
	case next.kind != tokenWord:
		return bothSides, false
	case next.word == wordMax:
		p.pos++
		return upperSide, true
	case next.word == wordMin:
		p.pos++
		return lowerSide, true
	case after && (next.word == wordMaxAfter || next.word == wordMinAfter):
		p.pos++
		if next.word == wordMaxAfter {
			return upperSide, true
		}
		return lowerSide, true
	case next.word == wordTorque:
		p.pos++
		return bothSides, true
	case next.word == wordTightening && p.peek(1).word == wordTorque:
		p.pos += 2
		return bothSides, true
	case after:
		return bothSides, false
	}
	return p.longPhrase()
}

// limitPhrases are the limit phrases of more than one word, longer first.
var limitPhrases = [...]struct {
	words [3]word
	count int
	side  direction
}{
	{[3]word{wordUp, wordTo}, 2, upperSide},
	{[3]word{wordNot, wordTo, wordExceed}, 3, upperSide},
	{[3]word{wordNo, wordMore, wordThan}, 3, upperSide},
	{[3]word{wordNot, wordMore, wordThan}, 3, upperSide},
	{[3]word{wordBis, wordMax}, 2, upperSide},
	{[3]word{wordNot, wordMore}, 2, upperSide}, // не более
	{[3]word{wordAt, wordLeast}, 2, lowerSide},
	{[3]word{wordNot, wordLess, wordThan}, 3, lowerSide},
	{[3]word{wordNo, wordLess, wordThan}, 3, lowerSide},
	{[3]word{wordNot, wordLess}, 2, lowerSide}, // не менее
}

// longPhrase takes limit phrases of more than one word.
func (p *parser) longPhrase() (direction, bool) {
	for i := range limitPhrases {
		phrase := &limitPhrases[i]
		if p.hasPhrase(phrase.words[:phrase.count]) {
			p.pos += phrase.count
			return phrase.side, true
		}
	}
	return bothSides, false
}

// hasPhrase reports whether exactly these words come next.
func (p *parser) hasPhrase(words []word) bool {
	for i, w := range words {
		if t := p.peek(i); t.kind != tokenWord || t.word != w {
			return false
		}
	}
	return true
}

func isLimitSign(t token) bool { return t.kind == tokenAtMost || t.kind == tokenAtLeast }

// limitSign takes a sign. A strict < or > is read as a limit that is itself
// allowed, because a part's figure is; the reader is told.
func (p *parser) limitSign(next token) direction {
	p.pos++
	if text := p.textOf(next); text == "<" || text == ">" {
		p.warned |= warnedStrictSign
	}
	if next.kind == tokenAtMost {
		return upperSide
	}
	return lowerSide
}
