package fit

import (
	"fmt"
	"math"
	"strconv"
)

// ChainPitch is the length of one link of a bicycle chain (ISO 9633: 12.7 mm).
const ChainPitch = 12700 * Micrometer

// Gears are the chainrings and sprockets that a derailleur has to cover. On a
// bicycle with one ring, BigRing and SmallRing are equal.
type Gears struct {
	BigRing, SmallRing         int
	BigSprocket, SmallSprocket int
}

func (in *inputs) gears(g Gears) {
	in.count("big_ring", g.BigRing, 10, 80)
	in.count("small_ring", g.SmallRing, 10, 80)
	in.count("big_sprocket", g.BigSprocket, 7, 80)
	in.count("small_sprocket", g.SmallSprocket, 7, 80)
	if g.SmallRing > g.BigRing {
		in.add("small_ring", "order", "%d teeth is more than the big ring's %d", g.SmallRing, g.BigRing)
	}
	if g.SmallSprocket > g.BigSprocket {
		in.add("small_sprocket", "order", "%d teeth is more than the big sprocket's %d", g.SmallSprocket, g.BigSprocket)
	}
}

// DerailleurCapacity compares the slack chain a derailleur has to take up with
// the capacity marked on it, both in teeth:
//
//	needed = (big ring − small ring) + (big sprocket − small sprocket)
//
// A hanger extender does not change it. Source: common practice, no source.
func DerailleurCapacity(g Gears, marked int) (Result, error) {
	var in inputs
	in.gears(g)
	in.count("marked", marked, 1, 120)
	if err := in.err("derailleur-capacity"); err != nil {
		return Result{}, err
	}
	needed := g.BigRing - g.SmallRing + g.BigSprocket - g.SmallSprocket
	r := Result{
		Rule: "derailleur-capacity", Instrument: Count(),
		Measured: fmt.Sprintf("rings %d/%d, sprockets %d-%d: needs %d teeth", g.BigRing, g.SmallRing, g.SmallSprocket, g.BigSprocket, needed),
		Limit:    fmt.Sprintf("marked capacity %d teeth", marked),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judgeCount(marked - needed)
	r.number("teeth_needed", strconv.Itoa(needed))
	r.Why = fmt.Sprintf("The cage takes up all the slack, with %d teeth to spare.", marked-needed)
	switch {
	case needed > marked:
		r.Why = fmt.Sprintf("The cage is short by %d teeth: the chain hangs slack in small-small or pulls tight in big-big.", needed-marked)
	case needed == marked:
		r.Why = "The cage takes up all the slack, with nothing to spare."
	}
	return r, nil
}

const (
	// extenderShare is how much of an extender's drop counts, in tenths: it
	// does not hang straight down. Source: common practice, no source.
	extenderShare = 6
	// toothRadius is how much one tooth adds to the pitch radius of a large
	// sprocket: 12.7 mm/2π, rounded. An extender of 20 mm is worth 4 to 6 teeth, so the
	// rule is good for one tooth either way.
	toothRadius = 2020 * Micrometer
)

// PitchRadius is the radius at which the chain runs on a sprocket of n teeth,
// r = 12.7 mm/(2·sin(180°/n)), rounded to the nanometer; 0 below 3 teeth.
func PitchRadius(n int) Length {
	if n < 3 {
		return 0
	}
	return FromMillimeters(ChainPitch.Millimeters() / (2 * math.Sin(math.Pi/float64(n))))
}

// LargestSprocket compares the biggest sprocket with the largest one marked for
// the derailleur. It is a limit of clearance and separate from the capacity. A
// hanger extender lowers the derailleur by about 0.6 of its drop, which lets a
// sprocket grow by as much in radius, give or take one tooth. extender is 0
// without one. Source: common practice, no source.
func LargestSprocket(sprocket, marked int, extender Length) (Result, error) {
	var in inputs
	in.count("sprocket", sprocket, 7, 80)
	in.count("marked", marked, 7, 80)
	in.length("extender", extender, 0, 60*Millimeter)
	if err := in.err("largest-sprocket"); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: "largest-sprocket", Instrument: Count(),
		Measured: fmt.Sprintf("largest sprocket %d teeth", sprocket),
		Limit:    fmt.Sprintf("marked for %d teeth", marked),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judgeCount(marked - sprocket)
	switch {
	case r.Verdict == Fits && sprocket == marked:
		r.Why = "The derailleur clears this sprocket, with nothing to spare."
	case r.Verdict == Fits:
		r.Why = "The derailleur clears this sprocket."
	case extender == 0:
		r.Why = fmt.Sprintf("The sprocket has %d teeth more than the derailleur clears.", sprocket-marked)
	default:
		r.extended((PitchRadius(sprocket) - PitchRadius(marked)).hundredths(), extender)
	}
	return r, nil
}

// extended judges a sprocket that grows by more in radius than the derailleur
// clears, with an extender of the given drop.
func (r *Result) extended(growth, extender Length) {
	gain := extender * extenderShare / 10
	r.Instrument = Instrument{"rule of thumb for extenders", toothRadius}
	r.Limit += fmt.Sprintf(", and %.1f teeth more with an extender of %s", float64(gain)/float64(toothRadius), extender)
	r.judge(gain-growth, toothRadius)
	switch r.Verdict {
	case Fits:
		r.need("a hanger extender of " + extender.String())
		r.Why = "With the extender the derailleur clears this sprocket. Check the shifting on the small sprockets."
	case DoesNotFit:
		r.Why = fmt.Sprintf("The sprocket grows by %s in radius and the extender gains about %s.", growth, gain)
	case NotChecked, FitsWith, TryAndMeasure:
		r.Why = fmt.Sprintf("The sprocket grows by %s in radius and the extender gains about %s, good for a tooth either way: fit it and look for the gap at the upper wheel.", growth, gain)
	}
}
