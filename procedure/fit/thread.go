package fit

import "github.com/tightwright/tightwright/torque/joint"

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

// mismatch says in words why outer does not belong in inner.
func mismatch(outer, inner joint.Thread, _ Length) string {
	return threadText(outer) + " does not belong in " + threadText(inner) + "."
}
