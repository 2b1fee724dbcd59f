package fit

import "fmt"

const frontRule = "front-derailleur"

// Figures of the front derailleur. Source: common practice, no source.
const (
	bandTolerance     = 100 * Micrometer
	cageCurve         = 4                 // teeth between the cage's curve and the big ring
	frontChainlineOff = 1500 * Micrometer // from its design
)

// A FrontDerailleur is a front derailleur, the seat tube it goes on and the
// rings it has to move the chain over. Figures that are 0 are not checked,
// except the rings.
type FrontDerailleur struct {
	Band, SeatTube    Length // 28.6, 31.8 or 34.9 mm; 0 with a tab
	IsTubeRound       bool
	HasTab, NeedsTab  bool // the frame has a tab; the derailleur bolts to one
	BigRing, NextRing int
	MostDifference    int    // marked, often 16
	MostRing          int    // marked
	CageRing          int    // ring the cage is curved for
	ChainlineDesign   Length // chainline it is made for
	Chainline         Length // chainline of the bicycle
}

// FrontDerailleurFit checks the "mount", the "ring difference", the "big ring",
// the "cage" curve within 4 teeth and the "chainline" within 1.5 mm.
func FrontDerailleurFit(f FrontDerailleur, ins Instrument) ([]Result, error) {
	var in inputs
	in.count("big_ring", f.BigRing, 10, 80)
	in.count("next_ring", f.NextRing, 10, 80)
	in.count("most_difference", f.MostDifference, 1, 40)
	in.count("most_ring", f.MostRing, 0, 80)
	in.count("cage_ring", f.CageRing, 0, 80)
	if !f.NeedsTab {
		in.length("band", f.Band, 20*Millimeter, 60*Millimeter)
		in.length("seat_tube", f.SeatTube, 20*Millimeter, 60*Millimeter)
	}
	in.length("chainline_design", f.ChainlineDesign, 0, 80*Millimeter)
	in.length("chainline", f.Chainline, 0, 80*Millimeter)
	in.instrument(ins)
	if f.NextRing > f.BigRing {
		in.add("next_ring", "order", "%d teeth is more than the big ring's %d", f.NextRing, f.BigRing)
	}
	if err := in.err(frontRule); err != nil {
		return nil, err
	}
	results := []Result{f.mount(ins), f.difference()}
	if f.MostRing > 0 {
		results = append(results, counted("big ring", f.BigRing, f.MostRing))
	}
	if f.CageRing > 0 {
		results = append(results, counted("cage", abs(f.BigRing-f.CageRing), cageCurve))
	}
	if f.Chainline > 0 && f.ChainlineDesign > 0 {
		results = append(results, equal(frontRule, "chainline", "bicycle", f.Chainline, "design", f.ChainlineDesign, frontChainlineOff, ins))
	}
	return results, nil
}

func abs(n int) int { return max(n, -n) }

func (f FrontDerailleur) mount(ins Instrument) Result {
	if f.NeedsTab {
		r := compared(frontRule, "mount", "tab on the frame: "+yes(f.HasTab), "a tab")
		r.Why = "The derailleur bolts to the tab."
		if !f.HasTab {
			r.need("a band with a tab for a round seat tube")
			r.Why = "The frame has no tab; a band with a tab stands in for it."
			if !f.IsTubeRound {
				r.Verdict, r.Needs = DoesNotFit, nil
				r.Why = "The frame has no tab and the seat tube is not round."
			}
		}
		return r
	}
	r := equal(frontRule, "mount", "band", f.Band, "seat tube", f.SeatTube, bandTolerance, ins)
	if !f.IsTubeRound {
		r.Verdict, r.Margin = DoesNotFit, Margin{}
		r.Why = "A band holds on a round seat tube only."
	}
	return r
}

func (f FrontDerailleur) difference() Result {
	r := counted("ring difference", f.BigRing-f.NextRing, f.MostDifference)
	r.Measured = fmt.Sprintf("rings %d/%d: %d teeth apart", f.BigRing, f.NextRing, f.BigRing-f.NextRing)
	return r
}

// counted judges a count of teeth against the most that is allowed.
func counted(check string, have, most int) Result {
	r := Result{
		Rule: frontRule, Check: check, Instrument: Count(),
		Measured: fmt.Sprintf("%s %d teeth", check, have), Limit: fmt.Sprintf("at most %d teeth", most),
		Source: sourcePractice, Confidence: CommonPractice,
	}
	r.judgeCount(most - have)
	r.explain("Within what the derailleur is made for.", "", "More than the derailleur is made for.")
	if have == most {
		r.Why = "Just what the derailleur is made for, with nothing to spare."
	}
	return r
}
