package wrench

import "github.com/tightwright/tightwright/torque"

// An Acceptance is a window worked out for an uncertainty and a level, ready
// for a tablet: it compares a reading with these limits and needs no
// mathematics of its own. To the nanonewton meter it says what [Level.Judge]
// says.
type Acceptance struct {
	// Conforming holds the readings that conform. Where HasConforming is
	// false there are none: the uncertainty is too large for the window.
	Conforming    torque.Window `json:"conforming,omitzero"`
	HasConforming bool          `json:"has_conforming"`
	// Possible holds the readings that are not nonconforming: inside it but
	// outside Conforming a reading is undecided, beyond it nonconforming. Where
	// HasPossible is false every reading is nonconforming.
	Possible    torque.Window `json:"possible,omitzero"`
	HasPossible bool          `json:"has_possible"`
}

// Outcome compares a reading with the limits.
func (a Acceptance) Outcome(reading torque.Torque) Outcome {
	switch {
	case a.HasConforming && holds(a.Conforming, reading):
		return Conforming
	case a.HasPossible && holds(a.Possible, reading):
		return Undecided
	}
	return Nonconforming
}

// holds treats a window without limits as one that holds everything.
func holds(window torque.Window, reading torque.Torque) bool {
	return window.IsZero() || window.Contains(reading)
}

// Acceptance works out the limits of a window for readings from 1 nN·m to
// [torque.MaxWire]. With one limit, or with an uncertainty small against the
// window, the limits of Conforming lie z·u inside those of the window, z from
// the level and u taken at the reading; else both tails count and it is
// narrower, down to nothing. The error is [torque.ErrNoLimit].
//
// Where a side of the window makes no difference within that range, the side
// is left out of the result, and both may be: the zero [torque.Window] then
// stands for every reading.
func (l Level) Acceptance(window torque.Window, u Uncertainty) (Acceptance, error) {
	if window.IsZero() {
		return Acceptance{}, torque.ErrNoLimit
	}
	if u.IsZero() {
		return Acceptance{window, true, window, true}, nil
	}
	s := search{level: l, window: window, u: u}
	top := s.top()
	var a Acceptance
	a.Conforming, a.HasConforming = s.interval(top, Conforming)
	a.Possible, a.HasPossible = s.interval(top, Undecided)
	return a, nil
}
