package procedure

func yesNo(ok bool) string {
	if ok {
		return "yes"
	}
	return "no"
}

func preps(thread, face Prep) string {
	switch {
	case face == 0:
		return thread.Words()
	case thread == 0:
		return face.Words()
	}
	return thread.Words() + " on the thread, " + face.Words() + " on the contact face"
}

// applyFact sets the result of an item and voids what the fact spoiled.
func (b *Build) applyFact(s *StepState, e Entry, item string, jd Judgement, shown string) {
	b.applyVoids(e, VoidsOf(e.Payload))
	if !jd.Counts {
		return
	}
	s.Results[item] = &Result{Item: item, Entry: e.Envelope, Judgement: jd, Shown: shown, fact: e.Payload}
	s.Signed = nil
	b.Released = nil
	if jd.Verdict == Nonconforming && !jd.Retake {
		s.Rework = e.ID
	}
}

func (b *Build) applyReading(s *StepState, e Entry, p ReadingTaken) {
	wasClosed := s.Group.Closed
	b.applyFact(s, e, BoltItem(p.Bolt), p.Judgement, p.Figure.String())
	if p.Judgement.Verdict == Nonconforming && !p.Judgement.Retake {
		// Past the limit is past the limit, whether the pull counts or not.
		s.Rework, s.Signed = e.ID, nil
		b.Released = nil
	}
	if !p.Judgement.Counts {
		// Neighbours feel a bolt that turns whether the pull counts or not.
		if p.Turned && !wasClosed {
			s.Group.Turned = true
		} else if p.Turned && len(b.gone) > 0 {
			s.Group.disturb(s.Planned.Torque)
		}
		return
	}
	s.Results[BoltItem(p.Bolt)].Tool = p.Tool
	s.Group.take(s.Planned.Torque, p)
	if s.Group.Round > s.Planned.Torque.ClosingLimit && s.Planned.Torque.Closing && !s.Group.Closed {
		s.Rework = e.ID
	}
}

// disturb opens a group that turns out to have been closed when a bolt of it
// turned: the entry that had opened it before has been withdrawn.
func (g *Group) disturb(t *PlannedTorque) {
	if g.Closed && t.relaxes() {
		g.start(g.Pass, min(g.Round, 1))
		g.Turned = true
	}
}

// take moves the group on by one counted reading. A reading that does not
// conform does not move it; one on a bolt of a closed group that did not turn
// confirms it. One that did turn opens a group again: it was taken when the
// group was open, by an entry that has been withdrawn since.
func (g *Group) take(t *PlannedTorque, p ReadingTaken) {
	if p.Judgement.Verdict == Nonconforming {
		g.Turned = g.Turned || p.Turned
		return
	}
	if p.Judgement.Pass != g.Pass || p.Judgement.Round != g.Round {
		g.start(p.Judgement.Pass, p.Judgement.Round)
	}
	if g.Closed {
		if !p.Turned || !t.relaxes() {
			return
		}
		g.start(g.Pass, min(g.Round, 1))
	}
	g.Done[p.Bolt] = true
	g.Turned = g.Turned || p.Turned
	if len(g.Done) < len(t.Order) {
		return
	}
	switch {
	case g.Pass < len(t.Passes)-1:
		g.start(g.Pass+1, 0)
	case t.Closing && (g.Round == 0 || g.Turned):
		g.start(g.Pass, g.Round+1)
	default:
		g.Closed = true
	}
}

func (g *Group) start(pass, round int) {
	*g = Group{Pass: pass, Round: round, Done: map[string]bool{}}
}

func (b *Build) applyRework(j *Job, p ReworkBegun) {
	b.Released = nil
	from, to := j.index(p.From), j.index(p.Step)
	for i := max(0, from); i <= to; i++ {
		s := j.Steps[i]
		s.Rework = ""
		s.Group.start(0, 0)
		s.Signed = nil
		s.LastSeq = j.LastSeq
	}
	j.Steps[to].Reworks++
}

// applyVoids spoils results. A group that loses a bolt to its own neighbour
// starts its closing rounds again; one that was undone from outside, or whose
// bolts were prepared again, starts from the first pass.
func (b *Build) applyVoids(e Entry, voids []ResultRef) {
	for _, ref := range voids {
		j, ok := b.Job(ref.Job)
		if !ok {
			continue
		}
		s, ok := j.Step(ref.Step)
		if !ok {
			continue
		}
		b.touch(j, s, e.Seq)
		s.Signed = nil
		b.Released = nil
		if r := s.Results[ref.Item]; r != nil && r.Void == nil {
			env := e.Envelope
			r.Void = &env
		}
		if s.Planned.Torque == nil {
			continue
		}
		if isPullAt(e, ref) && s.Planned.Torque.Closing {
			s.Group.start(len(s.Planned.Torque.Passes)-1, 1)
		} else {
			s.Group.start(0, 0)
		}
	}
}

// isPullAt reports whether the entry is a reading in the step of the result.
func isPullAt(e Entry, ref ResultRef) bool {
	r, ok := e.Payload.(ReadingTaken)
	return ok && e.Job == ref.Job && r.Step == ref.Step
}

// factStep returns the step that a payload is about, or "".
func factStep(p Payload) string {
	switch p := p.(type) {
	case ReadingTaken:
		return p.Step
	case MeasureTaken:
		return p.Step
	case LookTaken:
		return p.Step
	case PhotoTaken:
		return p.Step
	case PrepDone:
		return p.Step
	case ReworkBegun:
		return p.Step
	case HoldSigned:
		return p.Step
	}
	return ""
}
