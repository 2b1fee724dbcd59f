package torque

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// word is a word with a meaning in a marking. All lists are common practice in
// the trade, no source; upper and lower case count the same.
type word uint8

const (
	wordUnknown     word = iota // a unit, or text that does not belong
	wordMax                     // before or after the value
	wordMin                     //
	wordMaxAfter                // after the unit only
	wordMinAfter                //
	wordTo                      // between two numbers: "to", also in "up to"
	wordBis                     // the same, also in "bis max"
	wordFrom                    // before the first of two numbers
	wordBetween                 //
	wordAnd                     // between two numbers after "between"
	wordUp                      // up to
	wordAt                      // at least
	wordLeast                   //
	wordNot                     // not to exceed, not less than, не более
	wordExceed                  //
	wordNo                      // no more than
	wordMore                    //
	wordLess                    //
	wordThan                    //
	wordTorque                  // a label
	wordTightening              // tightening torque
	wordApproximate             //
	wordOr                      // joins two values: refused
	wordAngle                   //
	wordNotNumber               // NaN, Inf
	wordForce                   // pound-force
)

// meaning returns the word for a text in lower case.
func meaning(lower string) word {
	switch lower {
	case "max", "maxi", "maximum", "maximal", "máx", "máximo", "massimo", "maximo", "maks", "макс", "最大", "höchstens":
		return wordMax
	case "min", "mini", "minimum", "minimal", "mín", "mínimo", "minimo", "мин", "最小", "mindestens":
		return wordMin
	case "以下":
		return wordMaxAfter
	case "以上":
		return wordMinAfter
	case "to", "à", "a", "do":
		return wordTo
	case "bis":
		return wordBis
	case "da", "from", "von", "de", "od":
		return wordFrom
	case "between":
		return wordBetween
	case "and":
		return wordAnd
	case "up":
		return wordUp
	case "at":
		return wordAt
	case "least":
		return wordLeast
	}
	return rareMeaning(lower)
}

// rareMeaning holds the words of longer phrases and those that refuse a
// marking: approximations, alternatives, angles and words for no number.
func rareMeaning(lower string) word {
	switch lower {
	case "not", "не":
		return wordNot
	case "no":
		return wordNo
	case "exceed":
		return wordExceed
	case "more", "более":
		return wordMore
	case "less", "менее":
		return wordLess
	case "than":
		return wordThan
	case "torque", "drehmoment", "couple":
		return wordTorque
	case "tightening":
		return wordTightening
	case "ca", "circa", "approx", "approximately", "about", "around", "etwa", "ungefähr", "env", "environ", "около", "約", "约":
		return wordApproximate
	case "or", "oder", "ou", "или":
		return wordOr
	case "deg", "degree", "degrees", "grad", "rad", "turn", "turns":
		return wordAngle
	case "nan", "inf", "infinity":
		return wordNotNumber
	case "force":
		return wordForce
	}
	return wordUnknown
}

// hanWords are the words cut from a run of Han characters, which has no spaces.
var hanWords = [...]string{"最大", "最小", "以下", "以上", "牛顿", "牛", "厘米", "毫米", "米", "約", "约"}

// alphabet is the script of a word. Words of two alphabets are refused,
// because letters that look alike would hide a misprint or a trick.
type alphabet uint8

const (
	alphabetOther alphabet = iota
	alphabetLatin
	alphabetCyrillic
	alphabetGreek
	alphabetHan
)

// alphabetOf returns the alphabet of a letter.
func alphabetOf(r rune) alphabet {
	switch {
	case r < utf8.RuneSelf, unicode.Is(unicode.Latin, r):
		return alphabetLatin
	case unicode.Is(unicode.Cyrillic, r):
		return alphabetCyrillic
	case unicode.Is(unicode.Greek, r):
		return alphabetGreek
	case unicode.Is(unicode.Han, r):
		return alphabetHan
	}
	return alphabetOther
}

// cutWord takes the letters of one word, with accents written as characters of
// their own. Han characters end it, letters of a second alphabet refuse it.
func (p *parser) cutWord(at int) (token, string) {
	first, _ := utf8.DecodeRuneInString(p.text[at:])
	script := alphabetOf(first)
	if script == alphabetHan {
		return p.cutHan(at)
	}
	end := at
	for end < len(p.text) {
		r, size := utf8.DecodeRuneInString(p.text[end:])
		letter := unicode.IsLetter(r)
		if !letter && !unicode.IsMark(r) || letter && alphabetOf(r) == alphabetHan {
			break
		}
		if letter && alphabetOf(r) != script {
			return token{}, ReasonMixedScript
		}
		p.allCapitals = p.allCapitals && !unicode.IsLower(r)
		end += size
	}
	return token{kind: tokenWord, word: wordOf(p.text[at:end]), end: int16(end)}, ""
}

// cutHan takes the longest known word, or one character that is none.
func (p *parser) cutHan(at int) (token, string) {
	for _, known := range hanWords {
		if strings.HasPrefix(p.text[at:], known) {
			return token{kind: tokenWord, word: meaning(known), end: int16(at + len(known))}, ""
		}
	}
	_, size := utf8.DecodeRuneInString(p.text[at:])
	return token{kind: tokenWord, end: int16(at + size)}, ""
}

// maxWordBytes is the length of the longest known word, approximately.
const maxWordBytes = 16

// wordOf returns the meaning of a word in any mix of cases.
func wordOf(text string) word {
	var buffer [maxWordBytes]byte
	return meaning(string(lowered(&buffer, text)))
}

// lowered writes a text in lower case into a buffer; what does not fit is no
// known word and comes out empty.
func lowered(buffer *[maxWordBytes]byte, text string) []byte {
	out := buffer[:0]
	for _, r := range text {
		r = unicode.ToLower(r)
		if len(out)+utf8.RuneLen(r) > len(buffer) {
			return nil
		}
		out = utf8.AppendRune(out, r)
	}
	return out
}

// looksLatin reports whether a word of another alphabet could pass in print
// for a Latin one.
func looksLatin(text string) bool {
	const alike = "АВЕКМНОРСТУХасеорхуіԁАΒΕΖΗΙΚΜΝΟΡΤΥΧΑοѕ"
	for _, r := range text {
		if !strings.ContainsRune(alike, r) {
			return false
		}
	}
	return true
}
