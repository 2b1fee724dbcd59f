package fit

import "fmt"

const tireRule = "tyre-clearance"

// Tyre clearances. Sources: EN 14781:2005, 4.10.2 (racing, 4 mm, quoted in
// public discussion of the clause); 6 mm for other kinds, from memory of the
// same family of standards: check your edition. 16 CFR 1512.11 asks for 1.6 mm,
// which is a floor set by law and no target.
const (
	racingClearance = 4 * Millimeter
	otherClearance  = 6 * Millimeter
	legalFloor      = 1600 * Micrometer
)

// estimateError is how far the estimated width of a tyre may be off: measure
// after 24 hours at pressure. Our choice, no source.
const estimateError = Millimeter

// A Tire is a tyre on a rim, between stays or fork legs.
type Tire struct {
	Nominal             Length // width by its marking: 32 mm of 32-622
	BeadSeat, RimSeat   Length // bead seat diameter of tyre and rim: 622 mm of 32-622
	RimInner            Length // inner width of the rim
	Width               Length // measured at pressure; 0: estimated from the rim
	Gap                 Length // narrowest gap between stays or legs
	Top                 Length // from the tread to crown, bridge or mudguard; 0: not checked
	RunOut              Length // of the wheel from side to side; comes off the clearance
	IsRacing, IsMudTire bool   // racing: 4 mm, others 6 mm; mud: the shop wants 8 mm
}

// TireWidth estimates the width of a tyre on a rim from its nominal width:
//
//	width = nominal + 0.4·(rim inner − k·nominal), k = 0.65 under 30 mm, else 0.55
//
// Source: the table of ISO 5775 put into words, from memory; an estimate only.
func TireWidth(nominal, rimInner Length) Length {
	percent := Length(55)
	if nominal < 30*Millimeter {
		percent = 65
	}
	return nominal + (rimInner-nominal*percent/100)*2/5
}

// TireClearance checks the "bead seat", which must be equal, the "side"
// clearance (gap − width)/2 less run-out, and the "top" clearance.
func TireClearance(t Tire, ins Instrument) ([]Result, error) {
	var in inputs
	in.length("nominal", t.Nominal, 15*Millimeter, 150*Millimeter)
	in.length("bead_seat", t.BeadSeat, 100*Millimeter, 800*Millimeter)
	in.length("rim_seat", t.RimSeat, 100*Millimeter, 800*Millimeter)
	in.length("rim_inner", t.RimInner, 10*Millimeter, 120*Millimeter)
	in.length("width", t.Width, 0, 150*Millimeter)
	in.length("gap", t.Gap, 15*Millimeter, 250*Millimeter)
	in.length("top", t.Top, 0, 150*Millimeter)
	in.length("run_out", t.RunOut, 0, 20*Millimeter)
	in.instrument(ins)
	if err := in.err(tireRule); err != nil {
		return nil, err
	}
	results := []Result{t.seat(), t.side(ins)}
	if t.Top > 0 {
		r := leastGap(tireRule, "top", t.Top-t.RunOut, t.clearance(), ins)
		results = append(results, t.sourced(r, t.Top-t.RunOut))
	}
	return results, nil
}

func (t Tire) clearance() Length {
	if t.IsRacing {
		return racingClearance
	}
	return otherClearance
}

func (t Tire) seat() Result {
	r := Result{
		Rule: tireRule, Check: "bead seat", Instrument: Marked(), Verdict: Fits,
		Measured: "tyre " + t.BeadSeat.String() + ", rim " + t.RimSeat.String(),
		Limit:    "equal", Why: "Tyre and rim have the same bead seat.",
		Source: "ISO 5775-1 designation", Confidence: Published,
	}
	if t.BeadSeat != t.RimSeat {
		r.Verdict = DoesNotFit
		r.Why = "Tyre and rim have different diameters: it will not seat, or it will blow off."
	}
	return r
}

func (t Tire) side(ins Instrument) Result {
	width, how, uncertain := t.Width, "measured", ins.Error
	if width == 0 {
		width, how, uncertain = TireWidth(t.Nominal, t.RimInner), "estimated", ins.Error+estimateError
	}
	side := (t.Gap-width)/2 - t.RunOut
	r := Result{
		Rule: tireRule, Check: "side", Instrument: ins,
		Measured: fmt.Sprintf("gap %s, tyre %s wide (%s), run-out %s: %s on each side", t.Gap, width, how, t.RunOut, side),
		Limit:    "at least " + t.clearance().String(),
	}
	r.length("width", width)
	r.length("side", side)
	// Both figures halve on their way to one side, and so do their errors.
	r.judge(side-t.clearance(), uncertain/2)
	return t.sourced(r, side)
}

// sourced adds the reason and the source of the limit.
func (t Tire) sourced(r Result, gap Length) Result {
	r.Source, r.Confidence = "EN 14781/ISO 4210-2 family, 6 mm from memory: check your edition", FromMemory
	if t.IsRacing {
		r.Source, r.Confidence = "EN 14781:2005, 4.10.2, as quoted in public", Published
	}
	r.explain(
		"The tyre clears frame and fork. Measure it again after 24 hours at pressure.",
		"The clearance is too close to the limit for this figure: mount the tyre, leave it a day at pressure, and measure.",
		"The tyre is too close. A spoke that fails or a wheel that is swapped would let it touch.")
	if r.Verdict == DoesNotFit && gap >= legalFloor {
		r.Why += " It is over the 1.6 mm of 16 CFR 1512.11, which is no reason to fit it."
	}
	if t.IsMudTire && r.Verdict == Fits && gap < 8*Millimeter {
		r.Why += " For mud the shop wants 8 mm."
	}
	return r
}
