package joint

import (
	"fmt"
	"math"
	"strconv"
)

// A ClampStyle is how a clamp closes around a tube.
type ClampStyle uint8

const (
	// SingleSlit is a ring with one slit and its bolts in a row across it.
	SingleSlit ClampStyle = iota
	// TwoPiece is a faceplate with the same number of bolts on either side.
	TwoPiece
)

var clampStyleNames = []string{"single slit", "two-piece"}

// String returns "single slit" or "two-piece".
func (s ClampStyle) String() string {
	if s <= TwoPiece {
		return clampStyleNames[s]
	}
	return "style " + strconv.Itoa(int(s))
}

// MarshalText writes the style as [ClampStyle.String] does.
func (s ClampStyle) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what [ClampStyle.MarshalText] writes; anything else gives
// a [FieldError].
func (s *ClampStyle) UnmarshalText(text []byte) (err error) {
	*s, err = oneOf[ClampStyle](clampStyleNames, "style", string(text))
	return err
}

// A Clamp holds a tube by the friction its bolts press up.
//
// The model, derived here and not taken from a standard:
//
//   - two-piece: each side carries its own bolts, F_t = n·F_b across the tube;
//   - single slit: the band pulls equally on both sides, F_t = 2·n·F_b;
//   - of this η reaches the tube, the rest bends the clamp;
//   - the normal forces around the tube add up to C_N·η·F_t, with C_N 2 for two
//     lines of contact, 8/π for a pressure that follows a cosine, π for an even
//     ring.
//
// Fit matters more than friction: a tube at the low end of its tolerance spends
// bolt force on closing the clamp and moves C_N towards 2.
//
// Tube, length, bolts and preload must be given, and either Contact or
// ContactFriction. A zero field of the others takes its default, which the
// result lists as assumed.
type Clamp struct {
	Style          ClampStyle
	TubeDiameterMM float64
	LengthMM       float64 // of the clamp along the tube
	Bolts          int     // all of them; even for TwoPiece
	// BoltPreloadNewtons is the preload of each bolt, from [Bolt.AtTorque] or
	// [NutFactor.Preload].
	BoltPreloadNewtons Band
	// Contact names the state of the faces; ContactFriction, where given, is the
	// caller's own figure and comes first. Without a band it is taken to lie
	// between 0.75 and 1.3 times itself.
	Contact         Contact
	ContactFriction Friction
	// Efficiency is η, above 0 and at most 1.
	Efficiency Band
	// PressureShape is C_N, 2 to π.
	PressureShape Band
	// TubeWallMM, where given, gives the hoop stress in the tube.
	TubeWallMM float64
	// Demand, where given, is compared with the grip.
	Demand Demand
}

// Defaults of a clamp; common practice, no source.
var (
	slitEfficiency      = Band{0.70, 0.85, 0.95}
	faceplateEfficiency = Band{0.8075, 0.95, 1} // 0.85 of the nominal at the low end
	cosineShape         = Band{2, 8 / math.Pi, math.Pi}
	contactWidening     = Band{0.75, 1, 1.3}
	pressurePeaks       = Band{2, 3, 4}
)

// filled returns c with its defaults and what was assumed.
func (c Clamp) filled() (Clamp, Assumptions) {
	var a Assumptions
	if c.Efficiency.IsZero() {
		c.Efficiency = slitEfficiency
		if c.Style == TwoPiece {
			c.Efficiency = faceplateEfficiency
		}
		a = a.with(AssumedSlitEfficiency, c.Style == SingleSlit).
			with(AssumedFaceplateEfficiency, c.Style == TwoPiece)
	}
	if c.PressureShape.IsZero() {
		c.PressureShape = cosineShape
		a = a.with(AssumedPressureShape, true)
	}
	switch {
	case !c.ContactFriction.IsKnown():
		c.ContactFriction, _ = c.Contact.Friction()
		a = a.with(AssumedContactState, c.ContactFriction.IsKnown())
	case !c.ContactFriction.HasBand():
		c.ContactFriction.mu = contactWidening.Times(c.ContactFriction.mu.Nominal)
		a = a.with(AssumedContactBand, true)
	}
	return c, a.with(AssumedPressurePeak, true).with(AssumedLooseShare, c.Bolts > 1)
}

func (c Clamp) check() error {
	in := inputs{}
	if c.Style > TwoPiece {
		in.add("style", "known", c.Style.String()+" is not known")
	}
	in.above("tube_diameter_mm", c.TubeDiameterMM, largestDiameterMM)
	in.above("length_mm", c.LengthMM, 1000)
	in.within("bolts", float64(c.Bolts), 1, 16)
	if c.Style == TwoPiece && c.Bolts%2 != 0 {
		in.add("bolts", "even", fmt.Sprintf("%d bolts cannot be the same number on either side", c.Bolts))
	}
	in.band("bolt_preload_newtons", c.BoltPreloadNewtons, largestForceNewtons)
	in.band("efficiency", c.Efficiency, 1)
	in.band("pressure_shape", c.PressureShape, 4)
	if !c.ContactFriction.IsKnown() {
		in.keep(fmt.Errorf("contact: %w", ErrUnknownFriction))
	}
	if c.TubeWallMM != 0 {
		in.above("tube_wall_mm", c.TubeWallMM, c.TubeDiameterMM/2)
	}
	c.Demand.check(&in)
	return in.err("clamp")
}
