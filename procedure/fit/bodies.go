package fit

import (
	"cmp"
	"fmt"
	"slices"
)

// A Cassette is what a rider knows of a cassette when the body for it is asked.
type Cassette struct {
	Splines          string // pattern it is cut for, an id of [DriveInterfaces]
	MadeFor          Length // body length it was made for; 0: not known
	OwnSpacer        Length // spacer it always needs and comes with; 0: none
	SmallestSprocket int    // teeth; 0: not counted
}

// A BodyChoice is one kind of freehub body, or hub, and what it is to a cassette.
type BodyChoice struct {
	Body    DriveInterface
	Length  Length // 0 where no usual length is known
	Results []Result
}

// Verdict is the worst of the results.
func (c BodyChoice) Verdict() Verdict { return Worst(c.Results...) }

// bodyLengths are the lengths in which bodies of a pattern are made, where that
// is known. Source: common practice, no source.
func bodyLengths(pattern string) []Length {
	if pattern == "9-spline" {
		return []Length{34900 * Micrometer, 36750 * Micrometer}
	}
	return nil
}

// FindBodies goes through the known bodies and hubs for a cassette: which take
// it, with what spacer, and which do not and why. Those that take it come first.
// Lengths of bodies are those of the list here, not measured; ins is what the
// cassette's own length was taken with, [Marked] if it was read.
//
// MadeFor must be given for a pattern that is made in several lengths, and lies
// between 10 mm and 60 mm; OwnSpacer between 0 and 5 mm; SmallestSprocket
// between 7 and 80, or 0.
func FindBodies(c Cassette, ins Instrument) ([]BodyChoice, error) {
	var in inputs
	c.Splines = in.pattern("splines", c.Splines)
	if c.MadeFor != 0 {
		in.length("made_for_length", c.MadeFor, 10*Millimeter, 60*Millimeter)
	} else if lengths := bodyLengths(c.Splines); len(lengths) > 1 {
		in.add("made_for_length", "required", "bodies of this pattern are %v long: say for which the cassette was made", lengths)
	}
	in.length("own_spacer", c.OwnSpacer, 0, 5*Millimeter)
	if c.SmallestSprocket != 0 {
		in.count("smallest_sprocket", c.SmallestSprocket, 7, 80)
	}
	in.instrument(ins)
	if err := in.err("find-bodies"); err != nil {
		return nil, err
	}
	var out []BodyChoice
	for _, d := range DriveInterfaces() {
		lengths := bodyLengths(d.ID)
		if len(lengths) == 0 {
			lengths = []Length{0}
		}
		for _, l := range lengths {
			results, err := c.on(d, l, ins)
			if err != nil {
				return nil, err
			}
			out = append(out, BodyChoice{Body: d, Length: l, Results: results})
		}
	}
	slices.SortStableFunc(out, func(a, b BodyChoice) int { return cmp.Compare(a.Verdict(), b.Verdict()) })
	return out, nil
}

// on asks about one body. Another pattern ends it: the rest would mean nothing.
func (c Cassette) on(d DriveInterface, length Length, ins Instrument) ([]Result, error) {
	pattern, err := SplinePattern(d.ID, c.Splines)
	if err != nil || pattern.Verdict == DoesNotFit {
		return []Result{pattern}, err
	}
	results := []Result{pattern}
	if c.SmallestSprocket > 0 {
		results = append(results, firstSprocket(c.SmallestSprocket, d.LeastTeeth))
	}
	switch {
	case length > 0:
		r, err := BodyLength(length, c.MadeFor, c.OwnSpacer, ins)
		if err != nil {
			return nil, err
		}
		results = append(results, r)
	case d.HasSplines && d.TakesLoose:
		results = append(results, c.unknownLength(ins))
	}
	return results, nil
}

// firstSprocket holds the smallest sprocket to the smallest that exists for the
// body: fewer teeth would not leave room for it.
func firstSprocket(teeth, least int) Result {
	r := Result{
		Rule: "spline-pattern", Check: "first sprocket", Instrument: Count(),
		Measured: fmt.Sprintf("smallest sprocket %d teeth", teeth),
		Limit:    fmt.Sprintf("at least %d teeth on this body", least),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judgeCount(teeth - least)
	r.explain("There is room for this sprocket on the body.", "",
		"No sprocket this small exists for this body: look at the pattern and count the teeth again.")
	return r
}

// unknownLength is the answer where bodies of a pattern have no usual length.
func (c Cassette) unknownLength(ins Instrument) Result {
	r := Result{
		Rule: "body-length", Verdict: TryAndMeasure, Instrument: ins,
		Measured: "no usual length of this body is known", Limit: "the length the cassette was made for",
		Why:    "Measure the body, then fit dry: the last sprocket must stand 0.5 mm to 2 mm above its end.",
		Source: sourcePractice, Confidence: CommonPractice,
	}
	if c.MadeFor > 0 {
		r.Limit = c.MadeFor.String()
	}
	if c.OwnSpacer > 0 {
		r.need("the cassette's own " + c.OwnSpacer.String() + " spacer")
	}
	return r
}
