package procedure

import (
	"github.com/tightwright/tightwright/procedure/fit"
)

// A DiscEnd is one end of a bicycle that is to have a disc brake, in the words of
// the sheet. An empty word stands for none.
type DiscEnd struct {
	Mount     string // of fork or frame: none, side-tab, post or flat
	Caliper   string // the same
	CaliperBy string // what works it: mineral-oil, glycol, short-pull, long-pull or drop-bar-pull
	RotorSeat string // of the hub: none, six-bolt or splined
	Rotor     string // the same
	LeverBy   string // none, or as CaliperBy
}

// The words of a DiscEnd.
func discMounts() []string { return []string{"none", "side-tab", "post", flatMount} }
func discSeats() []string  { return []string{"none", "six-bolt", "splined"} }
func discMeans() []string {
	return []string{"mineral-oil", "glycol", "short-pull", "long-pull", "drop-bar-pull"}
}

// AskDiscChange says what a change to disc brakes needs at both ends: see
// fit.DiscChange. Every mistake is a FieldError whose path begins with front or
// rear.
func AskDiscChange(front, rear DiscEnd) ([]fit.DiscNeed, error) {
	var p problems
	p.discEnd("front", &front)
	p.discEnd("rear", &rear)
	if err := p.err(); err != nil {
		return nil, err
	}
	needs, err := fit.DiscChange(front.words(), rear.words())
	return needs, FitErrors(err)
}

func (p *problems) discEnd(path string, e *DiscEnd) {
	for _, word := range []*string{&e.Caliper, &e.RotorSeat, &e.Rotor, &e.LeverBy} {
		if *word == "" {
			*word = "none"
		}
	}
	if e.Mount == "" {
		p.add(path+".mount", "missing", "say what fork or frame has for a disc caliper: none, side-tab, post or flat")
	} else {
		checkWord(p, path+".mount", "unknown-choice", "mount", e.Mount, discMounts())
	}
	checkWord(p, path+".caliper", "unknown-choice", "caliper", e.Caliper, discMounts())
	checkWord(p, path+".rotor_seat", "unknown-choice", "rotor seat", e.RotorSeat, discSeats())
	checkWord(p, path+".rotor", "unknown-choice", "rotor", e.Rotor, discSeats())
	checkWord(p, path+".lever_by", "unknown-choice", "what the lever works with", e.LeverBy, append([]string{"none"}, discMeans()...))
	switch {
	case e.CaliperBy != "":
		checkWord(p, path+".caliper_by", "unknown-choice", "what works the caliper", e.CaliperBy, discMeans())
	case e.Caliper != "none":
		p.add(path+".caliper_by", "missing", "say what works the caliper, such as mineral-oil")
	}
}

// words are those of package fit.
func (e DiscEnd) words() fit.DiscEnd {
	return fit.DiscEnd{
		Mount: mountWord(e.Mount), Caliper: mountWord(e.Caliper), CaliperBy: pullWord(fluidWord(e.CaliperBy)),
		HubSeat: seatWord(e.RotorSeat), Rotor: seatWord(e.Rotor), LeverBy: pullWord(fluidWord(e.LeverBy)),
	}
}

// FitErrors turns the mistakes that package fit reports into FieldErrors with the
// same paths; another error stays as it is.
func FitErrors(err error) error {
	found := fitFieldErrors(err)
	if len(found) == 0 {
		return err
	}
	var p problems
	for _, fe := range found {
		p.add(fe.Path, fe.Rule, "%s", fe.Text)
	}
	return p.err()
}
