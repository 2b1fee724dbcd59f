package procedure

import (
	"fmt"
	"math"
	"strconv"

	"github.com/tightwright/tightwright/procedure/fit"
)

// gearsFitRules tie the fit rules of this area to the attributes of the sheet.
func gearsFitRules() map[string]fitRule {
	rings := []string{"crankset.largest_ring", "crankset.smallest_ring", "cassette.largest", "cassette.smallest"}
	return map[string]fitRule{
		"chain-and-sprockets": {
			needs: []string{"chain.speeds", "chain.width", "cassette.sprockets"},
			may:   []string{"shift-lever-rear.speeds", "shift-lever-rear.family", "rear-derailleur.family"},
			run:   chainAndSprockets,
		},
		"derailleur-capacity": {
			needs:   append([]string{"rear-derailleur.capacity"}, rings...),
			numbers: []string{"needed"},
			run:     derailleurCapacity,
		},
		"largest-sprocket": {
			needs: []string{"rear-derailleur.largest_sprocket", "cassette.largest"},
			may:   []string{"hanger.extender_drop"},
			run: func(a *attributes) ([]fit.Result, map[string]string, error) {
				return one(fit.LargestSprocket(a.whole("cassette.largest"), a.whole("rear-derailleur.largest_sprocket"),
					a.length("hanger.extender_drop")))
			},
		},
		"chain-length": {
			needs:   append([]string{"chain.pitches", "frame.chainstay_length"}, rings...),
			may:     []string{"chain.slack_taken_by"},
			numbers: []string{"pitches"},
			run:     chainLength,
		},
		"chainline": {
			needs: []string{"frame.chainline", "frame.chainstay_length", "frame.axle_width", "cassette.sprockets"},
			may:   []string{"frame.axle_slot"},
			run:   chainline,
		},
		"front-derailleur": {
			needs: []string{"front-derailleur.mount", "front-derailleur.most_difference", "frame.front_derailleur_mount",
				"crankset.largest_ring", "crankset.smallest_ring"},
			may: []string{"front-derailleur.band", "front-derailleur.most_ring", "front-derailleur.cage_ring", "front-derailleur.chainline",
				"frame.seat_tube_outer", "frame.seat_tube_shape", "frame.chainline"},
			run: frontDerailleur,
		},
	}
}

// whole reads a count; one that is not on the sheet is an error.
func (a *attributes) whole(key string) int {
	text := a.text(key)
	if a.err != nil {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		a.err = fmt.Errorf("%s: write a whole number, not %q", key, text)
	}
	return n
}

// count is whole for an attribute that may be left out: 0 then.
func (a *attributes) count(key string) int {
	if a.optional(key) == "" {
		return 0
	}
	return a.whole(key)
}

func (a *attributes) gears() fit.Gears {
	return fit.Gears{
		BigRing: a.whole("crankset.largest_ring"), SmallRing: a.whole("crankset.smallest_ring"),
		BigSprocket: a.whole("cassette.largest"), SmallSprocket: a.whole("cassette.smallest"),
	}
}

func derailleurCapacity(a *attributes) ([]fit.Result, map[string]string, error) {
	r, err := fit.DerailleurCapacity(a.gears(), a.whole("rear-derailleur.capacity"))
	return []fit.Result{r}, map[string]string{"needed": r.Numbers["teeth_needed"]}, err
}

// chainLength works out how many pitches the chain has once it is cut: as many
// as it came with, unless it is longer than any chainstay within the error of
// the tape asks for.
func chainLength(a *attributes) ([]fit.Result, map[string]string, error) {
	g, stay, pitches := a.gears(), a.length("frame.chainstay_length"), a.whole("chain.pitches")
	if a.optional("chain.slack_taken_by") == "axle-slots" {
		return slottedChainLength(g, stay, pitches, a.with(fit.Tape()))
	}
	tape := a.with(fit.Tape())
	r, err := fit.ChainLength(g, stay, pitches, tape)
	if r.Verdict == fit.FitsWith {
		pitches = evenUp(fit.ChainPitches(stay+tape.Error, g.BigRing, g.BigSprocket))
	}
	return []fit.Result{r}, map[string]string{"pitches": strconv.Itoa(pitches)}, err
}

