package main

import (
	"math"
	"strconv"

	"github.com/tightwright/tightwright/torque/joint"
)

// answerColumn is where the words of an answer begin, after its name.
const answerColumn = 16

// row writes one line of an answer, or more where it is long.
func (p *page) row(name, text string) { p.hang(name, answerColumn, text) }

// assumed writes what a result rests on that nobody gave.
func (p *page) assumed(list joint.Assumptions) {
	name := "assumed"
	for _, a := range list.List() {
		p.row(name, a.Text()+" ("+a.Source()+")")
		name = ""
	}
}

// rests writes what a result rests on, what to mind, and what it may be used for.
func (p *page) rests(assumed joint.Assumptions, warnings joint.Warnings) {
	p.assumed(assumed)
	name := "mind"
	for _, w := range warnings.List() {
		if w == joint.MoreFiguresThanScatter {
			continue // the words show no more figures than that
		}
		p.row(name, w.Text())
		name = ""
	}
	p.row("use", joint.ExplanationText)
}

// rounded writes x to a number of figures, without an exponent and without zeros
// at the end of a decimal: 1852 to two figures is "1900".
func rounded(x float64, figures int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	value, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', figures-1, 64), 64)
	if err != nil {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strconv.FormatFloat(value, 'f', -1, 64)
}

// banded writes a band with the figures its width deserves, two or three, as in
// "62 N·m (25 N·m to 140 N·m)".
func banded(b joint.Band, unit string) string {
	figures := min(3, max(2, joint.FiguresDeserved(b)))
	text := rounded(b.Nominal, figures) + " " + unit
	if b.Low < b.High {
		text += " (" + rounded(b.Low, figures) + " " + unit + " to " + rounded(b.High, figures) + " " + unit + ")"
	}
	return text
}

// force writes a force with its band, in newtons or kilonewtons.
func force(b joint.Band) string {
	if b.High >= 2000 {
		return banded(b.Times(0.001), "kN")
	}
	return banded(b, "N")
}

// plainForce writes a force that has no band.
func plainForce(newtons float64) string {
	if newtons >= 1000 {
		return rounded(newtons/1000, 3) + " kN"
	}
	return rounded(newtons, 3) + " N"
}

// against says how a band lies against a limit.
func against(s joint.Standing) string {
	switch s {
	case joint.Below:
		return "below it over the whole band"
	case joint.BelowAtNominal:
		return "below it at nominal, over it at the high end"
	case joint.AboveAtNominal:
		return "over it at nominal, below it at the low end"
	case joint.Above:
		return "over it over the whole band"
	default:
		return ""
	}
}

// muOrK writes a coefficient or a factor with its band.
func muOrK(b joint.Band) string {
	text := rounded(b.Nominal, 3)
	if b.Low < b.High {
		text += " (" + rounded(b.Low, 3) + " to " + rounded(b.High, 3) + ")"
	}
	return text
}
