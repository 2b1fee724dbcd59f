package joint

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// ErrMeasurement says that a measurement can't be that of a thread.
var ErrMeasurement = errors.New("no such measurement")

// A Measured thread is what caliper and pitch gauge say about a part.
type Measured struct {
	DiameterMM      float64 // over the crests; of an inner thread the bore between its crests
	PitchMM         float64 // from one turn to the next
	DiameterErrorMM float64 // largest error of the diameter either way, at least 0
	PitchErrorMM    float64 // largest error of the pitch either way, 0 with a gauge that fits
	Hand            Hand    // seen from the lean of the thread
	IsInner         bool    // a nut, a shell, a crank arm
}

// A Likeness is how a known thread relates to a measured part.
type Likeness struct {
	Known  Known
	Match  Match // Matches: it may be this thread
	Mating Mating
	// Why is the reason in plain words, with the accumulated error where the
	// pitches differ.
	Why string
}

// LookAlikes compares a measured part with a list of known threads and returns
// those it may be ([Matches]) first, then those it can be screwed together with
// and must not be: another hand, another pitch (with the error that adds up
// over engagedMM of engaged length), too loose or too tight. Within a kind the
// nearest pitch comes first. Threads that would not start are left out.
//
// A real outer thread is smaller than its nominal size and a real nut's bore is
// larger than its basic size; the widths of tolerance class 6g and 6H (ISO
// 965-1) are allowed for beside the error of the instrument.
//
// Diameters lie between 0.5 mm and 500 mm, pitches between 0.05 mm and 10 mm,
// errors between 0 and 1 mm, the engaged length above 0 and up to 200 mm;
// anything else gives an error wrapping [ErrMeasurement].
func LookAlikes(m Measured, engagedMM float64, known []Known) ([]Likeness, error) {
	if err := m.check(engagedMM); err != nil {
		return nil, fmt.Errorf("look-alikes: %w", err)
	}
	var found []Likeness
	for _, k := range known {
		if k.Thread.IsZero() {
			continue
		}
		if l := m.like(k, engagedMM); l.Match.Starts() || l.Match == OtherHand {
			found = append(found, l)
		}
	}
	slices.SortStableFunc(found, func(a, b Likeness) int {
		return cmp.Or(
			cmp.Compare(a.Match, b.Match),
			cmp.Compare(a.Mating.AccumulatedMM, b.Mating.AccumulatedMM),
			cmp.Compare(m.offMM(a.Known.Thread), m.offMM(b.Known.Thread)))
	})
	return found, nil
}

func (m Measured) check(engagedMM float64) error {
	for _, c := range []struct {
		name            string
		value, low, top float64
	}{
		{"diameter", m.DiameterMM, smallestDiameterMM, largestDiameterMM},
		{"pitch", m.PitchMM, finestPitchMM, coarsestPitchMM},
		{"diameter error", m.DiameterErrorMM, 0, 1},
		{"pitch error", m.PitchErrorMM, 0, 1},
		{"engaged length", engagedMM, math.SmallestNonzeroFloat64, 200},
	} {
		if !(c.value >= c.low && c.value <= c.top) { // also catches NaN
			return fmt.Errorf("%w: %s %g mm is outside %.2g mm to %g mm", ErrMeasurement, c.name, c.value, c.low, c.top)
		}
	}
	if m.Hand > LeftHand {
		return fmt.Errorf("%w: %s", ErrMeasurement, m.Hand)
	}
	return nil
}

// nominal estimates the nominal size of the measured thread.
func (m Measured) nominal() dims {
	if m.IsInner {
		return dims{m.DiameterMM + innerMinorFactor*m.PitchMM, m.PitchMM}
	}
	return dims{m.DiameterMM, m.PitchMM}
}

// offMM is how far the measured diameter is from the nominal one of t.
func (m Measured) offMM(t Thread) float64 {
	return abs(m.nominal().d - t.diameter.Float64())
}

// like compares the measurement with one known thread.
func (m Measured) like(k Known, engagedMM float64) Likeness {
	outer, inner := m.nominal(), size(k.Thread)
	if m.IsInner {
		outer, inner = inner, outer
	}
	l := Likeness{Known: k, Mating: mate(outer, inner, engagedMM)}
	isPitch := abs(m.PitchMM-k.Thread.pitch.Float64()) <= m.PitchErrorMM+sameMM
	isSize := m.isWithin(size(k.Thread))
	switch {
	case isPitch && isSize:
		l.Match = Matches
	case isPitch && l.Mating.Match == OtherPitch:
		// The pitch is the same within its error: only the diameter tells.
		l.Match = byDiameter(outer.d - inner.d)
	case l.Mating.Match == Matches:
		l.Match = byDiameter(outer.d - inner.d)
	default:
		l.Match = l.Mating.Match
	}
	if k.Thread.hand != m.Hand && l.Match.Starts() {
		l.Match = OtherHand
	}
	l.Why = l.why()
	return l
}

func byDiameter(over float64) Match {
	if over > 0 {
		return TightMatch
	}
	return LooseMatch
}

// isWithin reports whether the measured diameter can be that of a real thread
// of nominal size s.
func (m Measured) isWithin(s dims) bool {
	low, high := s.d-outerSlackMM(s.p), s.d
	if m.IsInner {
		low, high = s.minor(), s.minor()+innerSlackMM(s.p)
	}
	slack := m.DiameterErrorMM + sameMM
	return m.DiameterMM >= low-slack && m.DiameterMM <= high+slack
}

// outerSlackMM is how far the crests of a 6g bolt may lie below its nominal
// diameter: es + Td, ISO 965-1 formulae for g (15 + 11·P µm) and grade 6
// (180·P^⅔ − 3.15/√P µm), P in millimeters.
func outerSlackMM(p float64) float64 {
	return (15 + 11*p + 180*math.Cbrt(p*p) - 3.15/math.Sqrt(p)) / 1000
}

// innerSlackMM is how much wider than basic the bore of a 6H nut may be: TD1,
// ISO 965-1 formulae for grade 6 (230·P^0.7 µm from 1 mm up, else
// 433·P − 190·P^1.22 µm), P in millimeters.
func innerSlackMM(p float64) float64 {
	if p >= 1 {
		return 230 * math.Pow(p, 0.7) / 1000
	}
	return (433*p - 190*math.Pow(p, 1.22)) / 1000
}

// why puts a likeness into words.
func (l Likeness) why() string {
	name := l.Known.Thread.String()
	switch l.Match {
	case Matches:
		return "may be " + name + ": diameter, pitch and hand agree within the error of the instruments"
	case OtherHand:
		return "near " + name + " but the other hand: the first turn bites askew and ruins the thread"
	case OtherPitch:
		return fmt.Sprintf("starts with %s, then binds: the pitches differ by %.3f mm, which adds up to %.2f mm over the engaged length",
			name, abs(l.Mating.PitchDifferenceMM), l.Mating.AccumulatedMM)
	case LooseMatch:
		return fmt.Sprintf("goes together with %s but holds badly: %.0f %% of the flank depth is covered", name, 100*l.Mating.FlankShare)
	case TightMatch:
		return "starts with " + name + " but is too large for it: it binds and cuts"
	case NoMatch, TooLarge, TooSmall:
		return "does not go together with " + name
	}
	return ""
}
