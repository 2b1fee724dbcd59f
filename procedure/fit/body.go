package fit

// Figures of the body length rule. Source: common practice, no source.
const (
	// bodyTolerance is how far a measured body may be from the length that a
	// known spacer makes up. It covers the body and a shop caliper together.
	bodyTolerance = 100 * Micrometer
	// bodySpacing is half the distance between the closest two spacers: how far
	// off a reading may be before another spacer would be the right one.
	bodySpacing = (1850 - 1000) * Micrometer / 2
)

// bodySpacers are the spacers that make up for a longer body, and the rings
// they are made of.
var bodySpacers = []struct {
	total Length
	rings []Length
}{
	{0, nil},
	{1000 * Micrometer, []Length{1000 * Micrometer}},
	{1850 * Micrometer, []Length{1850 * Micrometer}},
	{2850 * Micrometer, []Length{1850 * Micrometer, 1000 * Micrometer}},
}

// BodyLength compares the length of a freehub body, from the inner shoulder to
// the outer end, with the body length the cassette was made for, and names the
// spacers that go behind the cassette. ownSpacer is the thickness of a spacer
// the cassette always needs and comes with, usually 0 or 1 mm.
//
// A cassette made for a longer body does not fit: the lockring would clamp the
// body's end. A difference that no known spacer makes up within 0.1 mm is tried
// and measured. Margin is how far the reading may be off before another answer
// would be right.
//
// Lengths lie between 10 mm and 60 mm, ownSpacer between 0 and 5 mm.
func BodyLength(body, madeFor, ownSpacer Length, ins Instrument) (Result, error) {
	var in inputs
	in.length("body", body, 10*Millimeter, 60*Millimeter)
	in.length("made_for", madeFor, 10*Millimeter, 60*Millimeter)
	in.length("own_spacer", ownSpacer, 0, 5*Millimeter)
	in.instrument(ins)
	if err := in.err("body-length"); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: "body-length", Instrument: ins,
		Measured:   "body " + body.String() + ", cassette made for " + madeFor.String(),
		Limit:      "a known spacer makes up the difference within " + bodyTolerance.String(),
		Source:     sourcePractice,
		Confidence: CommonPractice,
	}
	r.body(body-madeFor, ownSpacer)
	return r, nil
}

// body judges a difference of lengths.
func (r *Result) body(difference, ownSpacer Length) {
	if difference < 0 && -difference >= bodyTolerance+r.Instrument.Error {
		r.judge(difference, r.Instrument.Error)
		r.Verdict = DoesNotFit
		r.Why = "The body is " + (-difference).String() + " too short for this cassette: the lockring would press on the body and leave the sprockets loose."
		return
	}
	nearest := bodySpacers[0]
	for _, s := range bodySpacers {
		if (difference - s.total).Abs() < (difference - nearest.total).Abs() {
			nearest = s
		}
	}
	off := (difference - nearest.total).Abs()
	r.judge(bodySpacing-off, r.Instrument.Error)
	if off > bodyTolerance {
		r.Margin = lengthMargin(bodyTolerance - off)
		r.Verdict = TryAndMeasure
		r.Why = "The lengths differ by " + difference.String() + ", which no usual spacer makes up. Measure again, then fit dry: the last sprocket must stand 0.5 mm to 2 mm above the body."
		return
	}
	r.bodyNeeds(nearest.rings, ownSpacer)
}

// bodyNeeds names the spacers and says why.
func (r *Result) bodyNeeds(rings []Length, ownSpacer Length) {
	total := ownSpacer
	for _, ring := range rings {
		total += ring
		r.need(ring.String() + " spacer behind the cassette")
	}
	if ownSpacer > 0 {
		r.need("the cassette's own " + ownSpacer.String() + " spacer")
	}
	r.length("spacers_behind", total-ownSpacer)
	r.length("own_spacer", ownSpacer)
	r.Why = "Body and cassette have the same length; no spacer goes behind it."
	if total > 0 {
		r.Why = "The stack is filled up by " + total.String() + " of spacers. Without them it stays loose under the lockring."
	}
	if r.Verdict == TryAndMeasure {
		r.Why += " The reading is too coarse to be sure: measure with a caliper, fit dry, and see that the last sprocket stands 0.5 mm to 2 mm above the body."
	}
}

// How far the last sprocket stands above the end of the body, so that the
// lockring clamps sprockets and still has thread. Source: common practice, no
// source.
const (
	leastProud = 500 * Micrometer
	mostProud  = 2 * Millimeter
)

// StackProud judges how far the last sprocket stands above the end of the body,
// with the stack pressed home and before the lockring: 0.5 mm to 2 mm. Negative
// is below the end. Proud lies between -20 mm and 20 mm.
func StackProud(proud Length, ins Instrument) (Result, error) {
	var in inputs
	in.length("proud", proud, -20*Millimeter, 20*Millimeter)
	in.instrument(ins)
	if err := in.err("body-length"); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: "body-length", Check: "stack", Instrument: ins,
		Measured: "last sprocket " + proud.String() + " above the body",
		Limit:    leastProud.String() + " to " + mostProud.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(min(proud-leastProud, mostProud-proud), ins.Error)
	r.explain("The lockring clamps the sprockets.", tooCoarse, "Too high: one spacer too many, and the lockring has too little thread.")
	if r.Verdict == DoesNotFit && proud < leastProud {
		r.Why = "Too low: a spacer is missing, and the lockring would press on the body and leave the sprockets loose."
	}
	return r, nil
}
