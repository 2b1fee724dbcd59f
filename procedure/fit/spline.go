package fit

import (
	"strings"

	"github.com/tightwright/tightwright/torque/joint"
)

// A DriveInterface is the way sprockets sit on a rear hub, recognized by
// measuring and counting.
type DriveInterface struct {
	ID         string         // "9-spline"
	Recognize  string         // how to tell it from the others
	LeastTeeth int            // teeth of the smallest first sprocket that exists for it
	Retainers  []joint.Thread // threads of the ring that holds the sprockets, if it has a usual one
	HasSplines bool           // false: the sprockets screw on
	TakesLoose bool           // true: sprockets can be fitted one by one
}

// DriveInterfaces lists the interfaces [SplinePattern] knows.
//
// Source: common practice, no source; the threads with 24 turns per inch are
// those of ISO 6698 and its relatives. ISO 10230 gives mating dimensions of one
// splined pair: check whether a part claims it.
func DriveInterfaces() []DriveInterface {
	return []DriveInterface{
		{"9-spline", "9 splines, one of odd width; body 34.9 mm or 36.75 mm long", 11,
			threads("M30.6x1"), true, true},
		{"deep-8-spline", "8 deep splines; body about 36 mm to 38 mm long", 11,
			threads("M27x1", "M26x1"), true, true},
		{"23-spline", "23 small narrow splines; short body", 10, nil, true, true},
		{"outer-thread-driver", "short; splines low down, a fine outside thread at the inner end", 9,
			nil, true, false},
		{"threaded-hub", "no splines; outside thread 1.37 in x 24 tpi", 13, nil, false, false},
		{"fixed-hub", "no splines; 1.37 in x 24 tpi, then a smaller left-hand thread further out", 9,
			threads("1.29 in x 24 tpi LH"), false, false},
	}
}

// threads reads thread names that are part of the program.
func threads(names ...string) []joint.Thread {
	list := make([]joint.Thread, len(names))
	for i, name := range names {
		list[i] = named(name)
	}
	return list
}

// SplinePattern compares the spline pattern of a freehub body (or the threads
// of a hub) with the pattern a cassette is cut for. Both are ids of
// [DriveInterfaces]. The patterns are equal or they are not: there is no margin
// and no "close". An id that is not in the list is a [FieldError].
func SplinePattern(body, cassette string) (Result, error) {
	var in inputs
	body, cassette = in.pattern("body", body), in.pattern("cassette", cassette)
	if err := in.err("spline-pattern"); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: "spline-pattern", Verdict: Fits, Instrument: Count(),
		Measured:   "body " + body + ", cassette " + cassette,
		Limit:      "the same pattern",
		Why:        "Body and cassette have the same pattern.",
		Source:     sourcePractice,
		Confidence: CommonPractice,
	}
	if body != cassette {
		r.Verdict = DoesNotFit
		r.Why = "The body is " + body + " and the cassette is cut for " + cassette +
			". Change one of them; splines are never filed to suit."
	}
	return r, nil
}

// pattern tidies an id and wants it in the list.
func (in *inputs) pattern(path, id string) string {
	id = strings.ToLower(strings.TrimSpace(id))
	var known []string
	for _, d := range DriveInterfaces() {
		if d.ID == id {
			return id
		}
		known = append(known, d.ID)
	}
	in.add(path, "known", "%q is not a known pattern; known are %s", clip(id), strings.Join(known, ", "))
	return id
}
