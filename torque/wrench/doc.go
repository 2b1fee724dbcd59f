// Package wrench says what a torque wrench must be set to, and what a reading
// from it proves.
//
// # Tools
//
// A [Description] is a tool as its owner writes it down: kind, scale, class,
// permitted deviation, calibration. [New] checks it and returns a [Wrench].
// The rules, with what they rest on:
//
//   - A deviation is (shown - reference)/reference, relative to the reference
//     (ISO 6789:2003, read in a review; formula ISO 6789-1:2017 7.1, from
//     memory). A tool set to S that is within ±d delivers from S/(1+d) to
//     S/(1-d). [Compare] works one out.
//   - Where nothing else is stated ±4 % is permitted, and ±6 % for a tool whose
//     maximum is 10 N·m or less (ISO 6789:2003, class II-A, read in a review).
//     The boundary belongs to the maximum of the tool, not to the reading. The
//     figures of the other classes are from memory; see [Class.Permitted].
//   - A tool is used from 20 % of its maximum (ISO 6789:2003 6.5, read in a
//     review), fixed ones apart.
//   - A calibration serves until it is due, 12 months where nobody says
//     otherwise (ISO 6789:2003), and only in the directions calibrated.
//
// # Settings
//
// [Wrench.Choose] picks the mark nearest to an aim that keeps the torque within
// a window [min, max] wherever the tool is within its deviation: settings from
// min·(1+d) to max·(1-d). Where no mark does, a [ToolError] names the nearest, the
// side on which it misses, and by how much. [Rank] asks a whole rack and puts
// the tools that can in order.
//
// Marks are whole numbers of the last decimal of the scale, units are exact
// rationals of a nanonewton meter, deviations are parts per million, and all of
// it is compared exactly, in whole numbers of 128 bits. What comes to the
// fastener counts as the [torque.Torque] nearest to it, as everything does that
// is written or stored, so that a limit stated in the unit of a scale is found
// on the scale again.
//
// # Adapters
//
// With an [Adapter], such as a crow-foot, on the drive the setting is
//
//	S = T·L/(L + E·cos a)
//
// L from the center of the grip to the drive, E from the drive to the fastener,
// a the angle between them (TM 9-254 fig. 4-5, 4-6). [Adapter.Setting] and
// [Adapter.Applied] are exact at the multiples of 60° and 90°, which are the
// only rational angles with a rational cosine, and else enclose the result
// within 45 digits, so that rounding a maximum down and a minimum up is never
// wrong. [Wrench.With] fits an adapter to a tool.
//
// # Decisions
//
// A reading y with standard uncertainty u stands for a normal distribution. Its
// conformance probability (JCGM 106:2012) is
//
//	p_c = Φ((T_U - y)/u)                      maximum only     7.3
//	p_c = Φ((y - T_L)/u)                      minimum only     7.3
//	p_c = Φ((T_U - y)/u) - Φ((T_L - y)/u)     both             7.4
//
// each tail by erfc. [Level.Judge] decides on p_c with three outcomes and a
// default of 95 %; [Level.Acceptance] turns a window into the ready limits that
// say the same, so that no client repeats the mathematics. [Decide] takes plain
// decimals in any unit and knows the rules of ILAC-G8:09/2019 4.2 as well, with
// guard bands w = r·U or w = z·u. Limits belong to the window; decimals are
// compared exactly.
//
// A guard band of z·u is right at one limit. With two, and u not small against
// the tolerance, both tails count: in the middle of 5 N·m to 7 N·m with u =
// 2 N·m the probability is only 38 %. Decide on p_c, then, not on the band.
//
// The uncertainty of a tool within ±d is d·y/√3, a rectangular distribution
// (JCGM 100:2008 4.3.7): [Deviation.Uncertainty].
//
// Nothing in this package does I/O, reads a clock or keeps state.
package wrench
