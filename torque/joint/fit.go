package joint

import (
	"fmt"
	"math"
)

// A Fit is the pair of tolerance classes of a nut thread and a bolt thread.
type Fit uint8

const (
	// Fit6H6g is the usual metric fit; it is the zero value.
	Fit6H6g Fit = iota
	// Fit6H4g6g has a closer pitch diameter on the bolt.
	Fit6H4g6g
	// Fit2B2A is the usual unified inch fit (ASME B1.1).
	Fit2B2A
	// Fit3B3A is the close unified inch fit.
	Fit3B3A
	fitCount
)

var fitNames = [fitCount]string{"6H/6g", "6H/4g6g", "2B/2A", "3B/3A"}

// String returns the fit as it is written, nut first: "6H/6g".
func (f Fit) String() string {
	if f < fitCount {
		return fitNames[f]
	}
	return fmt.Sprintf("fit %d", uint8(f))
}

// MarshalText writes the fit as [Fit.String] does.
func (f Fit) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what [Fit.MarshalText] writes; anything else gives a
// [FieldError].
func (f *Fit) UnmarshalText(text []byte) (err error) {
	*f, err = oneOf[Fit](fitNames[:], "fit", string(text))
	return err
}

// ThreadLimits holds the limits of a bolt and a nut thread that decide where it
// strips, in millimeters.
type ThreadLimits struct {
	PitchMM          float64 `json:"pitch_mm"`
	OuterMajorMinMM  float64 `json:"outer_major_min_mm"` // d min of the bolt
	OuterPitchMinMM  float64 `json:"outer_pitch_min_mm"` // d2 min of the bolt
	InnerMinorMaxMM  float64 `json:"inner_minor_max_mm"` // D1 max of the nut
	InnerPitchMaxMM  float64 `json:"inner_pitch_max_mm"` // D2 max of the nut
	IsByFormula      bool    `json:"is_by_formula"`      // not a size of the standard's tables
	IsUnifiedProfile bool    `json:"is_unified_profile"` // ASME B1.1 rather than ISO 965-1
}

// Limits returns the limits of t in a fit. Metric fits follow ISO 965-1: the
// tabulated tolerances (from memory; they reproduce published strip areas within
// 0.1 %) for its pitches, the formulas behind them for others, as for cycle
// threads. Inch fits follow the formulas of ASME B1.1 (from memory; published
// strip areas within 2 %) and want a pitch in turns per inch.
//
// Errors: [FieldError].
func (t Thread) Limits(fit Fit) (ThreadLimits, error) {
	in := inputs{}
	if t.IsZero() {
		in.add("thread", "required", "must be given")
	}
	isInch := fit == Fit2B2A || fit == Fit3B3A
	switch {
	case fit >= fitCount:
		in.add("fit", "known", fit.String()+" is not known")
	case isInch && t.TurnsPerInch() == 0:
		in.add("fit", "range", "the fit "+fit.String()+" belongs to threads in turns per inch")
	}
	if err := in.err("limits of thread"); err != nil {
		return ThreadLimits{}, err
	}
	var l ThreadLimits
	if isInch {
		l = unifiedLimits(t, fit)
	} else {
		l = metricLimits(t, fit)
	}
	if !l.overlaps() {
		in.add("fit", "range", "at the limits of "+fit.String()+" this thread would not engage at all")
	}
	return l, in.err("limits of thread")
}

// overlaps reports whether bolt and nut still hold on to each other when each
// lies at the limit that engages least.
func (l ThreadLimits) overlaps() bool {
	return l.PitchMM > 0 && l.OuterStripAreaMM2(1) > 0 && l.InnerStripAreaMM2(1) > 0
}

// metricTolerances lists ISO 965-1 tolerances in micrometers by pitch: fine
// limit es of position g, crest of a bolt grade 6, crest of a nut grade 6. From
// memory; 6g limits of M3 to M6 as quoted in a public manufacturer table.
var metricTolerances = [...]struct{ pitchMM, es, bolt, nut float64 }{
	{0.25, 18, 67, 71}, {0.35, 19, 85, 100}, {0.4, 19, 95, 112}, {0.45, 20, 100, 125},
	{0.5, 20, 106, 140}, {0.6, 21, 125, 160}, {0.7, 22, 140, 180}, {0.75, 22, 140, 190},
	{0.8, 24, 150, 200}, {1, 26, 180, 236}, {1.25, 28, 212, 265}, {1.5, 32, 236, 300},
	{1.75, 34, 265, 335}, {2, 38, 280, 375}, {2.5, 42, 335, 450}, {3, 48, 375, 500},
}

// pitchTolerances lists ISO 965-1 tolerances of the pitch diameter, grade 6, in
// micrometers: bolt Td2 and nut TD2, by diameter range (over, up to) and pitch.
// From memory, as above.
var pitchTolerances = [...]struct{ overMM, upToMM, pitchMM, bolt, nut float64 }{
	{1.4, 2.8, 0.35, 67, 90}, {1.4, 2.8, 0.4, 71, 95}, {1.4, 2.8, 0.45, 75, 100},
	{2.8, 5.6, 0.35, 71, 95}, {2.8, 5.6, 0.5, 75, 100}, {2.8, 5.6, 0.6, 85, 112}, {2.8, 5.6, 0.7, 90, 118},
	{2.8, 5.6, 0.75, 90, 118}, {2.8, 5.6, 0.8, 95, 125},
	{5.6, 11.2, 0.75, 100, 132}, {5.6, 11.2, 1, 112, 150}, {5.6, 11.2, 1.25, 118, 160}, {5.6, 11.2, 1.5, 132, 180},
	{11.2, 22.4, 1, 118, 160}, {11.2, 22.4, 1.25, 132, 180}, {11.2, 22.4, 1.5, 140, 190},
	{11.2, 22.4, 1.75, 150, 200}, {11.2, 22.4, 2, 160, 212}, {11.2, 22.4, 2.5, 170, 224},
	{22.4, 45, 1, 125, 170}, {22.4, 45, 1.5, 150, 200}, {22.4, 45, 2, 170, 224}, {22.4, 45, 3, 200, 265},
}

