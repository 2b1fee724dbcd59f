// Package joint describes the threads of bolted joints: what a thread is
// called, how large it is, which way it turns, and which other threads can be
// taken for it.
//
// A [Thread] is a small comparable value. Its diameter and pitch are exact
// rationals in millimeters, because threads with mixed units are in daily use
// on bicycles: 36 mm by 24 turns per inch has a pitch of 127/120 mm, which no
// decimal can hold. Two threads are the same thread exactly when == says so,
// however they were written.
//
//	t, err := joint.ParseThread("1.37 in x 24 tpi LH")
//
// [Thread.BasicProfile] gives the diameters of the 60° basic profile and the
// stress area, [Mate] says what happens when one thread is screwed into
// another, and [LookAlikes] lists what a measured thread may be and what would
// start on it and then ruin it.
//
// Nothing in this package does I/O or keeps state.
package joint
