package drawing

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// How wide a sign is taken to be, as a share of the size of the text: about the
// mean of the widest sans-serif faces in use.
const (
	signWidth     = 0.58
	boldSignWidth = 0.64
)

// textWidth estimates how wide a text will be; the fonts of the reader are not
// known here.
func textWidth(text string, size float64, isBold bool) float64 {
	sign := signWidth
	if isBold {
		sign = boldSignWidth
	}
	return sign * size * float64(utf8.RuneCountInString(text))
}

// paragraph writes text at the place the picture has come to, broken into lines
// that fit the page, and moves below it.
func (p *picture) paragraph(size float64, isBold bool, text string) {
	for _, line := range wrapped(text, size, isBold) {
		p.y += size
		p.text(plotLeft, p.y, size, start, isBold, line)
		p.y += 0.4 * size
	}
}

// gap leaves room.
func (p *picture) gap(height float64) { p.y += height }

// wrapped breaks a text at its spaces to the width of the page. A number stays with what follows it.
func wrapped(text string, size float64, isBold bool) []string {
	var lines []string
	line := ""
	for _, word := range words(text) {
		switch {
		case line == "":
			line = word
		case textWidth(line+" "+word, size, isBold) > plotWidth:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
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

// figures writes x to a number of figures, without an exponent: 1852 to two
// figures is "1900".
func figures(x float64, count int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', count-1, 64), 64)
	if err != nil {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	places := count - 1 - int(math.Floor(math.Log10(math.Abs(rounded))+1e-12))
	return strconv.FormatFloat(rounded, 'f', max(0, places), 64)
}

// shortened takes the zeros off that end a decimal.
func shortened(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// percent writes a share of 1 as whole percent.
func percent(share float64) string { return strconv.FormatFloat(100*share, 'f', 0, 64) + " %" }

// sentences joins what is to be said, each part ended by a full stop.
func sentences(parts ...string) string {
	var out []string
	for _, part := range parts {
		if part = strings.TrimRight(part, ". "); part != "" {
			out = append(out, part+".")
		}
	}
	return strings.Join(out, " ")
}
