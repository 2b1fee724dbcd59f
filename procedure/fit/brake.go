package fit

const brakeRule = "brake-kind"

// The words a [Brake] is described with.
const (
	DiscBrake = "disc"
	RimBrake  = "rim"

	NoMount   = "none"
	SideMount = "side tab 51 mm"
	PostMount = "post 74 mm"
	FlatMount = "flat"

	NoSeat     = "none"
	SixBolt    = "six bolts on 44 mm"
	SplineSeat = "spline"

	MineralOil = "mineral oil"
	Glycol     = "glycol"
)

// A Brake is one end of the bicycle, front or rear: the brake that is to go on
// and what frame or fork, wheel and lever offer.
type Brake struct {
	Kind string // [DiscBrake] or [RimBrake]

	// For a disc brake.
	Mount, Caliper   string // [NoMount], [SideMount], [PostMount] or [FlatMount]; [NoMount] as Caliper: there is none yet
	HubSeat, Rotor   string // [NoSeat], [SixBolt] or [SplineSeat]; [NoSeat] as Rotor: there is none yet
	LeverFluid       string // [MineralOil], [Glycol], or "" for a cable lever
	CaliperFluid     string // the same for the caliper
	LeverPull, Needs string // cable only: pulls as in [LeverPull]

	// For a rim brake, beside the pulls.
	HasTrack bool // the rim has a flat brake track in tolerance
	HasBoss  bool // bosses or a drilled bridge or crown with the right reach
}

// BrakeKind asks whether frame, wheel and lever of one end take the brake, point
// by point. One bicycle may have a disc brake at one end and a rim brake at the
// other if each end passes.
//
// A result names in Needs what the end lacks, also where the verdict is that
// the parts at hand do not fit: asked for a disc brake on a bicycle made for rim
// brakes, the results name frame or fork, caliper, wheel, rotor and lever.
// Source: common practice, no source.
func BrakeKind(b Brake) ([]Result, error) {
	var in inputs
	in.brake(b)
	if err := in.err(brakeRule); err != nil {
		return nil, err
	}
	if b.Kind == RimBrake {
		return []Result{b.track(), b.boss(), b.pull()}, nil
	}
	results := []Result{b.mount(), b.caliper(), b.seat(), b.fluid()}
	if b.LeverFluid == "" && b.CaliperFluid == "" {
		results = append(results, b.pull())
	}
	return results, nil
}

func (in *inputs) brake(b Brake) {
	in.choice("kind", b.Kind, DiscBrake, RimBrake)
	if b.Kind == DiscBrake {
		in.choice("mount", b.Mount, NoMount, SideMount, PostMount, FlatMount)
		in.choice("caliper", b.Caliper, NoMount, SideMount, PostMount, FlatMount)
		in.choice("hub_seat", b.HubSeat, NoSeat, SixBolt, SplineSeat)
		in.choice("rotor", b.Rotor, NoSeat, SixBolt, SplineSeat)
		in.choice("lever_fluid", b.LeverFluid, "", MineralOil, Glycol)
		in.choice("caliper_fluid", b.CaliperFluid, "", MineralOil, Glycol)
	}
	if b.Kind == RimBrake || b.LeverFluid == "" && b.CaliperFluid == "" {
		in.choice("lever_pull", b.LeverPull, pulls()...)
		in.choice("needs", b.Needs, pulls()...)
	}
}

// compared is a result that comes from comparing two words.
func compared(rule, check, have, want string) Result {
	return Result{
		Rule: rule, Check: check, Verdict: Fits, Instrument: Instrument{Name: "looked at"},
		Measured: have, Limit: want, Source: sourcePractice, Confidence: CommonPractice,
	}
}

