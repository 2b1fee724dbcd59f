package fit

import "fmt"

const chainRule = "chain-clearance"

// leastChainGap is the gap between chain and next sprocket that runs clean.
// Source: common practice, no source.
const leastChainGap = 100 * Micrometer

// A SprocketFamily holds the usual dimensions of sprockets and chain for a
// number of speeds. Makers differ by a few hundredths of a millimeter; the
// family is what must match.
type SprocketFamily struct {
	Speeds               int
	Pitch, Thickness     Length // from one sprocket to the next; of one sprocket
	ChainLeast, ChainMax Length // outer width of the chain over its rivets
}

// Stack is the length of all sprockets together: (speeds − 1)·pitch + thickness.
func (f SprocketFamily) Stack() Length {
	return Length(f.Speeds-1)*f.Pitch + f.Thickness
}

// SprocketFamilies lists the usual families from 8 to 13 speeds.
//
// Source: from memory, except the chain's own pitch of 12.7 mm (ISO 9633). The
// figures for 13 speeds are approximate.
func SprocketFamilies() []SprocketFamily {
	um := func(n Length) Length { return n * Micrometer }
	return []SprocketFamily{
		{8, um(4800), um(1800), um(7100), um(7300)},
		{9, um(4350), um(1780), um(6600), um(6700)},
		{10, um(3950), um(1600), um(5900), um(6200)},
		{11, um(3740), um(1600), um(5400), um(5600)},
		{12, um(3600), um(1600), um(5200), um(5300)},
		{13, um(3400), um(1500), um(4900), um(5000)},
	}
}

// ChainClearance asks whether a chain of the given outer width runs on one
// sprocket without touching the next:
//
//	gap = sprocket pitch − half the sprocket thickness − half the chain width
//
// 0.10 mm or more fits, less than nothing does not, and between them it is
// tried. The chain width is the measured figure, so half the instrument's error
// counts. Source: common practice, no source.
func ChainClearance(pitch, thickness, chainWidth Length, ins Instrument) (Result, error) {
	var in inputs
	in.length("pitch", pitch, 2*Millimeter, 10*Millimeter)
	in.length("thickness", thickness, Millimeter, 5*Millimeter)
	in.length("chain_width", chainWidth, 3*Millimeter, 15*Millimeter)
	in.instrument(ins)
	if err := in.err(chainRule); err != nil {
		return Result{}, err
	}
	gap := pitch - (thickness+chainWidth)/2
	r := Result{
		Rule: chainRule, Instrument: ins,
		Measured: fmt.Sprintf("chain %s wide, sprockets %s apart and %s thick: gap %s", chainWidth, pitch, thickness, gap),
		Limit:    "gap of at least " + leastChainGap.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(gap-leastChainGap, ins.Error/2)
	switch {
	case gap < 0:
		r.Verdict = DoesNotFit
		r.Why = "The chain touches the next sprocket: it is a chain for fewer sprockets."
	case r.Verdict != Fits:
		r.Verdict = TryAndMeasure
		r.Why = "There is a gap of " + gap.String() + " and no more. Fit it and listen on every sprocket."
	default:
		r.Why = "The chain clears the next sprocket by " + gap.String() + "."
	}
	return r, nil
}

// ShifterMatch asks whether a shifter and a rear derailleur belong to the
// sprockets: the counts of speeds must be equal, and cable pull and derailleur
// ratio must be of one family. The families are names as marked or looked up;
// equal names are all the rule can see. Source: common practice, no source.
func ShifterMatch(shifterSpeeds, sprockets int, shifterFamily, derailleurFamily string) (Result, error) {
	var in inputs
	in.count("shifter_speeds", shifterSpeeds, 1, 20)
	in.count("sprockets", sprockets, 1, 20)
	in.text("shifter_family", shifterFamily)
	in.text("derailleur_family", derailleurFamily)
	if err := in.err(chainRule); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: chainRule, Check: "shifter", Verdict: Fits, Instrument: Count(),
		Measured: fmt.Sprintf("shifter %d speeds (%s), %d sprockets, derailleur %s", shifterSpeeds, shifterFamily, sprockets, derailleurFamily),
		Limit:    "the same count and the same family",
		Why:      "Shifter, derailleur and sprockets belong together.",
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	switch {
	case shifterSpeeds != sprockets:
		r.Verdict = DoesNotFit
		r.Why = "The shifter moves the chain by steps for another number of sprockets."
	case !sameName(shifterFamily, derailleurFamily):
		r.Verdict = DoesNotFit
		r.Why = "The cable pull of the shifter is not made for this derailleur: the steps would not meet the sprockets."
	}
	return r, nil
}
