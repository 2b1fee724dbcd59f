package procedure

func (b *Build) applyAccepted(e Entry, p ResultAccepted) {
	j, s, r := b.resultOf(p.Entry)
	if r == nil {
		return
	}
	env := e.Envelope
	r.AcceptedBy = &env
	b.touch(j, s, e.Seq)
}

// applyToolCorrected judges a reading by another tool. One that no longer
// counts leaves its bolt without a result, and its pass or round is taken
// again.
func (b *Build) applyToolCorrected(e Entry, p ToolCorrected) {
	was, ok := b.Entry(p.Entry)
	if !ok || b.gone[p.Entry] {
		return
	}
	before := b.judged(was)
	b.corrected[p.Entry] = p.Judgement
	j, s, r := b.resultOf(p.Entry)
	if r != nil {
		b.touch(j, s, e.Seq)
		b.Released = nil
		s.correct(r, p)
	} else if !before.Counts && p.Judgement.Counts {
		b.applyLateReading(e, was, p)
	}
}

func (s *StepState) correct(r *Result, p ToolCorrected) {
	r.Tool, r.AcceptedBy, s.Signed = p.Tool, nil, nil
	if s.Rework == p.Entry && r.Judgement.Verdict == Nonconforming {
		s.Rework = ""
	}
	if !p.Judgement.Counts {
		delete(s.Results, r.Item)
		s.Group.start(s.Group.Pass, s.Group.Round)
	}
	r.Judgement.Verdict, r.Judgement.Probability = p.Judgement.Verdict, p.Judgement.Probability
	if p.Judgement.Verdict == Nonconforming && !p.Judgement.Retake {
		s.Rework = p.Entry
	}
}

// applyLateReading makes a reading count that did not because of the tool it
// was recorded with.
func (b *Build) applyLateReading(e, was Entry, p ToolCorrected) {
	r, isReading := was.Payload.(ReadingTaken)
	j, s, err := b.jobAndStep(was.Job, factStep(was.Payload))
	if !isReading || err != nil || s.Planned.Torque == nil {
		return
	}
	b.touch(j, s, e.Seq)
	r.Tool, r.Judgement = p.Tool, p.Judgement
	b.applyReading(s, Entry{Envelope: was.Envelope, Payload: r}, r)
}

// resultOf finds the result that an entry gave and that still stands for its
// item.
func (b *Build) resultOf(entryID string) (*Job, *StepState, *Result) {
	e, ok := b.Entry(entryID)
	if !ok {
		return nil, nil, nil
	}
	j, s, err := b.jobAndStep(e.Job, factStep(e.Payload))
	if err != nil {
		return nil, nil, nil
	}
	for _, r := range s.Results {
		if r.Entry.ID == entryID {
			return j, s, r
		}
	}
	return j, s, nil
}
