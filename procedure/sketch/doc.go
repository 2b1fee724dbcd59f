// Package sketch draws the steps of a procedure as SVG, from the procedure's own
// data: nothing is drawn by hand for one procedure.
//
//	drawings, err := sketch.Step(plan, "tighten-stem")   // for one bike
//	drawings, err := sketch.Taught(resolved, "tighten-stem") // for any, in training
//
// A step gives as many drawings as it has something to show, in this order:
//
//   - order: the bolts at their places, in which order they are pulled, and the
//     passes with their values;
//   - turn: which way the thread tightens;
//   - prep: what goes on the thread and on the contact face, and what never;
//   - stack: sprockets and spacers on their body, and how far the last stands out;
//   - gaps: which gaps to compare, one drawing for each shape of gap.
//
// # How the drawings look
//
// They are meant for a tablet at arm's length and for a printer without color:
// a page of 360 px, thick black lines on white, hatching where others take a
// color, no text below 14 px, and nothing that is shown by a shade alone. They are
// schemes, not to scale, and each says in words what it shows; the desc element
// says it once more, for a screen reader. Ids begin with the step and the name of
// the drawing, so that all drawings of a plan can stand in one page.
//
// A right-hand thread stands in a round frame, a left-hand thread in a square
// double frame with its name in white on black: shape and words say it, before
// the arrow does.
//
// # What they may be used for
//
// A drawing repeats the plan and decides nothing. The values of passes before the
// last are rounded for reading; the setting on the wrench is the plan's. What the
// plan does not know is drawn as not known.
//
// The package is pure: the same step gives the same bytes.
package sketch
