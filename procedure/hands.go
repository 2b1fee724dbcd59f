package procedure

// Hands says what a step asks of the hands, or leaves on them. Oil on a rotor
// and grease on a carbon clamp are the two faults that no wrench can show.
//
// The zero value means that it does not matter.
type Hands uint8

// The kinds.
const (
	// CleanHands steps are worked with fresh gloves: rotors, pads, rims.
	CleanHands Hands = iota + 1
	// OilyHands steps leave grease, oil or paste on the hand.
	OilyHands
	// LubeHands steps open the chain lube, the last wet thing in a bay.
	LubeHands
)

var handsNames = []string{"", "clean", "oily", "lube"}

// String returns the kind in a word.
func (h Hands) String() string { return enumName(handsNames, h) }

// MarshalText writes the kind; the zero value is empty.
func (h Hands) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (h *Hands) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*h = 0
		return nil
	}
	*h, err = enumParse[Hands]("hands", handsNames, string(b))
	return err
}

// gloves puts the caution before a step that wants clean hands: the first of
// the job, since nobody knows what the hand did before, and every one after a
// step that soils it. Putting it here and not into texts keeps it from being
// forgotten in one of them.
func (p *planner) gloves(s *Step, out *PlannedStep) {
	if s.Hands != CleanHands {
		return
	}
	before := Hands(0)
	for i := range p.plan.Steps {
		if h := p.plan.Steps[i].Hands; h != 0 {
			before = h
		}
	}
	switch before {
	case CleanHands:
		return
	case OilyHands, LubeHands:
		out.Cautions = append([]string{"Fresh gloves: the step before leaves grease or oil on the hand, and a braking face shows neither."}, out.Cautions...)
	default:
		out.Cautions = append([]string{"Fresh gloves before you touch a braking face."}, out.Cautions...)
	}
}
