package joint

// What is taken for a measurement where nobody says better. They are common
// practice: a vernier caliper over worn crests is off by a tenth; a pitch is
// told by trying gauges, and those of pedals, 1.25 mm and 20 turns in an inch, lie
// 0.02 mm apart.
const (
	usualDiameterErrorMM = 0.1
	usualPitchErrorMM    = 0.01
	usualEngagedMM       = 10
)

const inchMM = 25.4

// A LookAlikeQuestion is a part with a thread on it that nobody knows the name
// of. The diameter must be given, and the pitch one way or the other; a zero
// field of the rest takes its default, which the answer lists as assumed.
type LookAlikeQuestion struct {
	DiameterMM float64 // over the crests; of an inner thread the bore between its crests
	// PitchMM is the distance from one turn to the next, or TurnsPerInch how many
	// turns there are in 25.4 mm. One of the two.
	PitchMM, TurnsPerInch float64
	DiameterErrorMM       float64 // largest error either way; default 0.1
	// PitchErrorMM is the largest error of the pitch either way. The default is
	// 0.01 for a pitch in millimeters; turns that were counted have none.
	PitchErrorMM float64
	EngagedMM    float64 // how deep the two would be screwed together; default 10
	Hand         Hand    // seen from the lean of the thread
	IsInner      bool    // a nut, a shell, a crank arm
}

// A LookAlikeAnswer is what the part may be and what it must be kept away from.
type LookAlikeAnswer struct {
	Measured  Measured
	EngagedMM float64
	MayBe     []Likeness // it may be each of these; best fit first
	// Wrecks are the threads it starts in, or bites at, and ruins: another pitch,
	// another hand, too loose to hold, too tight.
	Wrecks      []Likeness
	Assumptions Assumptions
}

// Find compares the part with known threads, as [LookAlikes] does.
//
// Errors: [FieldError].
func (q LookAlikeQuestion) Find(known []Known) (LookAlikeAnswer, error) {
	q, assumed := q.filled()
	in := inputs{}
	in.within("diameter_mm", q.DiameterMM, smallestDiameterMM, largestDiameterMM)
	switch {
	case q.PitchMM != 0 && q.TurnsPerInch != 0:
		in.add("turns_per_inch", "one", "give either a pitch or turns per inch")
	case q.PitchMM == 0 && q.TurnsPerInch == 0:
		in.add("pitch_mm", "required", "give a pitch, or turns per inch")
	case q.TurnsPerInch != 0:
		in.within("turns_per_inch", q.TurnsPerInch, inchMM/coarsestPitchMM, inchMM/finestPitchMM)
		q.PitchMM = inchMM / q.TurnsPerInch
	default:
		in.within("pitch_mm", q.PitchMM, finestPitchMM, coarsestPitchMM)
	}
	in.within("diameter_error_mm", q.DiameterErrorMM, 0, 1)
	in.within("pitch_error_mm", q.PitchErrorMM, 0, 1)
	in.above("engaged_mm", q.EngagedMM, 200)
	if q.Hand > LeftHand {
		in.add("hand", "known", "a thread is right-hand or left-hand")
	}
	if err := in.err("look-alikes"); err != nil {
		return LookAlikeAnswer{}, err
	}
	out := LookAlikeAnswer{EngagedMM: q.EngagedMM, Assumptions: assumed, Measured: Measured{
		DiameterMM: q.DiameterMM, PitchMM: q.PitchMM, DiameterErrorMM: q.DiameterErrorMM,
		PitchErrorMM: q.PitchErrorMM, Hand: q.Hand, IsInner: q.IsInner,
	}}
	list, err := LookAlikes(out.Measured, q.EngagedMM, known)
	for _, l := range list {
		if l.Match == Matches {
			out.MayBe = append(out.MayBe, l)
		} else {
			out.Wrecks = append(out.Wrecks, l)
		}
	}
	return out, err
}

func (q LookAlikeQuestion) filled() (LookAlikeQuestion, Assumptions) {
	var a Assumptions
	if q.DiameterErrorMM == 0 {
		q.DiameterErrorMM, a = usualDiameterErrorMM, a.with(AssumedCaliper, true)
	}
	if q.PitchErrorMM == 0 && q.PitchMM != 0 {
		q.PitchErrorMM, a = usualPitchErrorMM, a.with(AssumedPitchGauge, true)
	}
	if q.EngagedMM == 0 {
		q.EngagedMM, a = usualEngagedMM, a.with(AssumedEngagedLength, true)
	}
	return q, a
}
