package fit

import (
	"slices"
)

// The words a [DiscEnd] is described with, beside those of a [Brake].
const noLever = "none"

// A DiscEnd is one end of a bicycle that is to have a disc brake, with what is
// there already.
type DiscEnd struct {
	Mount     string // of fork or frame: [NoMount], [SideMount], [PostMount] or [FlatMount]
	Caliper   string // the same; [NoMount] or "": there is none
	CaliperBy string // what works it: [MineralOil], [Glycol] or a pull; "" without a caliper
	HubSeat   string // [NoSeat], [SixBolt] or [SplineSeat]; "" is [NoSeat]
	Rotor     string // the same; [NoSeat] or "": there is none
	LeverBy   string // what the lever works with: a fluid or a pull; "none" or "": there is none
}

// A DiscNeed is one of the five things a change to disc brakes needs.
type DiscNeed struct {
	Part    string // "frame", "fork", "levers", "calipers", "wheels"
	Results []Result
}

// Verdict is the worst of the results.
func (n DiscNeed) Verdict() Verdict { return Worst(n.Results...) }

// IsPresent reports whether what is there serves as it is.
func (n DiscNeed) IsPresent() bool { return n.Verdict() == Fits }

// Needs lists what has to be got, each once.
func (n DiscNeed) Needs() []string {
	var out []string
	for _, r := range n.Results {
		for _, need := range r.Needs {
			if !slices.Contains(out, need) {
				out = append(out, need)
			}
		}
	}
	return out
}

// DiscChange says what a change from rim to disc brakes needs at both ends, and
// what of it is there: frame, fork, levers, calipers and wheels. Source: common
// practice, no source.
func DiscChange(front, rear DiscEnd) ([]DiscNeed, error) {
	front, rear = front.tidy(), rear.tidy()
	var in inputs
	in.discEnd("front", front)
	in.discEnd("rear", rear)
	if err := in.err("disc-change"); err != nil {
		return nil, err
	}
	f, r := front.brake(), rear.brake()
	return []DiscNeed{
		{"frame", []Result{at("rear", r.mount())}},
		{"fork", []Result{at("front", f.mount())}},
		{"levers", []Result{at("front", front.lever()), at("rear", rear.lever())}},
		{"calipers", []Result{at("front", f.caliper()), at("rear", r.caliper())}},
		{"wheels", []Result{at("front", f.seat()), at("rear", r.seat())}},
	}, nil
}

// at says in the check of a result which end it is about.
func at(end string, r Result) Result {
	r.Check = end + " " + r.Check
	return r
}

func (e DiscEnd) tidy() DiscEnd {
	for _, word := range []*string{&e.Caliper, &e.HubSeat, &e.Rotor, &e.LeverBy} {
		if *word == "" {
			*word = NoMount
		}
	}
	return e
}

func (in *inputs) discEnd(path string, e DiscEnd) {
	in.choice(path+".mount", e.Mount, NoMount, SideMount, PostMount, FlatMount)
	in.choice(path+".caliper", e.Caliper, NoMount, SideMount, PostMount, FlatMount)
	in.choice(path+".rotor_seat", e.HubSeat, NoSeat, SixBolt, SplineSeat)
	in.choice(path+".rotor", e.Rotor, NoSeat, SixBolt, SplineSeat)
	in.choice(path+".lever_by", e.LeverBy, append([]string{noLever}, means()...)...)
	switch {
	case e.Caliper != NoMount:
		in.choice(path+".caliper_by", e.CaliperBy, means()...)
	case e.CaliperBy != "":
		in.add(path+".caliper_by", "range", "there is no caliper to be worked")
	}
}

// means are what a lever works a brake by.
func means() []string { return append([]string{MineralOil, Glycol}, pulls()...) }

func isFluid(by string) bool { return by == MineralOil || by == Glycol }

// brake is the end in the words of [BrakeKind], for the points that it answers
// alike.
func (e DiscEnd) brake() Brake {
	return Brake{Kind: DiscBrake, Mount: e.Mount, Caliper: e.Caliper, HubSeat: e.HubSeat, Rotor: e.Rotor}
}

// lever asks whether the lever works the caliper. Without a caliper it is an
// open question: a cable caliper is chosen by the lever's pull, a hydraulic one
// by its fluid.
func (e DiscEnd) lever() Result {
	r := compared(brakeRule, "lever", "lever by "+e.LeverBy+", caliper by "+e.CaliperBy, "the same for both")
	if e.CaliperBy == "" {
		r.Measured = "lever by " + e.LeverBy + ", no caliper yet"
	}
	switch {
	case e.LeverBy == noLever && e.CaliperBy == "":
		r.need("a lever of the caliper's kind")
		r.Why = "A disc brake needs a lever that works its caliper: the same fluid, or a cable of the same pull."
	case e.CaliperBy == "" && isFluid(e.LeverBy):
		r.need("a caliper for " + e.LeverBy)
		r.Why = "The lever serves a caliper for the same fluid. Two fluids are never mixed."
	case e.CaliperBy == "":
		r.need("a lever for a hydraulic caliper, or a cable caliper for " + e.LeverBy)
		r.Why = "A lever with a cable works only a caliper with a cable of the same pull."
	case e.LeverBy == e.CaliperBy:
		r.Why = "Lever and caliper work by the same means."
	default:
		r.Verdict = DoesNotFit
		r.need("a lever that works the caliper by " + e.CaliperBy)
		r.Why = "Lever and caliper do not go together. Fluids are never mixed, and a cable of another pull brakes badly or not at all."
	}
	return r
}
