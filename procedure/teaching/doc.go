// Package teaching turns the procedures of a shop, and what went wrong in it,
// into a curriculum: which skills to teach in which order, what to lay out,
// which practical test shows the skill, which fault to plant, and what to ask.
//
// # Order
//
// A skill is taught after those it builds on. Among the orders that allow it,
// skills that this shop's findings point to come first, with what they build
// on, then what safety-critical joints take, then the rest; within each of
// these the order with the fewest changes of context wins (exactly up to
// [ExactLessons] lessons), and what is left is decided by the order of the
// procedures. The context of a skill is the work it is for: lessons at one
// station, with the same parts laid out, stay together. Blocks suit the first
// teaching of a thing; reviews are better mixed.
//
// # Modules
//
// A module is a stretch of skills in one context, cut where it would become too
// long. It lays out what its steps need, takes the test of each skill and adds
// what the steps ask to be recorded: a pass is a measurement, not a feeling.
// What ends a test at once follows from the steps too: a hold passed, another
// prep, a wait cut short, force on a left-hand thread. The fault to plant is a
// mistake that one of its steps warns of, of a step with findings where there
// is one.
//
// # Questions
//
// No answer is typed in. Every question is made from the definitions, the joint
// table and the tools, and its answer is worked out by the packages that serve
// the bench: torque, procedure and fit. So are the wrong answers, from the
// mistakes that people make: a limit rounded the wrong way, a deviation left
// out, a factor ignored. A wrong answer that happens to be right is left out.
// So is one that would do as well at the bench, such as anti-seize for grease,
// or another crosswise order. What would give its answer away, what was asked
// in the same words of the other wheel, and a list too long to read, is not
// asked.
// Every question names the source of its figures, and says that what the part
// itself prints comes first.
//
// The package is pure and throws no dice: where there is a choice, the seed in
// [Options] makes it, and the same arguments give the same curriculum.
package teaching
