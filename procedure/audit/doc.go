// Package audit finds out what was done wrong on a bike, from its record
// alone.
//
// What an auditor gets are findings: which rule, on which joint, shown by which
// entries, how sure that is, and what to do about it. They are derived from the
// plan that a job followed, from its entries as data, and from the state that a
// fold of the entries leads to. Nothing that was judged at the bench is judged
// again: a verdict stands in its entry. What the auditor knows and the bench
// did not, such as a calibration made later, comes in through a [View].
//
// # Rules
//
// Every rule has a short code that never changes its meaning ([Rules] lists
// them). Some say what a job lacks, some what happened on the way, some that a
// tool could not vouch for a reading, some only that a pattern looks copied or
// ticked. How sure a finding is stands in it: Certain follows from the record,
// Likely is what the record would look like, Possible means that nothing more
// can be said until somebody looks.
//
// What each rule goes by:
//
//   - what is missing, void or unsigned follows from the state of the fold; a
//     step counts as passed by when something was recorded in a later one;
//   - what did not conform, was undecided or did not count follows from the
//     judgement in the entry, corrected tools included, withdrawn entries not;
//   - signatures are held against the results that stood when they were given,
//     against the rank that the record and the view say, and against the clocks;
//   - skills are held against the plan of the job, by the register that the shop
//     kept on that day and by the present one: what either of them shows is
//     held, so a proof that was entered late counts, and so does one that was
//     replaced since;
//   - waits are worked out again: from the prep that stood, with its conditions,
//     by the least time that has certainly passed. Where the clocks prove only
//     that it may have been too short, the finding says Possible;
//   - tools are asked again for every reading, with all that is known today;
//   - patterns are ours: their bounds are constants with their reason.
//
// # Open and reworked
//
// A finding is reworked when the record itself shows that it was made good: a
// later result stands for the same item and, where a value was above the
// maximum, the joint was taken apart before. Otherwise it is open, and stays so
// until a person decides. An open job is only blamed for what it has passed by:
// a step that nobody has come to is no finding.
//
// # Overdue is not out of tolerance
//
// A tool past its due date may be sound, a tool within its interval may not be.
// They are different findings: the first is about paper until a calibration
// says more, the second asks of every reading what the joint got at worst.
//
// The package is pure: the same record and view give the same findings, in the
// same order.
package audit
