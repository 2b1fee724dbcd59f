// Package joint describes bolted joints: their threads, how strong the fastener
// is, what a torque does to it, and what a clamp, a taper or a splined stack of
// sprockets holds.
//
// # Threads
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
// start on it and then ruin it; [LookAlikeQuestion.Find] does so with the
// instruments of a workshop where nobody says better.
//
// # Torque and preload
//
// A [Bolt] works out preload from torque and torque from preload by the long
// form of VDI 2230 ([Bolt.AtTorque], [Bolt.AtPreload], [Bolt.AtUtilization]); a
// [NutFactor] does it by the short form. [Friction] (µ) and NutFactor (K) are
// different types and do not convert into each other: the same number means
// different things. [Engaged.Strip] says whether bolt or part gives way.
// [PrepQuestion.Compare] explains what grease does to a figure meant dry.
//
// [Clamp.Grip], [Taper.Seat] and [SprocketStack.Load] answer whether a tube
// slips, a crank works loose or a sprocket digs into its body.
//
// # What the results are for
//
// All of that explains. Friction is known within a quarter at best, so every
// such result carries a band, what was assumed, warnings, and an [Explanation]
// that says it sets no window, no plan and no wrench. Where friction is unknown
// nothing is worked out ([ErrUnknownFriction]). The maker's figure comes first.
//
// # Units
//
// Plain numbers carry their unit in the name. Inside, lengths are millimeters,
// forces newtons and stresses megapascals, which fit together without factors
// (1 MPa is 1 N/mm²); a torque that comes in is a [torque.Torque], one that goes
// out is a number of newton meters with a method to get the Torque.
//
// Every constant names where it is from. Where that is "from memory" or "common
// practice", nothing outside has confirmed it.
//
// Nothing in this package does I/O or keeps state.
package joint
