package procedure

import (
	"github.com/tightwright/tightwright/procedure/fit"
)

// trueEnough is the run-out that a trued rim may have from side to side; it
// comes off the clearance where nobody has measured it. Source: common
// practice, no source.
const trueEnough = 500 * fit.Micrometer

// twoReadings has the error of a difference of two readings.
func twoReadings(ins fit.Instrument) fit.Instrument {
	return fit.Instrument{Name: ins.Name + ", two readings", Error: 2 * ins.Error}
}

// A tireGap is a place where a tyre can touch.
type tireGap struct{ name, key string }

// gaps lists where the tyre is checked for width: a wider one goes between the
// legs of the fork in front, and between two pairs of stays at the rear.
func (w wheelAt) gaps() []tireGap {
	if w.holder() == "fork" {
		return []tireGap{{"fork legs", "fork.gap"}}
	}
	return []tireGap{{"chainstays", "frame.gap_rear"}, {"seatstays", "frame.gap_seatstays"}}
}

func (w wheelAt) tireRule() fitRule {
	needs := []string{
		w.on("tire", "nominal"), w.on("tire", "bead_seat"), w.on("rim", "bead_seat"), w.on("rim", "inner_width"), "frame.kind",
	}
	for _, g := range w.gaps() {
		needs = append(needs, g.key)
	}
	return fitRule{
		needs:   needs,
		may:     []string{w.on("tire", "width"), w.on("rim", "run_out"), "frame.mud", w.on("tire", "radius"), w.in("top_radius")},
		numbers: []string{"width"},
		run:     w.tireFit,
	}
}

// tireFit checks the bead seat once, then the air at every place.
func (w wheelAt) tireFit(a *attributes) ([]fit.Result, map[string]string, error) {
	tire := w.tire(a)
	var results []fit.Result
	for i, g := range w.gaps() {
		at := tire
		at.Gap = a.length(g.key)
		found, err := fit.TireClearance(at, a.with(fit.Caliper()))
		if a.err != nil || err != nil {
			return nil, nil, firstError(a.err, err)
		}
		found[1].Check = g.name
		if i > 0 {
			found = found[1:]
		}
		results = append(results, found...)
	}
	top, err := w.top(a, tire)
	if err != nil {
		return nil, nil, err
	}
	width := tire.Width
	if width == 0 {
		width = fit.TireWidth(tire.Nominal, tire.RimInner)
	}
	return append(results, top...), map[string]string{"width": millimeters(width)}, nil
}

// tire is the tyre on its rim, before it is held to a gap.
func (w wheelAt) tire(a *attributes) fit.Tire {
	t := fit.Tire{
		Nominal: a.length(w.on("tire", "nominal")), BeadSeat: a.length(w.on("tire", "bead_seat")),
		RimSeat: a.length(w.on("rim", "bead_seat")), RimInner: a.length(w.on("rim", "inner_width")),
		Width: a.length(w.on("tire", "width")), RunOut: trueEnough,
		IsRacing: a.text("frame.kind") == "racing", IsMudTire: a.optional("frame.mud") == "yes",
	}
	if a.optional(w.on("rim", "run_out")) != "" {
		t.RunOut = a.length(w.on("rim", "run_out"))
	}
	return t
}

// top checks the air above the tread where both radii have been measured. It
// is a difference of two readings of a rule, so it has the error of both.
func (w wheelAt) top(a *attributes, t fit.Tire) ([]fit.Result, error) {
	tread, above := a.length(w.on("tire", "radius")), a.length(w.in("top_radius"))
	if a.err != nil || tread == 0 || above == 0 {
		return nil, a.err
	}
	t.Gap = a.length(w.gaps()[0].key)
	t.Top = max(above-tread, 1) // 0 would mean that nobody measured
	found, err := fit.TireClearance(t, twoReadings(a.with(fit.SteelRule())))
	if err != nil {
		return nil, err
	}
	return found[2:], nil
}

// firstError prefers the mistake on the sheet to what follows from it.
func firstError(sheet, rule error) error {
	if sheet != nil {
		return sheet
	}
	return rule
}
