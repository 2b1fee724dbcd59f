package fit

import (
	"fmt"
	"math"
	"strconv"
)

// ChainPitches returns the length a chain needs over a ring and a sprocket:
//
//	pitches = 2C/p + (Nf + Nr)/2 + ((Nf − Nr)/2π)²·p/C + 2
//
// with C the distance of the axles (the chainstay), p = 12.7 mm, Nf and Nr the
// teeth of the largest ring and sprocket: the usual expression for a roller
// chain on two wheels, and one pair of links for the derailleur. It is not
// rounded. A chainstay that is not positive gives 0.
func ChainPitches(chainstay Length, ring, sprocket int) float64 {
	if chainstay <= 0 {
		return 0
	}
	ratio := chainstay.Millimeters() / ChainPitch.Millimeters()
	turn := float64(ring-sprocket) / (2 * math.Pi)
	return 2*ratio + float64(ring+sprocket)/2 + turn*turn/ratio + 2
}

// evenPitches rounds up to an even number, for a chain closed by a joining link.
// A billionth is forgiven, so that a whole number stays whole.
func evenPitches(exact float64) int { return 2 * int(math.Ceil(exact/2-1e-9)) }

// ChainLength compares a chain, counted in pitches, with the even number of
// pitches that the largest ring and sprocket need. A longer chain is cut; a
// shorter one does not fit. Where the error of the chainstay would change the
// even number, it is tried on the bicycle. The chain must also be checked
// there: big-big with one pair of links slack, small-small still taut.
// Source: common practice, no source.
func ChainLength(g Gears, chainstay Length, pitches int, ins Instrument) (Result, error) {
	var in inputs
	in.gears(g)
	in.length("chainstay", chainstay, 250*Millimeter, 800*Millimeter)
	in.count("pitches", pitches, 20, 300)
	in.instrument(ins)
	if err := in.err("chain-length"); err != nil {
		return Result{}, err
	}
	exact := ChainPitches(chainstay, g.BigRing, g.BigSprocket)
	needed := evenPitches(exact)
	r := Result{
		Rule: "chain-length", Instrument: ins, Margin: countMargin(pitches-needed, "pitches"),
		Measured: fmt.Sprintf("chain of %d pitches; chainstay %s, ring %d, sprocket %d", pitches, chainstay, g.BigRing, g.BigSprocket),
		Limit:    fmt.Sprintf("%d pitches (%.2f rounded up to an even number)", needed, exact),
		Source:   "roller chain geometry; two pitches for the derailleur: common practice, no source", Confidence: CommonPractice,
	}
	r.number("pitches", strconv.Itoa(needed))
	least := evenPitches(ChainPitches(chainstay-ins.Error, g.BigRing, g.BigSprocket))
	most := evenPitches(ChainPitches(chainstay+ins.Error, g.BigRing, g.BigSprocket))
	switch {
	case pitches < least:
		r.Verdict = DoesNotFit
		r.Why = fmt.Sprintf("The chain is %d pitches too short: big-big would tear the derailleur off.", needed-pitches)
	case pitches < most:
		r.Verdict = TryAndMeasure
		r.Why = "The chainstay is not known closely enough for the last pair of links. Lay the chain over big-big and leave one pair slack."
	case pitches > max(most, needed):
		r.Verdict = FitsWith
		r.need(fmt.Sprintf("the chain cut to %d pitches", max(most, needed)))
		r.Why = "The chain is longer than needed."
	default:
		r.Verdict = Fits
		r.Why = "The chain has the length that big-big needs. See that small-small is still taut."
	}
	return r, nil
}
