package torque

import "strings"

// number takes a number and returns its digits with a decimal point and no
// grouping. Digits that need no change are part of the marking's text.
func (p *parser) number() (string, string) {
	next := p.peek(0)
	if next.kind != tokenNumber {
		return "", p.noNumber()
	}
	p.pos++
	digits, reason := plainDigits(p.textOf(next))
	if reason != "" {
		return "", reason
	}
	for p.continuesGroup(next, digits) {
		next = p.peek(0)
		p.pos++
		more, reason := plainDigits(p.textOf(next))
		if reason != "" {
			return "", reason
		}
		digits += more
	}
	if _, fits := parseDecimal(digits); !fits {
		return "", ReasonOutOfRange
	}
	return digits, ""
}

// continuesGroup reports whether the next number is three more digits of the
// one before, as in 1 234: whole digits, a single space, exactly three.
func (p *parser) continuesGroup(before token, digits string) bool {
	next := p.peek(0)
	if next.kind != tokenNumber || !next.spaced || strings.Contains(digits, ".") || digits[0] == '0' {
		return false
	}
	groupedAlready := len(digits) > int(before.end-before.start)
	if !groupedAlready && len(digits) > 3 {
		return false
	}
	whole := p.textOf(next)
	if at := strings.IndexAny(whole, ".,"); at >= 0 {
		whole = whole[:at]
	}
	space := p.text[before.end:next.start]
	return len(whole) == 3 && isDigits(whole) && oneSpace(space)
}

func oneSpace(text string) bool {
	switch text {
	case " ", "\u00a0", "\u2007", "\u2009", "\u202f":
		return true
	}
	return false
}

// plainDigits settles what points and commas in a number mean.
func plainDigits(text string) (string, string) {
	points, commas := strings.Count(text, "."), strings.Count(text, ",")
	switch {
	case points > 0 && commas > 0, commas > 1:
		return "", ReasonAmbiguousNumber // 1.234,5 and 1,234,567
	case points > 1:
		return "", ReasonMalformed
	case commas == 0:
		return text, ""
	}
	whole, fraction, _ := strings.Cut(text, ",")
	if len(fraction) == 3 && whole[0] != '0' {
		return "", ReasonAmbiguousNumber // 1,234 is 1234 or 1.234
	}
	return whole + "." + fraction, ""
}

// noNumber names what stands where a number was expected.
func (p *parser) noNumber() string {
	next := p.peek(0)
	switch {
	case next.kind == tokenDash && p.numberFollows():
		return ReasonNegative
	case next.kind == tokenTilde, next.kind == tokenAbout, p.atWord(wordApproximate):
		return ReasonApproximate
	case p.atWord(wordNotNumber):
		return ReasonNotANumber
	case p.isLimit():
		return ReasonConflictingQualifier
	case next.kind == tokenWord:
		return p.leadingText()
	case next.kind == tokenOther, next.kind == tokenPlus:
		return ReasonMalformed
	}
	return ReasonMissingValue
}

// leadingText names text that stands before a number or instead of one.
func (p *parser) leadingText() string {
	text := p.textOf(p.peek(0))
	start := p.mark()
	_, unitReason := p.unit()
	p.reset(start)
	switch torqueAhead := p.torqueAhead(); {
	case unitReason == "" || unitReason == ReasonNotTorque && !torqueAhead && p.count == 1:
		return ReasonMissingValue
	case unitReason == ReasonMixedScript, alphabetOf([]rune(text)[0]) != alphabetLatin && looksLatin(text):
		return ReasonMixedScript
	case torqueAhead:
		return ReasonExtraText
	case p.unitFollows():
		return ReasonNotANumber // five Nm
	}
	return ReasonNoTorque
}

// unitFollows reports whether a unit of torque is the next but one thing.
func (p *parser) unitFollows() bool {
	start := p.mark()
	defer func() { p.reset(start) }()
	p.pos++
	if !p.at(tokenWord) {
		return false
	}
	_, reason := p.unit()
	return reason == ""
}

// torqueAhead reports whether a number with a unit of torque follows anywhere.
func (p *parser) torqueAhead() bool {
	start := p.mark()
	defer func() { p.reset(start) }()
	for p.pos++; p.pos < p.count; p.pos++ {
		if p.peek(-1).kind != tokenNumber || !p.at(tokenWord) {
			continue
		}
		at := p.pos
		if _, reason := p.unit(); reason == "" {
			return true
		}
		p.pos = at
	}
	return false
}
