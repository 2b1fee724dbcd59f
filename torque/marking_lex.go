package torque

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// tokenKind is a class of signs that the grammar treats alike.
type tokenKind uint8

const (
	tokenEnd       tokenKind = iota // the zero token: past the last one
	tokenNumber                     // digits, with points or commas between digits
	tokenWord                       // letters of one script
	tokenDot                        // one full stop
	tokenComma                      //
	tokenDash                       // hyphen, any dash, minus sign
	tokenTilde                      // ~ and its wide forms
	tokenEllipsis                   // ... or …
	tokenDivision                   // ÷, a range sign in Italian and Russian practice
	tokenPlusMinus                  // ± or +/- or +-
	tokenPlus                       //
	tokenAtMost                     // < ≤ <=
	tokenAtLeast                    // > ≥ >=
	tokenSlash                      //
	tokenSeparator                  // | ; &
	tokenColon                      // : =
	tokenPercent                    //
	tokenDegree                     // °
	tokenTimes                      // · and the other multiplication signs
	tokenOpen                       // ( [ {
	tokenClose                      // ) ] }
	tokenAbout                      // ≈
	tokenCaret                      // ^
	tokenOther                      // anything else
)

// token is a piece of the marking.
type token struct {
	kind       tokenKind
	word       word  // for tokenWord
	spaced     bool  // a space stands before it
	start, end int16 // in parser.text
}

// maxTokens is far above what a marking with three units needs.
const maxTokens = 64

// parser holds a marking cut into tokens and the reading position. It lives on
// the stack: reading the common forms allocates nothing.
type parser struct {
	given       string // as handed in, for errors
	text        string // what the tokens point into
	tokens      [maxTokens]token
	count, pos  int
	allCapitals bool
	warned      warned
}

// scan screens the text and cuts it into tokens.
func (p *parser) scan(text string) *MarkingError {
	p.given, p.allCapitals = text, true
	plain, reason := screen(text)
	if reason != "" {
		return refuse(reason, text)
	}
	p.text = plain
	spaced := false
	for at := 0; at < len(plain); {
		r, size := utf8.DecodeRuneInString(plain[at:])
		if unicode.IsSpace(r) {
			spaced, at = true, at+size
			continue
		}
		if p.count == maxTokens {
			return refuse(ReasonExtraText, text)
		}
		next, reason := p.cut(at, r, size)
		if reason != "" {
			return refuse(reason, text)
		}
		next.spaced, next.start = spaced, int16(at)
		p.tokens[p.count] = next
		p.count++
		spaced, at = false, int(next.end)
	}
	if p.count == 0 {
		return refuse(ReasonEmpty, text)
	}
	return nil
}

// cut returns the token that begins with the character r at a position.
func (p *parser) cut(at int, r rune, size int) (token, string) {
	switch {
	case isDigit(r):
		return p.cutNumber(at)
	case r == '.' || r == ',' || r == '…':
		return p.cutPoint(at, r, size)
	case (unicode.IsLetter(r) || unicode.IsMark(r)) && r != 'º':
		return p.cutWord(at)
	}
	kind, length := sign(p.text[at:], r, size)
	return token{kind: kind, end: int16(at + length)}, ""
}

// isDigit reports an ASCII digit; full-width ones have been made ordinary.
func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// cutNumber takes digits and the points and commas between digits, whatever
// they mean; plainDigits decides that. Exponents and other bases are refused
// here, where the letters are still next to the digits.
func (p *parser) cutNumber(at int) (token, string) {
	end := at
	for end < len(p.text) {
		c := p.text[end]
		between := (c == '.' || c == ',') && end+1 < len(p.text) && isDigit(rune(p.text[end+1]))
		if !isDigit(rune(c)) && !between {
			break
		}
		end++
	}
	rest := p.text[end:]
	switch {
	case hasExponent(rest):
		return token{}, ReasonExponentNotAllowed
	case p.text[at:end] == "0" && len(rest) > 1 && strings.ContainsRune("xXbBoO", rune(rest[0])) && isAlphanumeric(rest[1]):
		return token{}, ReasonNotANumber // 0x5 and the like
	}
	return token{kind: tokenNumber, end: int16(end)}, ""
}

// hasExponent reports whether a text that follows a number goes on like e5.
func hasExponent(rest string) bool {
	if rest == "" || rest[0] != 'e' && rest[0] != 'E' {
		return false
	}
	rest = rest[1:]
	r, size := utf8.DecodeRuneInString(rest)
	if r == '+' || isDash(r) {
		rest = rest[size:]
	}
	return rest != "" && isDigit(rune(rest[0]))
}

// isAlphanumeric reports a digit in a base up to sixteen.
func isAlphanumeric(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}

// cutPoint takes full stops and commas that are not between digits. Before a
// digit they can be meant as a decimal point or as the end of a word.
func (p *parser) cutPoint(at int, r rune, size int) (token, string) {
	if r == '…' {
		return token{kind: tokenEllipsis, end: int16(at + size)}, ""
	}
	rest := p.text[at:]
	run := len(rest) - len(strings.TrimLeft(rest, string(r)))
	afterDigit := run < len(rest) && isDigit(rune(rest[run]))
	gluedWord := p.count > 0 && p.tokens[p.count-1].kind == tokenWord && int(p.tokens[p.count-1].end) == at
	switch {
	case r == '.' && run == 3:
		return token{kind: tokenEllipsis, end: int16(at + run)}, ""
	case run > 1:
		return token{}, ReasonMalformed
	case afterDigit && gluedWord:
		return token{}, ReasonAmbiguousNumber // Max.5 is max. 5 or max 0.5
	case afterDigit:
		return token{}, ReasonMalformed // .5: NIST SP 811 (2008) 10.5.2 asks for 0.5
	case r == ',':
		return token{kind: tokenComma, end: int16(at + 1)}, ""
	}
	return token{kind: tokenDot, end: int16(at + 1)}, ""
}
