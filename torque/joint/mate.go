package joint

import "strconv"

// A Match says what happens when one thread is screwed into another.
type Match uint8

const (
	// NoMatch is the zero value: one of the two is "no thread".
	NoMatch Match = iota
	// Matches: the same thread.
	Matches
	// OtherHand: the same way round is needed and the hands differ. The first
	// turn bites askew and ruins the thread.
	OtherHand
	// OtherPitch: the diameters let it start, the turns do not meet. The error
	// adds up turn by turn until it binds and the thread is wrecked.
	OtherPitch
	// LooseMatch: same pitch, smaller outer thread. It goes in all the way and
	// holds by part of its flanks.
	LooseMatch
	// TightMatch: same pitch, outer thread slightly too large. It binds and
	// cuts.
	TightMatch
	// TooLarge: the outer thread does not enter at all.
	TooLarge
	// TooSmall: the outer thread drops through without touching a flank.
	TooSmall
)

var matchNames = [...]string{
	NoMatch: "no thread", Matches: "the same thread", OtherHand: "other hand",
	OtherPitch: "other pitch", LooseMatch: "loose", TightMatch: "tight",
	TooLarge: "too large", TooSmall: "too small",
}

// String returns the match in a word or two: "other pitch".
func (m Match) String() string {
	if int(m) < len(matchNames) {
		return matchNames[m]
	}
	return "match " + strconv.Itoa(int(m))
}

// Starts reports whether two threads that match so can be turned into each
// other at all, well or badly. All but [Matches] do damage.
func (m Match) Starts() bool {
	return m == Matches || m == OtherPitch || m == LooseMatch || m == TightMatch
}

// A Mating is what is known of an outer thread in an inner one.
type Mating struct {
	Match Match
	// PitchDifferenceMM is the pitch of the outer thread less that of the inner.
	PitchDifferenceMM float64
	// AccumulatedMM is how far the turns are apart at the end of the engaged
	// length, without sign.
	AccumulatedMM float64
	// FlankShare is how much of the full flank depth is covered, 0 to 1.
	FlankShare float64
}

// bite is how much larger than the nut a bolt may be and still start in it,
// as a share of the pitch. The sharp corner of the nut's profile lies P·√3/8
// (0.22 P) outside its nominal diameter (ISO 68-1: H/4 in diameter) and a first
// turn is chamfered; a quarter of the pitch errs on the side of a warning.
const bite = 0.25

// Mate says what happens when outer is screwed engagedMM millimeters deep into
// inner, by the nominal sizes of both. The end of an engaged length of N turns
// of the inner thread is N·|difference of pitch| away from where it should be.
// An engaged length that is not positive counts as none.
func Mate(outer, inner Thread, engagedMM float64) Mating {
	if outer.IsZero() || inner.IsZero() {
		return Mating{}
	}
	m := mate(size(outer), size(inner), engagedMM)
	if outer.hand != inner.hand && m.Match.Starts() {
		m.Match = OtherHand
	}
	return m
}

// dims are diameter and pitch of a thread that may be known or measured.
type dims struct{ d, p float64 }

func size(t Thread) dims { return dims{t.diameter.Float64(), t.pitch.Float64()} }

// sameMM is the distance below which two lengths count as equal: far below any
// difference between threads, far above the noise of floating point.
const sameMM = 1e-7

// minor returns the minor diameter of a nut of this size (ISO 724).
func (s dims) minor() float64 { return s.d - innerMinorFactor*s.p }

// innerMinorFactor is 5/8·√3: D1 = d − 1.0825·P.
const innerMinorFactor = 1.0825317547305482

func mate(outer, inner dims, engagedMM float64) Mating {
	m := Mating{
		PitchDifferenceMM: outer.p - inner.p,
		AccumulatedMM:     max(0, engagedMM) / inner.p * abs(outer.p-inner.p),
		FlankShare:        min(1, max(0, (outer.d-inner.minor())/(inner.d-inner.minor()))),
	}
	over := outer.d - inner.d
	switch {
	case over > bite*inner.p:
		m.Match = TooLarge
	case outer.d <= inner.minor():
		m.Match = TooSmall
	case abs(m.PitchDifferenceMM) > sameMM:
		m.Match = OtherPitch
	case over > sameMM:
		m.Match = TightMatch
	case over < -sameMM:
		m.Match = LooseMatch
	default:
		m.Match = Matches
	}
	return m
}

func abs(x float64) float64 { return max(x, -x) }
