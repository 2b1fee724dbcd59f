// Package procedure says what to do to a bicycle's joints, in which order and
// resting on what, and folds what was done into what holds.
//
// # From data to a plan
//
// A Definition is a procedure as its author wrote it in YAML. Resolve joins it
// with the rows of the joint table that it names and gives it a Revision, the
// SHA-256 of both. A Sheet lists the parts of one bike: interfaces by
// dimension, materials, and the torque that each part prints. NewPlan brings
// the two together with the tools on the rack, at a time, under a policy:
//
//   - The lowest maximum of all parts in a joint governs, and the plan names
//     the part. A bare printed figure is also the maximum. A part that prints
//     nothing is limited by the joint table.
//   - A limit that nobody knows, windows that do not meet, and parts that do
//     not fit stop the plan. Nothing is guessed.
//   - A window from memory never releases a safety-critical joint, unless a
//     foreman answers for it by name.
//   - The tool's permitted deviation comes off the window before a setting is
//     chosen (see Allowance).
//
// # From commands to a record
//
// A Build is the state of one bike's record: one stream of entries for all
// jobs on it, because a step of one job can spoil results of another. Decide
// judges a Command against the state and gives the Entry to append; Apply adds
// an entry to the state and judges nothing. The rules:
//
//  1. Facts are always recorded. A hand did turn that bolt: a reading that
//     breaks a rule is stored with the rule and does not count.
//  2. Intentions (sign, accept, finish, release) can be refused, with the rule
//     that refused them; nothing is recorded then.
//  3. A step begins when the earlier ones are done and signed and their waits
//     are over.
//  4. A result is true only until a later hand touches what it leaned on: the
//     void map of the procedures says what, transitively, and what is void must
//     be taken again. The hand counts, not its fact: one that breaks a rule
//     spoils as much. Jobs by the same procedure are about the same joints, so
//     a second job spoils the first even if it is given up, and a swapped part
//     spoils what any job did to the old one.
//  5. In a group of bolts only a closing round in which none turned is
//     evidence.
//  6. A result that does not conform is reworked, never pulled a little
//     further; only a bolt short of its window may be taken again.
//  7. A second person is another person, able, before the next step.
//  8. Corrections are entries that name the entry they correct. Nothing is
//     edited. A withdrawn entry takes back what it spoiled, unless another
//     spoiled it too. What is told late, a pull moved from another bike or
//     logged with the wrong tool, counts only if the step has not gone on since.
//
// # Purity
//
// Nothing here does I/O, reads a clock or makes up an id: time, ids and the
// rack come in as arguments, and the same arguments give the same bytes.
package procedure
