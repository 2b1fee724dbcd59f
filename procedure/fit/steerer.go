package fit

import "fmt"

const steererRule = "steerer-stack"

// How far the top of the steerer must lie below the top of the stem, so that
// the cap presses on the stem and not on the steerer.
const (
	leastDrop = 2 * Millimeter // common practice, no source
	goodDrop  = 3 * Millimeter // common practice, no source
	mostDrop  = 5 * Millimeter // ISO 4210-2, 4.7.4, read in an equivalent national standard of 2018
)

// A Steerer is a fork steerer and everything stacked on it.
type Steerer struct {
	Length                           Length // from the crown race seat to its top
	HeadTube, Headset, Spacers, Stem Length // heights of the stack, spacers above the stem not counted
	Diameter, StemBore               Length // 0: not checked
	RaceSeat, RaceBore               Length // lower race: seat on the fork, bore of the race; 0: not checked
	IsCarbon                         bool
	SpacerLimit                      Length // most spacers under the stem the maker allows on carbon; 0: not found
	IsThreadedInClamp                bool   // threads where the stem clamps
}

// SteererStack checks the "length": the steerer ends 2 mm to 3 mm below the top
// of the stem, at most 5 mm; the "diameter" against the stem and the "lower
// race", both within 0.1 mm; that no "thread" lies inside the clamp; and on
// carbon the height of "spacers" and the "anchor".
func SteererStack(s Steerer, ins Instrument) ([]Result, error) {
	var in inputs
	in.length("length", s.Length, 80*Millimeter, 500*Millimeter)
	in.length("head_tube", s.HeadTube, 40*Millimeter, 350*Millimeter)
	in.length("headset", s.Headset, 0, 80*Millimeter)
	in.length("spacers", s.Spacers, 0, 150*Millimeter)
	in.length("stem", s.Stem, 20*Millimeter, 120*Millimeter)
	in.length("diameter", s.Diameter, 0, 60*Millimeter)
	in.length("stem_bore", s.StemBore, 0, 60*Millimeter)
	in.length("spacer_limit", s.SpacerLimit, 0, 150*Millimeter)
	in.instrument(ins)
	if err := in.err(steererRule); err != nil {
		return nil, err
	}
	results := []Result{s.drop(ins), s.clampZone()}
	if s.Diameter > 0 && s.StemBore > 0 {
		results = append(results, equal(steererRule, "diameter", "steerer", s.Diameter, "stem", s.StemBore, barTolerance, ins))
	}
	if s.RaceSeat > 0 && s.RaceBore > 0 {
		results = append(results, equal(steererRule, "lower race", "seat", s.RaceSeat, "race", s.RaceBore, barTolerance, ins))
	}
	if s.IsCarbon {
		results = append(results, s.carbon(ins), s.anchor())
	}
	return results, nil
}

func (s Steerer) drop(ins Instrument) Result {
	stack := s.HeadTube + s.Headset + s.Spacers + s.Stem
	drop := stack - s.Length
	r := Result{
		Rule: steererRule, Check: "length", Instrument: ins,
		Measured:   fmt.Sprintf("stack %s, steerer %s: top of the steerer %s below the stem", stack, s.Length, drop),
		Limit:      fmt.Sprintf("%s to %s below, at most %s", leastDrop, goodDrop, mostDrop),
		Source:     "ISO 4210-2, 4.7.4 (5 mm), read in an equivalent national standard; 2 mm to 3 mm: " + sourcePractice,
		Confidence: Published,
	}
	r.judge(min(drop-leastDrop, goodDrop-drop), ins.Error)
	r.length("drop", drop)
	switch {
	case r.Verdict == Fits:
		r.Why = "The cap presses on the stem, and the stem holds the whole steerer."
	case drop < leastDrop && r.Verdict == DoesNotFit:
		r.Verdict, r.Margin = FitsWith, Margin{}
		r.need("a spacer of about " + (leastDrop - drop + 500*Micrometer).String() + " above the stem")
		r.Why = "The steerer is too long: the cap would press on it and leave the bearings loose. Add a spacer above, or have it cut."
	case drop-mostDrop >= max(ins.Error, Nanometer):
		r.Verdict, r.Margin = DoesNotFit, lengthMargin(mostDrop-drop)
		r.Why = "The steerer is too short for this stack: the stem would hold it by too little."
	default:
		r.Verdict = TryAndMeasure
		r.Why = "Near or past the 2 mm to 3 mm the shop works to. Measure with the stem on; take out a spacer if the steerer sits deeper."
	}
	return r
}

func (s Steerer) clampZone() Result {
	r := compared(steererRule, "thread", "threads inside the clamp: "+yes(s.IsThreadedInClamp), "no thread where the stem clamps")
	r.Source, r.Confidence = "ISO 4210-2, 4.7.4, read in an equivalent national standard", Published
	r.Why = "The stem clamps on a plain tube."
	if s.IsThreadedInClamp {
		r.Verdict = DoesNotFit
		r.Why = "The stem would clamp on threads, where a steerer breaks."
	}
	return r
}

func (s Steerer) carbon(ins Instrument) Result {
	r := Result{
		Rule: steererRule, Check: "spacers", Instrument: ins,
		Measured: s.Spacers.String() + " of spacers under the stem", Limit: "the maker's limit for carbon, " + s.SpacerLimit.String(),
		Source: "the maker's papers", Confidence: Published,
	}
	if s.SpacerLimit == 0 {
		r.Verdict, r.Limit = TryAndMeasure, "the maker's limit for carbon: not found"
		r.Why = "A carbon steerer has a limit for the height of spacers. Find it before it is cut or clamped."
		return r
	}
	r.judge(s.SpacerLimit-s.Spacers, ins.Error)
	r.explain("The spacers are within the maker's limit.", tooCoarse, "Too many spacers under the stem for this carbon steerer.")
	return r
}

func (s Steerer) anchor() Result {
	r := compared(steererRule, "anchor", "carbon steerer", "an expander plug, never a star nut")
	r.need("an expander plug")
	r.Why = "A star nut cuts the inside of a carbon steerer."
	return r
}

// equal judges two diameters that must be the same within a tolerance.
func equal(rule, check, nameA string, a Length, nameB string, b, tolerance Length, ins Instrument) Result {
	r := Result{
		Rule: rule, Check: check, Instrument: ins,
		Measured: nameA + " " + a.String() + ", " + nameB + " " + b.String(),
		Limit:    "equal within " + tolerance.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(tolerance-(a-b).Abs(), ins.Error)
	r.explain("The two have the same size.", tooCoarse, "The two differ by "+(a-b).Abs().String()+" and do not belong together.")
	return r
}