func metricLimits(t Thread, fit Fit) ThreadLimits {
	p, d := t.pitch.Float64(), t.diameter.Float64()
	es, boltCrest, nutCrest, isListed := crestTolerances(p)
	boltPitch, nutPitch, isPitchListed := flankTolerances(d, p)
	if fit == Fit6H4g6g {
		boltPitch *= 0.63 // grade 4 over grade 6, ISO 965-1
		if isPitchListed {
			boltPitch = preferred(boltPitch)
		}
	}
	profile := t.BasicProfile()
	return ThreadLimits{
		PitchMM:         p,
		OuterMajorMinMM: d - (es+boltCrest)/1000,
		OuterPitchMinMM: profile.PitchDiameterMM - (es+boltPitch)/1000,
		InnerMinorMaxMM: profile.InnerMinorDiameterMM + nutCrest/1000,
		InnerPitchMaxMM: profile.PitchDiameterMM + nutPitch/1000,
		IsByFormula:     !isListed || !isPitchListed,
	}
}

// crestTolerances returns es, Td and TD1 in micrometers, by table or formula.
func crestTolerances(p float64) (es, bolt, nut float64, isListed bool) {
	for _, row := range &metricTolerances {
		if row.pitchMM == p {
			return row.es, row.bolt, row.nut, true
		}
	}
	es = 15 + 11*p
	return es, 1000*outerSlackMM(p) - es, 1000 * innerSlackMM(p), false
}

// flankTolerances returns Td2 and TD2 in micrometers, by table or by the
// formula Td2(6) = 90·P^0.4·d^0.1, TD2(6) = 1.32·Td2(6) (ISO 965-1, from memory;
// the standard takes the mean of the diameter range for d).
func flankTolerances(d, p float64) (bolt, nut float64, isListed bool) {
	for _, row := range &pitchTolerances {
		if d > row.overMM && d <= row.upToMM && row.pitchMM == p {
			return row.bolt, row.nut, true
		}
	}
	bolt = 90 * math.Pow(p, 0.4) * math.Pow(d, 0.1)
	return bolt, 1.32 * bolt, false
}

// preferred rounds to the series R40 of ISO 3, as ISO 965-1 does.
func preferred(x float64) float64 {
	if x <= 0 {
		return x
	}
	step := math.Round(40 * math.Log10(x))
	decade := math.Pow(10, math.Floor(step/40))
	series := [...]float64{
		1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65,
		2.8, 3, 3.15, 3.35, 3.55, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5,
	}
	index := int(step) - 40*int(math.Floor(step/40))
	return decade * series[index]
}

// unifiedLimits follows ASME B1.1, from memory, in inches: Td2(2A) =
// 0.0015·∛D + 0.0015·√L + 0.015·∛P² with L = D; 3A 0.75, 2B 1.30 and 3B 0.975
// times that; allowance of 2A 0.3·Td2; Td = 0.060·∛P².
func unifiedLimits(t Thread, fit Fit) ThreadLimits {
	const inch = 25.4
	d, p := t.diameter.Float64()/inch, t.pitch.Float64()/inch
	cubePitch := math.Cbrt(p * p)
	td2 := 0.0015*math.Cbrt(d) + 0.0015*math.Sqrt(d) + 0.015*cubePitch
	allowance, bolt, nut := 0.3*td2, td2, 1.3*td2
	if fit == Fit3B3A {
		allowance, bolt, nut = 0, 0.75*td2, 0.975*td2
	}
	pitch := d - 3*math.Sqrt(3)/8*p
	return ThreadLimits{
		PitchMM:          p * inch,
		OuterMajorMinMM:  (d - allowance - 0.06*cubePitch) * inch,
		OuterPitchMinMM:  (pitch - allowance - bolt) * inch,
		InnerMinorMaxMM:  unifiedMinorMax(d, p, fit) * inch,
		InnerPitchMaxMM:  (pitch + nut) * inch,
		IsUnifiedProfile: true,
	}
}

// unifiedMinorMax returns the largest minor diameter of a nut in inches, rounded
// as the standard prints it: three places for 2B, four for 3B.
func unifiedMinorMax(d, p float64, fit Fit) float64 {
	minor := d - innerMinorFactor*p
	fine := 0.05*math.Cbrt(p*p) + 0.03*p/d - 0.002
	if fit == Fit3B3A {
		least := 0.23*p - 1.5*p*p
		if p > 1.0/13 {
			least = 0.12 * p
		}
		return math.Round(1e4*(minor+min(0.394*p, max(least, fine)))) / 1e4
	}
	tolerance := 0.25*p - 0.4*p*p
	if d < 0.25 {
		tolerance = min(0.394*p, max(tolerance, fine))
	} else if p > 0.25 {
		tolerance = 0.15 * p
	}
	return math.Round(1e3*(minor+tolerance)) / 1e3
}
