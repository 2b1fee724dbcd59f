package fit

// width compares the measured width with the widths of this kind of shell.
func (s Shell) width(kinds []ShellKind, ins Instrument) Result {
	r := Result{
		Rule: shellRule, Check: "width", Instrument: ins,
		Measured: "shell " + s.Width.String() + " wide", Source: sourcePractice, Confidence: CommonPractice,
	}
	var widths []Length
	for _, k := range kinds {
		widths = append(widths, k.Widths...)
	}
	if len(widths) == 0 {
		r.Verdict, r.Limit = TryAndMeasure, "a width known for this shell"
		r.Why = "No kind of shell with these threads or this bore is known. Measure again, and take the widths from the maker's papers."
		return r
	}
	nearest := widths[0]
	for _, w := range widths {
		if (w - s.Width).Abs() < (nearest - s.Width).Abs() {
			nearest = w
		}
	}
	r.Limit = nearest.String() + " within " + shellWidthTolerance.String()
	r.judge(shellWidthTolerance-(s.Width-nearest).Abs(), ins.Error)
	r.explain(
		"The width is that of a "+nearest.String()+" shell.",
		"The width is so close to the limit that this instrument can't decide.",
		"No shell of this kind has this width: worn faces, a bad cut, or another kind of shell.")
	s.faces(&r)
	return r
}

// faces looks at the difference between two places of the rim: more than
// 0.1 mm and the faces are not square.
func (s Shell) faces(r *Result) {
	const square = 100 * Micrometer
	if s.Width2 == 0 {
		return
	}
	r.Measured += ", at a second place " + s.Width2.String()
	if (s.Width - s.Width2).Abs() > square {
		r.Verdict = max(r.Verdict, TryAndMeasure)
		r.Why += " The faces differ by more than " + square.String() + ": out of square. A metal shell is faced; a carbon one goes to the foreman."
	}
}

// pressedBore compares a bore with the size a cup or bearing is pressed into:
// nominal to 0.05 mm under.
func pressedBore(bore, madeFor Length, ins Instrument) Result {
	r := Result{
		Rule: shellRule, Check: "bore", Instrument: ins,
		Measured: "bore " + bore.String() + ", cups made for " + madeFor.String(),
		Limit:    (madeFor - pressedBoreUnder).String() + " to " + madeFor.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(min(madeFor-bore, bore-(madeFor-pressedBoreUnder)), ins.Error)
	switch {
	case r.Verdict == Fits:
		r.Why = "The bore is in the range for a press fit."
	case (bore - madeFor).Abs() >= pressedBoreOther:
		r.Verdict = DoesNotFit
		r.Why = "This is a bore of another size; these cups are not made for it."
	case r.Verdict == DoesNotFit && bore > madeFor:
		r.Verdict = TryAndMeasure
		r.Why = "The bore is too large for a press fit. Use a sleeve joined by thread between the cups, or ask the foreman."
	case r.Verdict == DoesNotFit:
		r.Verdict = TryAndMeasure
		r.Why = "The bore is under size. Look for paint and burrs, measure again, and do not press by force."
	default:
		r.Why = "The range is narrower than this instrument can tell apart. Measure with a bore gauge."
	}
	return r
}
