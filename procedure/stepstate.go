package procedure

// A StepState is how far one step has come.
type StepState struct {
	Planned *PlannedStep
	// Results holds the result that stands for each item.
	Results map[string]*Result
	Group   Group
	// Signed is the hold's signature, if one stands.
	Signed *Envelope
	// Rework names the nonconforming entry that must be reworked first.
	Rework string
	// Reworks counts how often the step was taken apart.
	Reworks int
	// LastSeq is the last entry that touched the step.
	LastSeq int64
}

// A Group is the progress through the passes of a torque step.
type Group struct {
	// Pass counts from 0; Round from 1 while closing rounds go on.
	Pass, Round int
	// Done holds the bolts taken in this pass or round; Turned says that one
	// of them moved in this round.
	Done   map[string]bool
	Turned bool
	// Closed says that the bolts hold: the last pass or a round in which
	// none moved is complete.
	Closed bool
}

// A Result is what stands for one item of a step.
type Result struct {
	Item      string
	Entry     Envelope
	Judgement Judgement
	// Shown is the result as a person reads it, such as "13 N·m".
	Shown string
	Tool  string
	// Void is the entry that spoiled the result, if any.
	Void *Envelope
	// AcceptedBy is the entry by which a foreman took an undecided result.
	AcceptedBy *Envelope

	// fact is the payload that gave the result.
	fact Payload
}

// Stands reports whether the result may be leaned on at a step of this risk.
func (r *Result) Stands(risk Risk) bool {
	if r == nil || r.Void != nil {
		return false
	}
	switch r.Judgement.Verdict {
	case Conforming:
		return true
	case Undecided:
		return risk < SafetyCritical || r.AcceptedBy != nil
	case Nonconforming:
	}
	return false
}

// PrepItem is the item of a step's prep.
const PrepItem = "prep"

// BoltItem and CheckItem name the items of a bolt and of a check.
func BoltItem(bolt string) string { return "bolt." + bolt }

// CheckItem names the item of a check.
func CheckItem(check string) string { return "check." + check }

// items lists what a step must have a result for, in the order of the work.
func (s *PlannedStep) items() []string {
	var out []string
	if s.ThreadPrep != nil || s.FacePrep != nil {
		out = append(out, PrepItem)
	}
	if s.Torque != nil {
		for _, b := range s.Torque.Order {
			out = append(out, BoltItem(b))
		}
	}
	for _, c := range s.Checks {
		out = append(out, CheckItem(c.ID))
	}
	return out
}

// Missing lists the items without a result that stands.
func (s *StepState) Missing() []string {
	var out []string
	for _, item := range s.Planned.items() {
		if !s.Results[item].Stands(s.Planned.Risk) {
			out = append(out, item)
		}
	}
	if len(out) == 0 && s.Planned.Torque != nil && !s.Group.Closed {
		out = append(out, BoltItem(s.nextBolt()))
	}
	return out
}

// Done reports whether all results stand; a hold may still be open.
func (s *StepState) Done() bool { return s.Rework == "" && len(s.Missing()) == 0 }

// HoldOpen reports whether the step's hold waits for a signature.
func (s *StepState) HoldOpen() bool { return s.Planned.Hold != nil && s.Signed == nil }

// Complete reports whether the step holds and is signed where it must be.
func (s *StepState) Complete() bool { return s.Done() && !s.HoldOpen() }

// nextBolt is the first bolt of the order not taken in this pass or round.
func (s *StepState) nextBolt() string {
	for _, b := range s.Planned.Torque.Order {
		if !s.Group.Done[b] {
			return b
		}
	}
	return s.Planned.Torque.Order[0]
}

func newStep(planned *PlannedStep) *StepState {
	s := &StepState{Planned: planned, Results: map[string]*Result{}}
	s.Group.Done = map[string]bool{}
	return s
}
