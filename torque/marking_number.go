package torque

import "strings"

// Numbers in a marking are unsigned decimals. The decimal sign is a point, or a
// comma where it cannot be a thousands separator; groups of three digits may be
// set apart by a space, as NIST SP 811 (2008) 10.5.3 does (from memory), never
// by a comma or a point. What two people could read as different numbers is
// refused rather than guessed.

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
	// Leading zeros are no significant digits, but a figure bounds all digits.
	if _, fits := parseDecimal(digits); !fits || checkDecimal(digits) != nil {
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

// oneSpace reports a single space of a width that is used between groups:
// ordinary, no-break, figure, thin and narrow no-break.
func oneSpace(text string) bool {
	switch text {
	case " ", "\u00a0", "\u2007", "\u2009", "\u202f":
		return true
	}
	return false
}

// plainDigits settles what points and commas in a number mean, and returns the
// digits with a point. 1.125 is a decimal everywhere (NIST SP 811 10.5.2);
// 1,125 is one in half the world and 1125 in the other.
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

// noNumber names what stands where a number was expected. The order matters: a
// sign or a known word says more than that the number is missing.
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

// leadingText names text that stands before a number or instead of one: a
// thread size before a torque, "hand tight", a unit without its number, or a
// word in look-alike letters of another alphabet.
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
