// Package fit answers one question before a wrench is touched: will these parts
// go together?
//
// Every rule is a function that takes what was measured or read off the parts
// and returns a [Result]: the verdict, what was measured and with what, the
// limit, the margin left, what is needed to make it fit, and the reason in
// plain words. A pass with 0.1 mm to spare and a pass with 5 mm to spare are
// not the same record, so the margin is always kept.
//
// # Verdicts
//
// [Fits], [FitsWith] something named in Needs, [TryAndMeasure] and
// [DoesNotFit]. A margin smaller than the error of the instrument is never a
// plain fit: the parts are tried and measured. A count (of teeth, of splines)
// has no error, so a margin of nothing is a fit and the reason says that
// nothing is left.
//
// # Where the limits come from
//
// Each Result names its source and how far it can be trusted. Most dimensions
// of bicycle parts are common practice without a published source; they are
// marked so. The maker's printed figure always comes first.
//
// Lengths are exact ([Length] counts nanometers), so limits compare exactly.
// The package is pure: no I/O, no clock, no state.
package fit
