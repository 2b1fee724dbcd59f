package torque

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// sign returns the kind and the length in bytes of a sign of one to three
// characters. Signs that print alike are one kind, whatever their code.
func sign(rest string, r rune, size int) (tokenKind, int) {
	following, followingSize := utf8.DecodeRuneInString(rest[size:])
	switch {
	case r == '+':
		return plusSign(rest)
	case r == '<', r == '>':
		kind := tokenAtMost
		if r == '>' {
			kind = tokenAtLeast
		}
		if following == '=' {
			size += followingSize
		}
		return kind, size
	case r == '=' && following == '<':
		return tokenAtMost, size + followingSize
	case r == '~', r == '〜', r == '∼':
		return tokenTilde, size
	case isDash(r):
		return tokenDash, size
	}
	return simpleSign(r), size
}

// plusSign tells + from +/- and +-.
func plusSign(rest string) (tokenKind, int) {
	after := strings.TrimPrefix(rest[1:], "/")
	r, size := utf8.DecodeRuneInString(after)
	if isDash(r) {
		return tokenPlusMinus, len(rest) - len(after) + size
	}
	return tokenPlus, 1
}

// simpleSign returns the kind of a sign of one character.
func simpleSign(r rune) tokenKind {
	switch r {
	case '÷':
		return tokenDivision
	case '±':
		return tokenPlusMinus
	case '≤', '⩽', '≦':
		return tokenAtMost
	case '≥', '⩾', '≧':
		return tokenAtLeast
	case '/':
		return tokenSlash
	case '|', ';', '&':
		return tokenSeparator
	case ':', '=':
		return tokenColon
	case '%':
		return tokenPercent
	case '°', 'º':
		return tokenDegree
	case '(', '[', '{':
		return tokenOpen
	case ')', ']', '}':
		return tokenClose
	case '≈', '≃', '≅':
		return tokenAbout
	case '^':
		return tokenCaret
	case '·', '⋅', '•', '∙', '‧', '・', '･', '*', '×':
		return tokenTimes
	}
	return tokenOther
}

// isDash covers the hyphen, every dash and the minus sign, which print alike.
func isDash(r rune) bool {
	return r == '-' || r == '−' || r > unicode.MaxASCII && unicode.Is(unicode.Pd, r)
}
