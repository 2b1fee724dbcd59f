package procedure

import (
	"slices"
	"time"
)

// Concerns reports whether the wait runs at all after this prep. A wait that
// names no preps runs after any fact.
func (w Wait) Concerns(p PrepDone) bool {
	return len(w.With) == 0 || slices.Contains(w.With, p.Thread)
}

// Least returns how long the wait lasts in the conditions of the prep, 0 where
// it does not concern it. A condition that was not recorded counts as the slow
// one.
func (w Wait) Least(p PrepDone) time.Duration {
	if !w.Concerns(p) {
		return 0
	}
	return time.Duration(w.For) * time.Duration(w.factor(p))
}