// slottedChainLength is the rule for one ring and one sprocket with the axle in
// slots: nothing is added for a derailleur, and the axle takes up the rest, so
// the answer is always to try. Source: roller chain geometry.
func slottedChainLength(g fit.Gears, stay fit.Length, pitches int, ins fit.Instrument) ([]fit.Result, map[string]string, error) {
	// The rule of package fit checks the inputs; its verdict is for a derailleur.
	if _, err := fit.ChainLength(g, stay, pitches, ins); err != nil {
		return nil, nil, err
	}
	exact := fit.ChainPitches(stay, g.BigRing, g.BigSprocket) - 2
	needed := evenUp(exact)
	r := fit.Result{
		Rule: "chain-length", Verdict: fit.TryAndMeasure, Instrument: ins,
		Measured: fmt.Sprintf("chain of %d pitches; axle at %s, ring %d, sprocket %d", pitches, stay, g.BigRing, g.BigSprocket),
		Limit:    fmt.Sprintf("%d pitches (%.2f rounded up to an even number)", needed, exact),
		Margin:   fit.Margin{Kind: fit.CountMargin, Count: pitches - needed, Of: "pitches"},
		Why:      "The axle takes up what is left in its slots: lay the chain round and see that the wheel comes to sit within them.",
		Source:   "roller chain geometry", Confidence: fit.Computed,
	}
	if pitches < needed-2 {
		r.Verdict, r.Why = fit.DoesNotFit, fmt.Sprintf("The chain is %d pitches too short for this axle.", needed-pitches)
	}
	return []fit.Result{r}, map[string]string{"pitches": strconv.Itoa(min(pitches, needed))}, nil
}

// evenUp rounds up to an even number, as a chain that a joining link closes has
// it; a billionth is forgiven, so that a whole number stays whole.
func evenUp(exact float64) int { return 2 * int(math.Ceil(exact/2-1e-9)) }

// frontDerailleur takes the largest less the smallest ring, as the papers of
// derailleurs state it, on cranks with three rings as well.
func frontDerailleur(a *attributes) ([]fit.Result, map[string]string, error) {
	frame := a.text("frame.front_derailleur_mount")
	f := fit.FrontDerailleur{
		HasTab: frame == "tab", NeedsTab: a.text("front-derailleur.mount") == "tab",
		IsTubeRound: a.optional("frame.seat_tube_shape") == "round",
		BigRing:     a.whole("crankset.largest_ring"), NextRing: a.whole("crankset.smallest_ring"),
		MostDifference: a.whole("front-derailleur.most_difference"), MostRing: a.count("front-derailleur.most_ring"),
		CageRing:        a.count("front-derailleur.cage_ring"),
		ChainlineDesign: a.length("front-derailleur.chainline"), Chainline: a.length("frame.chainline"),
	}
	if !f.NeedsTab {
		for _, key := range []string{"front-derailleur.band", "frame.seat_tube_outer", "frame.seat_tube_shape"} {
			a.text(key)
		}
		f.Band, f.SeatTube = a.length("front-derailleur.band"), a.length("frame.seat_tube_outer")
	}
	if a.err != nil {
		return nil, nil, a.err
	}
	results, err := fit.FrontDerailleurFit(f, a.with(fit.Caliper()))
	if err == nil && frame == "none" {
		results[0].Verdict, results[0].Needs, results[0].Margin = fit.DoesNotFit, nil, fit.Margin{}
		results[0].Why = "The frame has no place for a front derailleur: no tab, and no band allowed on its seat tube."
	}
	return results, nil, err
}
