package fit

import (
	"fmt"

	"github.com/tightwright/tightwright/torque/joint"
)

// thread wants a thread to be given.
func (in *inputs) thread(path string, t joint.Thread) {
	if t.IsZero() {
		in.add(path, "required", `give the thread with its hand, like "9/16 in x 20 tpi LH"`)
	}
}

// threadText writes a thread and always its hand: on a fit list a missing LH
// must not look like a forgotten one.
func threadText(t joint.Thread) string {
	if t.IsZero() {
		return "no thread"
	}
	if t.Hand() == joint.RightHand {
		return t.String() + " RH"
	}
	return t.String()
}

// mismatch says in words what happens when outer is screwed into inner and the
// two are not the same thread.
func mismatch(outer, inner joint.Thread, engaged Length) string {
	pair := threadText(outer) + " in " + threadText(inner)
	m := joint.Mate(outer, inner, engaged.Millimeters())
	switch m.Match {
	case joint.OtherHand:
		return pair + ": the hands differ. The first turn bites askew and ruins the thread."
	case joint.OtherPitch:
		return fmt.Sprintf("%s starts by hand and then binds: the turns are %.2f mm apart after %s. Forced, it ruins the thread.",
			pair, m.AccumulatedMM, engaged)
	case joint.LooseMatch:
		return fmt.Sprintf("%s goes in and holds badly: only %.0f %% of the flank is covered.", pair, 100*m.FlankShare)
	case joint.TightMatch:
		return pair + " binds and cuts: the outer thread is too large."
	case joint.TooLarge:
		return pair + " does not go in: the outer thread is too large."
	case joint.TooSmall:
		return pair + " drops through without holding: the outer thread is too small."
	case joint.NoMatch, joint.Matches:
		return ""
	}
	return ""
}
