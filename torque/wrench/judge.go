package wrench

import (
	"math"

	"github.com/tightwright/tightwright/torque"
)

// A Judgment is what a reading proves about a window.
type Judgment struct {
	Outcome Outcome `json:"outcome"`
	// Probability is the conformance probability p_c, from 0 to 1.
	Probability float64 `json:"probability"`
	Tails       Tails   `json:"tails"`
	// Within tells whether the reading itself lies in the window, limits
	// included.
	Within bool `json:"within"`
}

// Judge decides on a reading by the conformance probability: conforming where
// p_c reaches the level, nonconforming where the probability of lying outside
// reaches it, undecided between (JCGM 106:2012 7.3, 7.4). The reading is the
// mean of a normal distribution whose standard deviation is the uncertainty at
// the reading.
//
// Without uncertainty the reading is compared exactly, and a reading on a limit
// conforms: windows are closed intervals (ILAC-G8:09/2019 words it as below the
// limit). The error is [torque.ErrNoLimit] for a window without limits.
func (l Level) Judge(window torque.Window, reading torque.Torque, u Uncertainty) (Judgment, error) {
	if window.IsZero() {
		return Judgment{}, torque.ErrNoLimit
	}
	j := Judgment{Tails: tailsOf(window, reading, u), Within: window.Contains(reading)}
	j.Probability, j.Outcome = j.Tails.Inside, l.outcome(j.Tails)
	return j, nil
}

func (l Level) outcome(t Tails) Outcome {
	switch p := l.Probability(); {
	case t.Inside >= p:
		return Conforming
	case t.Outside() >= p:
		return Nonconforming
	}
	return Undecided
}

// tailsOf takes the differences in whole nanonewton meters, so nothing is lost
// before the division.
func tailsOf(window torque.Window, reading torque.Torque, u Uncertainty) Tails {
	low, high := math.Inf(-1), math.Inf(1)
	deviation := u.nano(float64(reading))
	if minimum, ok := window.Min(); ok {
		low = standardized(float64(minimum-reading), deviation, -1)
	}
	if maximum, ok := window.Max(); ok {
		high = standardized(float64(maximum-reading), deviation, 1)
	}
	return NormalTails(low, high)
}

// standardized divides, and without uncertainty goes to infinity; there a
// reading on a limit counts as inside, which lies on the given side of it.
func standardized(difference, deviation, inside float64) float64 {
	if deviation > 0 {
		return difference / deviation
	}
	if difference == 0 {
		difference = inside
	}
	return math.Inf(int(math.Copysign(1, difference)))
}
