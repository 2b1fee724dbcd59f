package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// pageWidth is how wide text for people is set.
const pageWidth = 80

// A page is text for people under construction: headings, and paragraphs with
// a word hung out before them.
type page struct{ strings.Builder }

// line writes one line as it is.
func (p *page) line(format string, args ...any) {
	p.WriteString(fmt.Sprintf(format, args...) + "\n")
}

// heading writes a title with an empty line before it.
func (p *page) heading(format string, args ...any) {
	if p.Len() > 0 {
		p.WriteString("\n")
	}
	p.line(format, args...)
}

// hang writes a paragraph that begins after label; its further lines begin in
// the same column. A label that reaches into it has a line of its own. Nothing
// is written for an empty text.
func (p *page) hang(label string, column int, text string) {
	text = strings.TrimSpace(text)
	if text == "" {
		return
	}
	indent := strings.Repeat(" ", column)
	free := column - utf8.RuneCountInString(label)
	if free < 1 {
		p.WriteString(label + "\n" + indent)
	} else {
		p.WriteString(label + indent[:free])
	}
	p.WriteString(strings.Join(wrap(text, pageWidth-column), "\n"+indent) + "\n")
}

// wrap breaks text into lines of at most width characters at its spaces. A
// word that is longer stands alone. No-break spaces hold, and so does the
// space between a number and its unit.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(holdUnits(printable(text)), " ") {
		switch {
		case word == "":
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	lines = append(lines, line)
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], heldSpace, " ")
	}
	return lines
}

// heldSpace stands for a space at which a line is not broken. It can't be in
// printable text.
const heldSpace = "\x00"

// holdUnits keeps a number and its unit on one line, and what is off either way
// with its figure.
func holdUnits(text string) string {
	fields := strings.Split(text, " ")
	var out strings.Builder
	for i, field := range fields {
		if i > 0 {
			space := " "
			if holds(fields[:i], field) {
				space = heldSpace
			}
			out.WriteString(space)
		}
		out.WriteString(field)
	}
	return out.String()
}

// holds reports whether no line is broken between some words and the next one.
func holds(before []string, next string) bool {
	last := before[len(before)-1]
	switch {
	case isNumber(last) && (isUnit(next) || next == "deg"):
		return true
	case last == "deg" && len(before) > 1 && isNumber(before[len(before)-2]):
		return bare(next) == "C"
	case last == "±":
		return isNumber(next)
	}
	return next == "±"
}

func isNumber(word string) bool {
	word = strings.TrimLeft(word, "(-+±")
	return word != "" && strings.Trim(word, "0123456789./") == ""
}

func isUnit(word string) bool { return slices.Contains(shownUnits, bare(word)) }

// shownUnits are the units that stand behind a number in what people read.
var shownUnits = []string{
	"N·m", "N·cm", "lbf·in", "lbf·ft", "ozf·in", "kgf·cm", "kgf·m", "N", "kN", "kg", "MPa", "GPa",
	"mm", "mm²", "cm", "m", "µm", "in", "tpi", "%", "°", "°C", "s", "min", "h", "turn", "turns", "tooth", "teeth",
}

// bare is a word without the punctuation behind it.
func bare(word string) string { return strings.TrimRight(word, ".,;:)") }

// spelled turns a code into words for a person.
func spelled(code string) string {
	return strings.NewReplacer("-", " ", "_", " ").Replace(code)
}
