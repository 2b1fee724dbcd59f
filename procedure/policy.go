package procedure

import (
	"time"

	"github.com/tightwright/tightwright/torque"
)

// DefaultProbability is the conformance probability at which a reading is
// called conforming, and its complement nonconforming. ISO 14253-1:2017 uses
// 95 % where nothing else is agreed (from memory).
const DefaultProbability = 0.95

// A Policy is what the shop decides about plans. The zero value is the
// default.
type Policy struct {
	// Probability pins the decision; 0 means DefaultProbability. It lies
	// above 0.5 and below 1.
	Probability float64 `json:"probability,omitempty"`
	// Accepted lists joints whose from-memory window a foreman answers for
	// on this build.
	Accepted []Acceptance `json:"accepted,omitempty"`
}

// An Acceptance is a foreman's word for a window that nobody printed.
type Acceptance struct {
	Joint  string    `json:"joint"`
	Person string    `json:"person"`
	At     time.Time `json:"at"`
	// Window is what was answered for; it holds for no other window. The zero
	// window holds for any, which is for planning ahead and never recorded.
	Window torque.Window `json:"window,omitzero"`
}

func (p Policy) probability() float64 {
	if p.Probability == 0 {
		return DefaultProbability
	}
	return p.Probability
}

func (p Policy) check() error {
	if q := p.probability(); !(q > 0.5 && q < 1) {
		return &FieldError{Path: "policy.probability", Rule: "out-of-range",
			Text: "the probability must be above 0.5 and below 1, such as 0.95"}
	}
	return nil
}

func (p Policy) accepted(joint string, w torque.Window) (Acceptance, bool) {
	for _, a := range p.Accepted {
		if a.Joint == joint && (a.Window.IsZero() || a.Window == w) {
			return a, true
		}
	}
	return Acceptance{}, false
}
