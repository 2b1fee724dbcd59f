package fit

import "fmt"

// Thread that a flat-mount bolt (M5) must have in the caliper. Source: common
// practice, no source; 1.2 diameters is the least for M5.
const (
	leastCaliperThread = 6 * Millimeter  // 1.2 x 5 mm
	shortCaliperThread = 7 * Millimeter  // the usual range begins
	longCaliperThread  = 9 * Millimeter  // the usual range ends
	caliperHole        = 10 * Millimeter // depth: the end stays 1 mm short of the bottom at 9 mm
)

// FlatMountBolt compares a bolt with the stay or plate it passes: 7 mm to 9 mm
// of it must go into the caliper. Less than 6 mm holds too little, and at 10 mm
// it meets the bottom of the hole; the margin is counted to these two.
func FlatMountBolt(stay, bolt Length, ins Instrument) (Result, error) {
	var in inputs
	in.length("stay", stay, 3*Millimeter, 60*Millimeter)
	in.length("bolt", bolt, 5*Millimeter, 100*Millimeter)
	in.instrument(ins)
	if err := in.err("flat-mount-bolt"); err != nil {
		return Result{}, err
	}
	engaged := bolt - stay
	r := Result{
		Rule: "flat-mount-bolt", Instrument: ins,
		Measured: fmt.Sprintf("stay %s, bolt %s: %s in the caliper", stay, bolt, engaged),
		Limit:    fmt.Sprintf("%s to %s in the caliper", shortCaliperThread, longCaliperThread),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(min(engaged-leastCaliperThread, caliperHole-engaged), ins.Error)
	isUsual := engaged >= shortCaliperThread && engaged <= longCaliperThread
	if r.Verdict == Fits && !isUsual {
		r.Verdict = TryAndMeasure
	}
	r.explain(
		"The bolt has enough thread and stays off the bottom of the hole.",
		"Outside the usual range. Turn the bolt in by hand and count its turns before the caliper is clamped.",
		"The bolt is too long: it meets the bottom and clamps nothing.")
	if r.Verdict == DoesNotFit && engaged < leastCaliperThread {
		r.Why = "The bolt is too short: too little thread holds the caliper."
	}
	return r, nil
}
