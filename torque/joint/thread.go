package joint

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Hand is the direction in which a thread tightens, seen from the head.
type Hand uint8

const (
	// RightHand tightens clockwise. It is the zero value.
	RightHand Hand = iota
	// LeftHand tightens counterclockwise.
	LeftHand
)

// String returns "right-hand" or "left-hand".
func (h Hand) String() string {
	switch h {
	case RightHand:
		return "right-hand"
	case LeftHand:
		return "left-hand"
	}
	return "hand " + strconv.Itoa(int(h))
}

// ErrHand says that a text names no hand.
var ErrHand = errors.New("no such hand")

// MarshalText writes "right-hand" or "left-hand".
func (h Hand) MarshalText() ([]byte, error) {
	if h > LeftHand {
		return nil, fmt.Errorf("%w: %d", ErrHand, uint8(h))
	}
	return []byte(h.String()), nil
}

// UnmarshalText reads "right-hand", "left-hand", "RH" and "LH" in any case.
func (h *Hand) UnmarshalText(text []byte) error {
	switch strings.ToLower(string(text)) {
	case "right-hand", "rh":
		*h = RightHand
	case "left-hand", "lh":
		*h = LeftHand
	default:
		return fmt.Errorf(`%w: %q; write "right-hand" or "left-hand"`, ErrHand, clip(string(text)))
	}
	return nil
}

// Limits of what counts as a thread here, in millimeters. They only keep slips
// of the pen out: a watchmaker's screw and a drain pipe both lie inside.
const (
	smallestDiameterMM = 0.5
	largestDiameterMM  = 500
	finestPitchMM      = 0.05
	coarsestPitchMM    = 10
)

// ErrThreadRange says that a diameter or pitch is not that of a thread.
var ErrThreadRange = errors.New("no such thread")

// A Thread is a screw thread: nominal (major) diameter, pitch and hand. It is
// comparable: == is true exactly when diameter, pitch and hand are equal,
// whatever the units it was written in. The zero Thread is "no thread".
type Thread struct {
	diameter, pitch Ratio // millimeters, exact
	hand            Hand
}

// NewThread returns the thread of the given nominal diameter and pitch, both in
// millimeters. The diameter lies between 0.5 mm and 500 mm with at most six
// decimals; the pitch lies between 0.05 mm and 10 mm, is at most half the
// diameter, and is either a decimal of at most four places or 25.4 mm divided
// by a whole number. Anything else gives an error wrapping [ErrThreadRange].
func NewThread(diameter, pitch Ratio, hand Hand) (Thread, error) {
	t := Thread{
		diameter: reducedOrZero(diameter),
		pitch:    reducedOrZero(pitch),
		hand:     hand,
	}
	if err := t.check(); err != nil {
		return Thread{}, err
	}
	return t, nil
}

func reducedOrZero(r Ratio) Ratio {
	if r.IsZero() {
		return Ratio{}
	}
	return reduced(r.Num, r.Den)
}

func (t Thread) check() error {
	d, p := t.diameter.Float64(), t.pitch.Float64()
	switch {
	case d < smallestDiameterMM || d > largestDiameterMM:
		return fmt.Errorf("%w: diameter %s mm is outside 0.5 mm to 500 mm", ErrThreadRange, t.diameter)
	case p < finestPitchMM || p > coarsestPitchMM:
		return fmt.Errorf("%w: pitch %s mm is outside 0.05 mm to 10 mm", ErrThreadRange, t.pitch)
	case 2*p > d:
		return fmt.Errorf("%w: pitch %s mm is more than half the diameter %s mm", ErrThreadRange, t.pitch, t.diameter)
	case !t.diameter.hasPlaces(6):
		return fmt.Errorf("%w: diameter %s mm has more than six decimals", ErrThreadRange, t.diameter)
	case !t.pitch.hasPlaces(4) && t.TurnsPerInch() == 0:
		return fmt.Errorf("%w: pitch %s mm is neither a short decimal nor a whole number of turns per inch", ErrThreadRange, t.pitch)
	case t.hand > LeftHand:
		return fmt.Errorf("%w: %s", ErrThreadRange, t.hand)
	}
	return nil
}

// Diameter returns the nominal (major) diameter in millimeters.
func (t Thread) Diameter() Ratio { return t.diameter }

// Pitch returns the distance from one turn to the next in millimeters.
func (t Thread) Pitch() Ratio { return t.pitch }

// Hand returns the direction in which t tightens.
func (t Thread) Hand() Hand { return t.hand }

// IsZero reports whether t is "no thread".
func (t Thread) IsZero() bool { return t == Thread{} }

// Equal reports whether t and u are the same thread; it is the same as ==.
func (t Thread) Equal(u Thread) bool { return t == u }

// WithHand returns t with the given hand. Of "no thread" it returns "no thread".
func (t Thread) WithHand(h Hand) Thread {
	if t.IsZero() || h > LeftHand {
		return t
	}
	t.hand = h
	return t
}

// TurnsPerInch returns the whole number of turns in 25.4 mm, or 0 if the pitch
// is not such a fraction of the inch. No metric pitch in use is one.
func (t Thread) TurnsPerInch() int {
	// turns = 25.4/pitch = 127·Den/(5·Num)
	num, den := 127*t.pitch.Den, 5*t.pitch.Num
	if den == 0 || t.pitch.Den > 1<<40 || num%den != 0 {
		return 0
	}
	return int(num / den)
}
