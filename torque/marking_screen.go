package torque

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// maxMarkingBytes bounds the work on one marking; real ones are under 60.
const maxMarkingBytes = 256

// screen looks at every character of a marking before anything is read, and
// returns the text to read: the same one, or a copy with full-width forms and
// squared units as ordinary letters and with letters and accents composed.
//
// Compatibility normalization (NFKC) would do the first two as well, but it
// also turns raised digits and fraction signs into ordinary digits.
func screen(text string) (plain string, reason string) {
	if len(text) > maxMarkingBytes {
		return "", ReasonExtraText
	}
	if !utf8.ValidString(text) {
		return "", ReasonMalformed
	}
	accented, wide := false, false
	for at, r := range text {
		if reason := screenRune(text, at, r); reason != "" {
			return "", reason
		}
		accented = accented || r >= utf8.RuneSelf && unicode.IsMark(r)
		wide = wide || asOrdinary(r) != ""
	}
	plain = text
	if wide {
		plain = ordinary(plain)
	}
	if accented {
		plain = norm.NFC.String(plain)
	}
	return plain, ""
}

// screenRune returns why a character cannot be part of a marking, or "". A
// character that cannot be seen or is raised would change the number between
// what a person reads on the part and what is stored.
func screenRune(text string, at int, r rune) string {
	switch {
	case r < ' ' || r == 0x7f:
		return ReasonControlCharacter
	case r < utf8.RuneSelf:
		return ""
	case unicode.Is(unicode.Cc, r), r == '\u2028', r == '\u2029':
		return ReasonControlCharacter
	case isInvisible(r):
		return ReasonInvisibleCharacter
	case (r == '²' || r == '³') && strings.HasSuffix(text[:at], "m"):
		return ReasonNotTorque // N·m² is no footnote
	case isRaised(r):
		return ReasonSuperscript
	case isFraction(r):
		return ReasonVulgarFraction
	case r == '∞', unicode.Is(unicode.N, r) && !isWideDigit(r):
		return ReasonNotANumber
	}
	return ""
}

// isInvisible covers format characters, fillers and joiners, none of which
// shows in print.
func isInvisible(r rune) bool {
	return unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r) ||
		unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r)
}

// isRaised covers superscript and subscript digits and signs.
func isRaised(r rune) bool {
	return r == '¹' || r == '²' || r == '³' || r >= '\u2070' && r <= '\u209f'
}

// isFraction covers the fraction characters and the fraction slash.
func isFraction(r rune) bool {
	return r >= '¼' && r <= '¾' || r >= '\u2150' && r <= '\u215f' || r == '\u2189' || r == '⁄'
}

// isWideDigit reports a full-width digit as typed on East Asian keyboards.
func isWideDigit(r rune) bool { return r >= '０' && r <= '９' }

// asOrdinary returns the plain spelling of a full-width or squared character
// and "" for any other.
func asOrdinary(r rune) string {
	switch {
	case r == '㎜':
		return "mm"
	case r == '㎝':
		return "cm"
	case r == '㎏':
		return "kg"
	case r > '\uff00' && r < '\uff5f': // full-width forms mirror ASCII
		const ascii = "!\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~"
		return ascii[r-'\uff01' : r-'\uff00']
	}
	return ""
}

// ordinary returns a copy with the plain spellings of asOrdinary.
func ordinary(text string) string {
	var out strings.Builder
	for _, r := range text {
		if plain := asOrdinary(r); plain != "" {
			out.WriteString(plain)
		} else {
			out.WriteRune(r)
		}
	}
	return out.String()
}
