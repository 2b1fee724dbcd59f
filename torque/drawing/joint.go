package drawing

import "github.com/tightwright/tightwright/torque/joint"

// Joint draws what a torque does to a bolt: where the torque goes, the preload
// with its band against proof load and yield load, and how much of the yield
// tension and twist use together. Without a class there is nothing to hold the
// preload against, and the drawing says so.
//
// Errors: [ErrNotDrawable].
func Joint(t joint.Tightened) ([]byte, error) {
	p := newPicture("joint")
	forces := preloadGauge(t)
	title := boltName(t.Thread, t.Class) + ": " + shortened(figures(t.TorqueNewtonMeters, 3)) + " N·m gives " + forces.bars[0].label
	p.Paragraph(headSize, true, title)
	p.Gap(14)
	torques := torqueSplit(t)
	torques.draw(p)
	forces.draw(p)
	said := []string{torques.words(), forces.words()}
	if t.YieldUtilization.IsZero() {
		const unknown = "No strength class is given: nothing is known of its yield."
		p.Paragraph(textSize, false, unknown)
		said = append(said, unknown)
	} else {
		use := yieldGauge(t)
		use.draw(p)
		said = append(said, use.words())
	}
	return p.explained(title, said, t.Warnings)
}

// boltName names a bolt: "M8x1.25, class 8.8".
func boltName(thread joint.Thread, class joint.Class) string {
	if class.IsZero() {
		return thread.String()
	}
	return thread.String() + ", class " + class.String()
}

func torqueSplit(t joint.Tightened) split {
	return split{
		title: "Where the torque goes, at nominal friction", unit: "N·m",
		parts: []part{
			{"into the pull of the bolt", t.PitchNewtonMeters, solid},
			{"lost in the thread by friction", t.ThreadNewtonMeters, rising},
			{"lost under the head by friction", t.HeadNewtonMeters, dotted},
		},
	}
}

func preloadGauge(t joint.Tightened) gauge {
	unit, per := forceUnit(t.PreloadBandNewtons.High, t.YieldLoadNewtons)
	g := gauge{
		title: "Preload, in " + unit,
		bars:  []bar{bandBar("", t.PreloadBandNewtons.Times(per), unit, rising)},
	}
	if t.ProofLoadNewtons > 0 {
		g.limits = append(g.limits, limit{label: "proof load " + forceText(t.ProofLoadNewtons), value: t.ProofLoadNewtons * per})
	}
	if t.YieldLoadNewtons > 0 {
		g.limits = append(g.limits, limit{label: "yield in pure tension " + forceText(t.YieldLoadNewtons), value: t.YieldLoadNewtons * per})
	}
	g.scale = axisTo(valuesOf(g.bars, g.limits)...)
	return g
}

func yieldGauge(t joint.Tightened) gauge {
	g := gauge{
		title:  "Tension and twist together, in % of the yield",
		bars:   []bar{bandBar("", t.YieldUtilization.Times(100), "%", dotted)},
		limits: []limit{{label: "the bolt yields", value: 100}},
	}
	g.scale = axisTo(valuesOf(g.bars, g.limits)...)
	return g
}

// bandBar shows a band, named by what it is and its figures.
func bandBar(name string, b joint.Band, unit string, f fill) bar {
	return bar{label: name + bandText(b, unit), low: b.Low, nominal: b.Nominal, high: b.High, fill: f}
}

// bandText writes a band with the figures its width deserves, two or three:
// "62 N·m (25 N·m to 140 N·m)".
func bandText(b joint.Band, unit string) string {
	count := min(3, max(2, joint.FiguresDeserved(b)))
	text := figures(b.Nominal, count) + " " + unit
	if b.Low < b.High {
		text += " (" + figures(b.Low, count) + " " + unit + " to " + figures(b.High, count) + " " + unit + ")"
	}
	return text
}

// forceUnit returns the unit for a scale of forces and how much of it a newton is.
func forceUnit(newtons ...float64) (unit string, per float64) {
	for _, n := range newtons {
		if n >= 2000 {
			return "kN", 0.001
		}
	}
	return "N", 1
}

// forceText writes a force that has no band.
func forceText(newtons float64) string {
	if newtons < 1000 {
		return shortened(figures(newtons, 3)) + " N"
	}
	return shortened(figures(newtons/1000, 3)) + " kN"
}

// explained ends a drawing that explains: its warnings, and what it may not be
// used for.
func (p *picture) explained(title string, said []string, warnings joint.Warnings) ([]byte, error) {
	for _, w := range warnings.List() {
		if w == joint.MoreFiguresThanScatter {
			continue // the drawing shows no more figures than that
		}
		text := "Mind: " + w.Text() + "."
		p.Paragraph(textSize, true, text)
		said = append(said, text)
	}
	text := capital(joint.ExplanationText) + "."
	p.Gap(6)
	p.Paragraph(smallSize, false, text)
	return p.SVG(title, sentences(append(said, text)...))
}

func capital(text string) string {
	if text == "" || text[0] < 'a' || text[0] > 'z' {
		return text
	}
	return string(text[0]-'a'+'A') + text[1:]
}
