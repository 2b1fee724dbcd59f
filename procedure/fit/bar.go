package fit

import "fmt"

// barTolerance is how far bar and stem bore may differ. Source: common
// practice, no source.
const barTolerance = 100 * Micrometer

// A Bar is a handlebar and the stem that is to clamp it.
type Bar struct {
	Diameter Length // of the bar where it is clamped: 25.0, 25.4, 26.0, 31.8, 35.0 mm
	Bore     Length // of the stem
	IsMetal  bool   // bar and stem are both metal
}

// BarClamp compares the bar with the bore of the stem: equal within 0.1 mm. A
// thinner bar goes in with a sleeve if bar and stem are metal.
func BarClamp(b Bar, ins Instrument) (Result, error) {
	var in inputs
	in.length("diameter", b.Diameter, 20*Millimeter, 45*Millimeter)
	in.length("bore", b.Bore, 20*Millimeter, 45*Millimeter)
	in.instrument(ins)
	if err := in.err("bar-clamp"); err != nil {
		return Result{}, err
	}
	off := b.Bore - b.Diameter
	r := Result{
		Rule: "bar-clamp", Instrument: ins,
		Measured: fmt.Sprintf("bar %s, stem bore %s", b.Diameter, b.Bore),
		Limit:    "equal within " + barTolerance.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(barTolerance-off.Abs(), ins.Error)
	r.explain("Bar and stem have the same diameter.", tooCoarse,
		"The bar is too thick for the stem: clamped, it would be crushed along two lines.")
	switch {
	case r.Verdict != DoesNotFit || off < 0:
	case b.IsMetal && off >= 500*Micrometer:
		r.Verdict, r.Margin = FitsWith, Margin{}
		r.need(fmt.Sprintf("a metal sleeve, %s inside and %s outside", b.Diameter, b.Bore))
		r.Why = "A sleeve fills the bore. Only metal in metal takes one."
	default:
		r.Why = "The bar is too thin for the stem and would slip; a sleeve is only for metal in metal."
	}
	return r, nil
}
