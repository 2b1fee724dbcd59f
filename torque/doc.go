// Package torque holds quantities of torque for fastener work: values, units,
// figures as they were written, windows of allowed torque, the marks of a
// wrench, and the markings on parts. It does no input or output and keeps no
// state; nothing in it panics, whatever the input.
//
// # Values
//
// [Torque] is a whole number of nanonewton meters, used like time.Duration:
//
//	aim := 5 * torque.NewtonMeter
//
// Into Torque everything is rounded to the nearest value, ties to even, so a
// Torque is within half a nanonewton meter of what it stands for. The range
// for reading, writing and sending is ±1e6 N·m ([MaxWire]).
//
// # Units and figures
//
// Every factor follows from 1 lb = 0.45359237 kg, 1 in = 0.0254 m and
// g_n = 9.80665 m/s² (NIST SP 811, 2008 edition, appendix B). The pound-force
// inch is 0.1129848290276167 N·m; the seven digits that SP 811 prints are only
// used to check it. Codes for machines are those of UCUM 2.2 (2024-06-17),
// where Nm and lbf.in are not valid and nm is a nanometer.
//
// A [Figure] is a number as it was written, digits and unit. It converts as a
// rational number into an [Exact] and never through Torque or a float. An
// Exact that does not end as a decimal is given as a fraction.
//
// # Rounding
//
// A nominal value is rounded half to even on its decimal digits (SP 811
// B.7.1): 2.675 to three digits is 2.68, whatever binary floats make of it.
// How many digits to keep is [Exact.DigitsByError] or [Exact.DigitsByFirst].
//
// A limit is rounded inward: a minimum up, a maximum down, so that no torque
// outside the old window comes to lie inside the new one. SP 811 has no rule
// for limits; this one is in ASME A112.18.1-2018/CSA B125.1-18 Annex A.2 e,
// and (from memory) in ASTM/IEEE SI 10 and NIST SP 1038 4.4. A limit that lies
// on a mark does not move. A window without a mark inside is an error,
// [ErrVanishes]; it is never widened.
//
// # Windows
//
// A [Window] is a closed range: a reading on a limit is inside. It may lack a
// side and may carry a nominal value. The zero Window states no limit and
// contains nothing, because without a known limit no torque is right. Where
// parts meet, windows intersect: the highest minimum and the lowest maximum
// govern. Text follows SP 811 7.7: "5 N·m to 7 N·m", "8 N·m ± 1 N·m".
//
// # Markings
//
// [ParseMarking] reads what is printed on parts and in tables. What it accepts
// is common practice without a source, except where one is named:
//
//   - One bare figure: 5 Nm, N·m 5. It is also the part's maximum.
//   - A range: 5-7 Nm, 5 to 7 N·m, (5 to 7) N·m, 5 N·m to 7 N·m (SP 811 7.7),
//     with any dash, a minus sign between unsigned numbers, ~ and its wide
//     forms, ..., …, ÷; the words to, bis, à, a, do; between 5 and 7, from 5
//     to 7, da 5 a 7, von 5 bis 7; min 5 max 7.
//   - A maximum or minimum: max, maxi, maximum, maximal, máx, máximo, massimo,
//     maks, макс, 最大, höchstens and min, mini, minimum, mín, mínimo, мин, 最小,
//     mindestens before or after; up to, not to exceed, no more than, bis max,
//     не более and at least, not less than, не менее before; 以下 and 以上 after;
//     ≤ <= and ≥ >=. The signs < and > count as ≤ and ≥, with a warning.
//   - A tolerance: 8 ± 1 Nm, (8 ± 1) N·m, 8 N·m ± 1 N·m (SP 811 7.7), 8 +/- 1,
//     8+-1, ±10 %, +2/-1, and +2 N·m alone, which leaves the nominal value as
//     the minimum. The limits are worked out exactly.
//   - The same torque in more units: 5 Nm (44 in-lb), 5 Nm / 44 in-lb. Each
//     figure, widened by half of its last written digit, must reach the other,
//     minimum against minimum and maximum against maximum; otherwise one of
//     them is a misprint and the marking is refused.
//   - Labels before or after: torque, tightening torque, Drehmoment, couple.
//
// Numbers keep their digits; a comma is a decimal sign, but a comma before
// exactly three digits is refused unless the number begins with 0. Groups of
// three may stand apart by a space. There is no exponent, no fraction, no
// number that begins or ends with a point. Digits are 0 to 9, full-width ones
// too; those of other scripts are refused.
//
// Units may be joined by any multiplication sign, a full stop, a dash, a space
// or nothing, in either order except for newtons. kg·cm and kg·m are read as
// kilogram-force, kp·m as kgf·m, each with a warning. nm and nM are refused
// everywhere, NM unless every letter of the marking is a capital; N/m, lb/in
// and ft/lb are no torques, and J is an energy. A unit after the last number
// belongs to all numbers, a unit after the first only to that.
//
// Nothing is dropped in silence: a friction condition, a thread size, an angle
// after the torque, a footnote mark or "about" refuse the whole marking, and
// so do characters that cannot be seen, raised digits and letters of one
// script among those of another. Torques outside [MinMarking] to [MaxMarking]
// are taken for misprints. Every refusal is a [MarkingError] with one of the
// Reason constants and what to write instead.
package torque
