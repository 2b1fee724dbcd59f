package drawing

import "github.com/tightwright/tightwright/torque/joint"

// Spline draws how a sprocket stack loads the body of a hub: how the torque of
// the sprocket is shared between the faces and the splines, and the pressure on
// the flanks against what the body bears. Without a body the pressure is compared
// with nothing, and the drawing says so.
//
// Errors: [ErrNotDrawable].
func Spline(l joint.SplineLoad) ([]byte, error) {
	p := newPicture("spline")
	title := splineTitle(l)
	p.Paragraph(headSize, true, title)
	p.Gap(14)
	torques := sprocketSplit(l)
	torques.draw(p)
	pressure := flankGauge(l)
	pressure.draw(p)
	said := []string{torques.words(), pressure.words()}
	if l.PressureLimitMPa == 0 {
		const unknown = "The material of the body is not given: the pressure is compared with nothing."
		p.Paragraph(textSize, false, unknown)
		said = append(said, unknown)
	}
	return p.explained(title, said, l.Warnings)
}

func splineTitle(l joint.SplineLoad) string {
	title := "The sprocket on its splines"
	if !l.Body.IsZero() {
		title += ", body of " + l.Body.String()
	}
	if l.Verdict != "" {
		title += ": " + l.Verdict
	}
	return title
}

// sprocketSplit shares out the nominal torque; the faces pass on what the flanks
// do not.
func sprocketSplit(l joint.SplineLoad) split {
	flanks := l.FlankNewtonMeters.Nominal
	return split{
		title: "How the torque of the sprocket reaches the body", unit: "N·m",
		parts: []part{
			{"through the faces that the lockring presses together", l.SprocketNewtonMeters.Nominal - flanks, dotted},
			{"through the flanks of the splines", flanks, rising},
		},
	}
}

func flankGauge(l joint.SplineLoad) gauge {
	g := gauge{
		title: "Presses on the flanks of the splines, in MPa",
		bars:  []bar{bandBar("", l.FlankPressureMPa, "MPa", rising)},
	}
	if l.PressureLimitMPa != 0 {
		g.limits = []limit{{label: "the body bears " + figures(l.PressureLimitMPa, 3) + " MPa", value: l.PressureLimitMPa}}
	}
	g.scale = axisTo(valuesOf(g.bars, g.limits)...)
	return g
}
