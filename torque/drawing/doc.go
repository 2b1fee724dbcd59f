// Package drawing draws what packages joint and wrench have worked out, as SVG:
// where a torque goes and how the preload lies against the yield ([Joint]), what
// a clamp holds and how hard it presses ([Clamp]), how a sprocket bears on its
// splines ([Spline]), and where a wrench has to be set ([Setting]).
//
//	t, err := bolt.AtTorque(5 * torque.NewtonMeter)
//	...
//	svg, err := drawing.Joint(t)
//
// # How the drawings look
//
// They are meant for a bench at arm's length and for a printer without color:
// black on white, hatching where others take a color, no text below 16 px on a
// page of 960 px, and nothing that is shown by a shade alone. A band is a hatched
// bar from its low to its high end with a thick stroke at the nominal figure; a
// limit is a broken line through all bars of its scale, named below it.
//
// A drawing names itself in its title element and says in its desc element
// everything it shows, for a screen reader. It asks for no font, no script and no
// file from elsewhere, and its ids begin with the kind of the drawing, so that one
// of each kind can stand in the same page.
//
// # What they may be used for
//
// The drawings of joints, clamps and splines carry the sentence of
// [joint.Explanation]: they explain, and set no window, no plan and no wrench.
//
// The package does no I/O and keeps no state. A figure that is no number gives
// [ErrNotDrawable]; what was checked by the constructors of joint and wrench
// never does.
package drawing

import "github.com/tightwright/tightwright/torque/drawing/page"

// ErrNotDrawable says that a result has a figure that is not a number, or is
// empty, so that there is nothing to draw.
var ErrNotDrawable = page.ErrNotDrawable
