package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/fit"
)

// chainAndSprockets asks whether the chain is made for this many sprockets
// ("speeds"), whether it clears the next one ("gap"), and, where the sheet has
// a shift lever, whether its steps are those of the sprockets ("shifter").
func chainAndSprockets(a *attributes) ([]fit.Result, map[string]string, error) {
	speeds, sprockets := a.whole("chain.speeds"), a.whole("cassette.sprockets")
	width := a.length("chain.width")
	if a.err != nil {
		return nil, nil, a.err
	}
	gap, err := chainGap(sprockets, width, a.with(fit.Caliper()))
	if err != nil {
		return nil, nil, err
	}
	results := []fit.Result{chainSpeeds(speeds, sprockets), gap}
	if a.optional("shift-lever-rear.speeds") != "" {
		r, err := shifterSteps(a, sprockets)
		if err != nil {
			return nil, nil, err
		}
		results = append(results, r)
	}
	return results, nil, nil
}

// mostOfWideChain is the largest number of sprockets that the widest kind of
// derailleur chain serves; below it one chain serves all.
// Source: common practice, no source.
const mostOfWideChain = 8

func chainSpeeds(speeds, sprockets int) fit.Result {
	r := fit.Result{
		Rule: "chain-and-sprockets", Check: "speeds", Verdict: fit.Fits, Instrument: fit.Marked(),
		Measured: fmt.Sprintf("chain for %d speeds, %d sprockets", speeds, sprockets),
		Limit:    "a chain made for the number of sprockets", Why: "The chain is made for this many sprockets.",
		Source: string(fit.CommonPractice), Confidence: fit.CommonPractice,
	}
	wide := speeds > 1 && speeds <= mostOfWideChain && sprockets > 1 && sprockets <= mostOfWideChain
	switch {
	case speeds == sprockets:
	case wide:
		r.Why = fmt.Sprintf("Up to %d sprockets are all served by one kind of chain.", mostOfWideChain)
	case sprockets == 1:
		r.Verdict = fit.TryAndMeasure
		r.Why = "One sprocket has no neighbour to touch. Lay the chain on and see that its inner plates drop over the teeth."
	default:
		r.Verdict = fit.DoesNotFit
		r.Why = "The chain is made for another number of sprockets: it jams between them or skips."
	}
	return r
}

// chainGap is the gap to the next sprocket, with the usual pitch and thickness
// for the number of sprockets; where no usual ones are known, it is tried.
func chainGap(sprockets int, width fit.Length, ins fit.Instrument) (fit.Result, error) {
	if f, ok := sprocketFamily(sprockets); ok {
		r, err := fit.ChainClearance(f.Pitch, f.Thickness, width, ins)
		r.Check = "gap"
		return r, err
	}
	r := fit.Result{
		Rule: "chain-and-sprockets", Check: "gap", Verdict: fit.TryAndMeasure, Instrument: ins,
		Measured: fmt.Sprintf("chain %s wide, %d sprockets", width, sprockets), Limit: "a gap to the next sprocket",
		Why:    "No usual distance is known for this many sprockets. Fit the chain and listen on every one.",
		Source: string(fit.CommonPractice), Confidence: fit.CommonPractice,
	}
	if sprockets == 1 {
		r.Verdict, r.Why = fit.Fits, "There is no next sprocket to touch."
	}
	return r, nil
}

func sprocketFamily(sprockets int) (fit.SprocketFamily, bool) {
	for _, f := range fit.SprocketFamilies() {
		if f.Speeds == sprockets {
			return f, true
		}
	}
	return fit.SprocketFamily{}, false
}

// shifterSteps compares steps and cable pull; a pull that nobody has looked up
// leaves the answer open.
func shifterSteps(a *attributes, sprockets int) (fit.Result, error) {
	lever, derailleur := a.optional("shift-lever-rear.family"), a.optional("rear-derailleur.family")
	known := lever != "" && derailleur != ""
	if !known {
		lever, derailleur = "not looked up", "not looked up"
	}
	r, err := fit.ShifterMatch(a.whole("shift-lever-rear.speeds"), sprockets, lever, derailleur)
	if err == nil && !known && r.Verdict == fit.Fits {
		r.Verdict = fit.TryAndMeasure
		r.Why = "The steps are as many as the sprockets. Whether the cable pull is the derailleur's, only the papers say: look it up."
	}
	return r, err
}

// hubSlack is how far a measured frame may be from a usual hub width to be
// taken for it. Source: common practice, no source.
const hubSlack = fit.Millimeter

// chainline takes the hub for one of the usual widths: the room between the
// faces and, where the ends of the hub drop into slots, both slots.
func chainline(a *attributes) ([]fit.Result, map[string]string, error) {
	hub := a.length("frame.axle_width") + 2*a.length("frame.axle_slot")
	sprockets := a.whole("cassette.sprockets")
	run := fit.ChainRun{Front: a.length("frame.chainline"), Chainstay: a.length("frame.chainstay_length")}
	if a.err != nil {
		return nil, nil, a.err
	}
	usual, known := usualHub(hub)
	family, ok := sprocketFamily(sprockets)
	if !known || !ok {
		return []fit.Result{unknownChainline(hub, sprockets, run, a.with(fit.SteelRule()))}, nil, nil
	}
	run.Hub, run.Sprockets = usual, family
	results, err := fit.Chainline(run, a.with(fit.SteelRule()))
	return results, nil, err
}

func usualHub(hub fit.Length) (fit.Length, bool) {
	for _, mm := range []fit.Length{130, 135, 142, 148} {
		if (hub - mm*fit.Millimeter).Abs() <= hubSlack {
			return mm * fit.Millimeter, true
		}
	}
	return 0, false
}

func unknownChainline(hub fit.Length, sprockets int, run fit.ChainRun, ins fit.Instrument) fit.Result {
	return fit.Result{
		Rule: "chainline", Verdict: fit.TryAndMeasure, Instrument: ins,
		Measured: fmt.Sprintf("front %s; hub %s wide, %d sprockets", run.Front, hub, sprockets),
		Limit:    "ring and sprockets in line",
		Why:      "For this hub and number of sprockets the rear chainline cannot be worked out: measure it on the bike.",
		Source:   string(fit.CommonPractice), Confidence: fit.CommonPractice,
	}
}