func (b Brake) mount() Result {
	r := compared(brakeRule, "caliper mount", "mount "+b.Mount, "a mount for a caliper")
	switch {
	case b.Mount == NoMount:
		r.Verdict = DoesNotFit
		r.need("a frame or fork with a mount for a disc caliper")
		r.Why = "Frame or fork has no mount for a disc brake; none can be added."
	case b.Caliper == NoMount:
		r.Why = "Frame or fork has a mount for a disc brake."
	case b.Mount == b.Caliper:
		r.Why = "Mount and caliper are of one kind."
	case b.Mount != FlatMount && b.Caliper != FlatMount:
		r.need("an adapter from " + b.Mount + " to " + b.Caliper)
		r.Why = "An adapter joins side tabs and posts."
	default:
		r.Verdict = DoesNotFit
		r.Why = "A " + b.Caliper + " caliper does not go on a " + b.Mount + " mount."
	}
	return r
}

// caliper asks whether there is one at all; whether it is the right one is the
// mount's question.
func (b Brake) caliper() Result {
	r := compared(brakeRule, "caliper", "caliper "+b.Caliper, "a disc caliper")
	r.Why = "There is a caliper for a disc brake."
	if b.Caliper == NoMount {
		r.need("a disc caliper made for the mount")
		r.Why = "A disc brake needs a caliper of its own; nothing of a rim brake serves it."
	}
	return r
}

func (b Brake) seat() Result {
	r := compared(brakeRule, "rotor seat", "hub "+b.HubSeat+", rotor "+b.Rotor, "hub and rotor of one kind")
	switch {
	case b.HubSeat == NoSeat:
		r.need("a wheel with a rotor seat")
		if b.Rotor == NoSeat {
			r.need("a rotor for that seat")
		}
		r.Why = "This hub has no seat for a rotor."
	case b.Rotor == NoSeat:
		r.need("a rotor for " + b.HubSeat)
		r.Why = "The hub has a seat, and there is no rotor on it."
	case b.HubSeat == SplineSeat && b.Rotor == SixBolt:
		r.need("a rotor adapter from spline to six bolts")
		r.Why = "A six-bolt rotor goes on a splined hub with an adapter."
	case b.HubSeat != b.Rotor:
		r.need("a six-bolt rotor")
		r.Why = "A splined rotor does not go on a six-bolt hub; take a rotor of the hub's kind."
	default:
		r.Why = "Hub and rotor are of one kind."
	}
	return r
}

func (b Brake) fluid() Result {
	name := func(fluid string) string {
		if fluid == "" {
			return "cable"
		}
		return fluid
	}
	r := compared(brakeRule, "lever", "lever "+name(b.LeverFluid)+", caliper "+name(b.CaliperFluid), "the same for both")
	r.Why = "Lever and caliper work by the same means."
	if b.LeverFluid != b.CaliperFluid {
		r.Verdict = DoesNotFit
		r.need("a lever that works the caliper by " + name(b.CaliperFluid))
		r.Why = "Lever and caliper do not go together. Two fluids are never mixed: the seals of one are ruined by the other."
	}
	return r
}

func (b Brake) track() Result {
	r := compared(brakeRule, "brake track", "brake track "+yes(b.HasTrack), "a flat brake track within its wear mark")
	r.Why = "The rim has a brake track."
	if !b.HasTrack {
		r.Verdict = DoesNotFit
		r.Why = "This rim has no brake track; it is made for a disc brake only."
	}
	return r
}

func (b Brake) boss() Result {
	r := compared(brakeRule, "brake boss", "boss or drilled bridge "+yes(b.HasBoss), "bosses, or a drilled bridge or crown, with the right reach")
	r.Why = "The brake has a place to bolt to."
	if !b.HasBoss {
		r.Verdict = DoesNotFit
		r.Why = "Frame or fork has no place for a rim brake."
	}
	return r
}

func (b Brake) pull() Result {
	r := pullResult(b.LeverPull, b.Needs)
	r.Rule, r.Check = brakeRule, "lever pull"
	return r
}

func yes(there bool) string {
	if there {
		return "present"
	}
	return "missing"
}
