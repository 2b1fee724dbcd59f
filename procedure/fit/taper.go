package fit

import "strings"

// leastStandOff is how far the end of a square spindle must stay below the face
// the washer sits on, with the arm pushed on by hand: the arm still travels
// about 1 mm to 3 mm when it is tightened. Source: common practice, no source.
const leastStandOff = 2 * Millimeter

// A Taper is a square-taper spindle and the arm that is to go on it. The two
// patterns in use have the same 2 degree flats and ends that differ by a few
// tenths of a millimeter.
type Taper struct {
	Spindle, Arm string // pattern names as marked, "" if not known
	StandOff     Length // spindle end below the washer face, arm hand-tight; negative: it stands out
}

// TaperPairing judges a square taper by the stand-off measured with the arm on
// hand-tight, at least 2 mm. A pair of different patterns with enough stand-off
// is tried and measured, because the arm sits 2 mm to 5 mm further in or out.
// Stand-off lies between -30 mm and 30 mm.
func TaperPairing(t Taper, ins Instrument) (Result, error) {
	var in inputs
	in.length("stand_off", t.StandOff, -30*Millimeter, 30*Millimeter)
	in.instrument(ins)
	if err := in.err("taper-pairing"); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: "taper-pairing", Instrument: ins,
		Measured: "spindle end " + t.StandOff.String() + " below the washer face, arm hand-tight",
		Limit:    "at least " + leastStandOff.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(t.StandOff-leastStandOff, ins.Error)
	r.explain(
		"The arm has room left to be drawn on.",
		"The stand-off is so close to the limit that this instrument can't decide. Measure again with a depth rod.",
		"The spindle would reach the washer before the arm is tight: a wrong pair. Do not draw it home by force.")
	spindle, arm := strings.TrimSpace(t.Spindle), strings.TrimSpace(t.Arm)
	if spindle != "" && arm != "" && !strings.EqualFold(spindle, arm) {
		r.Measured += "; spindle pattern " + clip(spindle) + ", arm pattern " + clip(arm)
		r.Verdict = max(r.Verdict, TryAndMeasure)
		r.Why += " The two patterns differ, so the arm sits 2 mm to 5 mm from where it should: measure the chainline before tightening."
	}
	return r, nil
}
