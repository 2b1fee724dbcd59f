// Package card writes the whole plan of a bike as sheets to print: one HTML
// file for A4 paper, upright, black on white, which needs nothing else to be
// shown. The bench tablet guides and records; the card is for reading at arm's
// length beside the work stand, and for the days when there is no tablet.
//
// A card says nothing that the plan does not say: no figure is worked out here.
// Where a plan is stopped, the card says STOP where the figures would stand.
//
// Meaning is carried by words and shapes, never by color: a left-hand thread
// has the word, a frame and an arrow that turns the way it tightens.
package card
