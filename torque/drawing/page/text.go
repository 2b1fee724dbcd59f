package page

import (
	"strings"
	"unicode/utf8"
)

// How wide a sign is taken to be, as a share of the size of the text: about the
// mean of the widest sans-serif faces in use.
const (
	signWidth     = 0.58
	boldSignWidth = 0.64
)

// TextWidth estimates how wide a text will be; the fonts of the reader are not
// known here.
func TextWidth(text string, size float64, isBold bool) float64 {
	sign := signWidth
	if isBold {
		sign = boldSignWidth
	}
	return sign * size * float64(utf8.RuneCountInString(text))
}

// Paragraph writes text at the place the page has come to, broken into lines
// that fit it, and moves below it.
func (p *Page) Paragraph(size float64, isBold bool, text string) {
	for _, line := range Wrapped(text, p.Width(), size, isBold) {
		p.Y += size
		p.Text(p.Left(), p.Y, size, Start, isBold, line)
		p.Y += 0.4 * size
	}
}

// Gap leaves room.
func (p *Page) Gap(height float64) { p.Y += height }

// Wrapped breaks a text at its spaces to a width. A number stays with what
// follows it; a word that is wider is broken where the line ends.
func Wrapped(text string, width, size float64, isBold bool) []string {
	var lines []string
	line := ""
	for _, word := range narrow(words(text), width, size, isBold) {
		switch {
		case line == "":
			line = word
		case TextWidth(line+" "+word, size, isBold) > width:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

// narrow breaks the words that are wider than a line.
func narrow(words []string, width, size float64, isBold bool) []string {
	most := max(1, int(width/TextWidth(" ", size, isBold)))
	out := make([]string, 0, len(words))
	for _, word := range words {
		signs := []rune(word)
		for ; len(signs) > most; signs = signs[most:] {
			out = append(out, string(signs[:most]))
		}
		out = append(out, string(signs))
	}
	return out
}

// words splits a text into what is not broken: words, and numbers with the unit
// behind them.
func words(text string) []string {
	var out []string
	for _, field := range strings.Fields(text) {
		last := len(out) - 1
		if last >= 0 && isNumber(out[last]) {
			out[last] += " " + field
			continue
		}
		out = append(out, field)
	}
	return out
}

func isNumber(word string) bool {
	return strings.Trim(word, "0123456789.(-") == "" && strings.ContainsAny(word, "0123456789")
}
