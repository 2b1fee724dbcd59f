package drawing

import "github.com/tightwright/tightwright/torque/joint"

// Clamp draws what a clamp holds: along the tube or around it against the demand,
// whole and with one bolt loose, and the pressure on the tube against a limit in
// MPa. A limit of 0 stands for "not known", and the drawing says that nothing is
// compared.
//
// The grip is drawn around the tube where the demand is a torque alone, else
// along it; where the demand is both, as the pull on the face of the tube.
//
// Errors: [ErrNotDrawable].
func Clamp(g joint.ClampGrip, pressureLimitMPa float64) ([]byte, error) {
	p := newPicture("clamp")
	title := clampTitle(g)
	p.Paragraph(headSize, true, title)
	p.Gap(14)
	grip := gripGauge(g)
	grip.draw(p)
	pressure := pressureGauge(g, pressureLimitMPa)
	pressure.draw(p)
	said := []string{grip.words(), pressure.words()}
	if pressureLimitMPa == 0 {
		const unknown = "No limit is known for the pressure on this tube: it is compared with nothing."
		p.Paragraph(textSize, false, unknown)
		said = append(said, unknown)
	}
	if g.OneLoose.Verdict != "" {
		text := "With one bolt loose it " + g.OneLoose.Verdict + "."
		p.Paragraph(textSize, false, text)
		said = append(said, text)
	}
	return p.explained(title, said, g.Warnings)
}

func clampTitle(g joint.ClampGrip) string {
	if g.Verdict == "" {
		return "What the clamp holds"
	}
	name := "The load asked for"
	if g.Demand.Name != "" {
		name = capital(g.Demand.Name)
	}
	return name + ": the clamp " + g.Verdict
}

// gripGauge shows the grip in newtons along the tube, or in newton meters around
// it where only that is asked for.
func gripGauge(g joint.ClampGrip) gauge {
	demand := g.Demand
	if demand.AxialNewtons == 0 && demand.TorqueNewtonMeters > 0 {
		out := gauge{
			title: "Holds around the tube, in N·m",
			bars: []bar{
				bandBar("all bolts tight: ", g.TorsionalSlipNewtonMeters, "N·m", rising),
				bandBar("one bolt loose: ", g.OneLoose.TorsionalSlipNewtonMeters, "N·m", dotted),
			},
			limits: []limit{{label: "must hold " + shortened(figures(demand.TorqueNewtonMeters, 3)) + " N·m", value: demand.TorqueNewtonMeters}},
		}
		out.scale = axisTo(valuesOf(out.bars, out.limits)...)
		return out
	}
	pull := g.DemandOverGrip.Nominal * g.AxialSlipNewtons.Nominal
	unit, per := forceUnit(g.AxialSlipNewtons.High, pull)
	out := gauge{
		title: "Holds along the tube, in " + unit,
		bars: []bar{
			bandBar("all bolts tight: ", g.AxialSlipNewtons.Times(per), unit, rising),
			bandBar("one bolt loose: ", g.OneLoose.AxialSlipNewtons.Times(per), unit, dotted),
		},
	}
	if pull > 0 {
		label := "must hold " + forceText(pull)
		if demand.TorqueNewtonMeters > 0 {
			label += ", pull and twist together"
		}
		out.limits = []limit{{label: label, value: pull * per}}
	}
	out.scale = axisTo(valuesOf(out.bars, out.limits)...)
	return out
}

func pressureGauge(g joint.ClampGrip, limitMPa float64) gauge {
	out := gauge{
		title: "Presses on the tube, in MPa",
		bars: []bar{
			bandBar("on average: ", g.MeanPressureMPa, "MPa", falling),
			bandBar("at the slot and the edges: ", g.PeakPressureMPa, "MPa", crossed),
		},
	}
	if limitMPa != 0 {
		out.limits = []limit{{label: "limit " + shortened(figures(limitMPa, 3)) + " MPa", value: limitMPa}}
	}
	out.scale = axisTo(valuesOf(out.bars, out.limits)...)
	return out
}
