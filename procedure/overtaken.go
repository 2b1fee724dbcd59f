package procedure

// overtaken reports whether the step went on after a pull that is told late:
// whether its joint was prepared, pulled or taken apart, or what comes before
// it was done, by an entry that later says is later than the pull. The bolt
// is not as that pull left it, or was not ready for it.
func (d *decision) overtaken(j *Job, s *StepState, later func(Entry) bool) bool {
	if later == nil {
		return false
	}
	for _, e := range d.b.entries {
		if !d.b.gone[e.ID] && later(e) && d.b.changes(e, j, s) {
			return true
		}
	}
	return false
}

// changes reports whether an entry changed what a pull in the step rests on.
func (b *Build) changes(e Entry, j *Job, s *StepState) bool {
	for _, ref := range VoidsOf(e.Payload) {
		if ref.Job == j.ID && ref.Step == s.Planned.ID {
			return true
		}
	}
	if e.Job != j.ID {
		return false
	}
	at, here := j.index(s.Planned.ID), j.index(factStep(e.Payload))
	switch p := e.Payload.(type) {
	case PartSwapped:
		return true
	case ReworkBegun:
		return j.index(p.From) <= at && at <= here
	case HoldSigned:
		return here >= 0 && here < at
	case MeasureTaken, LookTaken, PhotoTaken:
		return here >= 0 && here < at && b.judged(e).Counts
	case ReadingTaken, PrepDone:
		return here >= 0 && here <= at && b.judged(e).Counts
	}
	return false
}

// judged is what the rules say of a fact, with the last correction of its
// tool.
func (b *Build) judged(e Entry) Judgement {
	if jd, ok := b.corrected[e.ID]; ok {
		return jd
	}
	jd, _ := JudgementOf(e.Payload)
	return jd
}
