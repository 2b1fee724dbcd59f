package procedure

import "fmt"

// Apply adds the next entry of the record to the state. It never judges: what
// the rules of the day said stands in the entry. An error means that the
// record itself is broken (a gap, a plan that is gone), and the state is not
// to be used further.
func (b *Build) Apply(e Entry) error {
	if e.Build != b.ID || e.Seq != b.Seq+1 {
		return fmt.Errorf("build %s: entry %s of build %s has sequence %d, want %d", b.ID, e.ID, e.Build, e.Seq, b.Seq+1)
	}
	b.byID[e.ID] = len(b.entries)
	b.entries = append(b.entries, e)
	b.Seq = e.Seq
	if w, ok := e.Payload.(EntryWithdrawn); ok {
		b.gone[w.Entry] = true
		return b.refold()
	}
	return b.apply(e)
}

// refold builds the state again from the entries that were not withdrawn, so
// that what a withdrawn fact spoiled stands again.
func (b *Build) refold() error {
	b.Jobs, b.Accepted, b.Released = nil, nil, nil
	for _, e := range b.entries {
		if w, ok := e.Payload.(EntryWithdrawn); ok {
			b.markWithdrawal(e, w)
			continue
		}
		if b.gone[e.ID] {
			continue
		}
		if err := b.apply(e); err != nil {
			return err
		}
	}
	return nil
}

// markWithdrawal lets the step of the withdrawn entry know that it changed.
func (b *Build) markWithdrawal(e Entry, w EntryWithdrawn) {
	was, ok := b.Entry(w.Entry)
	if !ok {
		return
	}
	if j, ok := b.Job(was.Job); ok {
		s, _ := j.Step(factStep(was.Payload))
		b.touch(j, s, e.Seq)
		if s != nil && len(s.Missing()) > 0 {
			s.Signed = nil
		}
	}
	b.Released = nil
}

func (b *Build) apply(e Entry) error {
	switch p := e.Payload.(type) {
	case JobOpened:
		return b.applyOpened(e, p)
	case FigureAccepted:
		b.Accepted = append(b.Accepted, Acceptance{Joint: p.Joint, Person: e.Actor, At: e.Moment.Best()})
		return nil
	case BuildReleased:
		env := e.Envelope
		b.Released = &env
		return nil
	case Unknown, EntryWithdrawn:
		return nil
	case PartSwapped:
		return b.applySwap(e, p)
	case JobFinished, JobAbandoned:
		return b.applyClosed(e)
	case ResultAccepted:
		b.applyAccepted(e, p)
		return nil
	case ToolCorrected:
		b.applyToolCorrected(e, p)
		return nil
	case ReadingTaken, MeasureTaken, LookTaken, PhotoTaken, PrepDone, ReworkBegun, HoldSigned:
		return b.applyStep(e)
	}
	return fmt.Errorf("build %s: entry %s: payload %T is not handled", b.ID, e.ID, e.Payload)
}

func (b *Build) applyOpened(e Entry, p JobOpened) error {
	plan, err := b.plans(p.PlanDigest)
	if err != nil {
		return fmt.Errorf("build %s: plan %s of job %s: %w", b.ID, p.PlanDigest, e.Job, err)
	}
	b.Jobs = append(b.Jobs, newJob(e.Job, plan, p.PlanDigest, e.Envelope))
	b.Released = nil
	return nil
}

func (b *Build) applyClosed(e Entry) error {
	j, ok := b.Job(e.Job)
	if !ok {
		return fmt.Errorf("build %s: entry %s: job %q: %w", b.ID, e.ID, e.Job, ErrNotFound)
	}
	env := e.Envelope
	if _, finished := e.Payload.(JobFinished); finished {
		j.Finished = &env
	} else {
		j.Abandoned = &env
	}
	b.touch(j, nil, e.Seq)
	return nil
}

// applyStep applies what concerns one step.
func (b *Build) applyStep(e Entry) error {
	j, s, err := b.jobAndStep(e.Job, factStep(e.Payload))
	if err != nil {
		return fmt.Errorf("entry %s: %w", e.ID, err)
	}
	b.touch(j, s, e.Seq)
	switch p := e.Payload.(type) {
	case ReadingTaken:
		b.applyReading(j, s, e, p)
	case MeasureTaken:
		b.applyFact(j, s, e, CheckItem(p.Check), p.Judgement, p.Value+" "+p.Unit)
	case LookTaken:
		b.applyFact(j, s, e, CheckItem(p.Check), p.Judgement, yesNo(p.OK))
	case PhotoTaken:
		b.applyFact(j, s, e, CheckItem(p.Check), p.Judgement, "photo")
	case PrepDone:
		b.applyFact(j, s, e, PrepItem, p.Judgement, preps(p.Thread, p.Face))
	case ReworkBegun:
		b.applyVoids(e, p.Voids)
		b.applyRework(j, p)
	case HoldSigned:
		env := e.Envelope
		s.Signed = &env
	}
	return nil
}

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
func (b *Build) applyFact(j *Job, s *StepState, e Entry, item string, jd Judgement, shown string) {
	b.applyVoids(e, jd.Voids)
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

func (b *Build) applyReading(j *Job, s *StepState, e Entry, p ReadingTaken) {
	b.applyFact(j, s, e, BoltItem(p.Bolt), p.Judgement, p.Figure.String())
	if p.Judgement.Verdict == Nonconforming && !p.Judgement.Retake {
		// Past the limit is past the limit, whether the pull counts or not.
		s.Rework, s.Signed = e.ID, nil
		b.Released = nil
	}
	if p.Judgement.Counts {
		s.Results[BoltItem(p.Bolt)].Tool = p.Tool
		s.Group.take(s.Planned.Torque, p)
		if s.Group.Round > s.Planned.Torque.ClosingLimit && s.Planned.Torque.Closing && !s.Group.Closed {
			s.Rework = e.ID
		}
	}
}

// take moves the group on by one counted reading. A reading that does not
// conform does not move it; one on a bolt of a closed group that did not turn
// confirms it.
func (g *Group) take(t *PlannedTorque, p ReadingTaken) {
	if p.Judgement.Verdict == Nonconforming {
		return
	}
	if p.Judgement.Pass != g.Pass || p.Judgement.Round != g.Round {
		g.start(p.Judgement.Pass, p.Judgement.Round)
	}
	if g.Closed {
		return
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
// starts its closing rounds again; one that was undone from outside starts
// from the first pass.
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
		if e.Job == ref.Job && factStep(e.Payload) == ref.Step && s.Planned.Torque.Closing {
			s.Group.start(len(s.Planned.Torque.Passes)-1, 1)
		} else {
			s.Group.start(0, 0)
		}
	}
}

func (b *Build) applyAccepted(e Entry, p ResultAccepted) {
	j, s, r := b.resultOf(p.Entry)
	if r == nil {
		return
	}
	env := e.Envelope
	r.AcceptedBy = &env
	b.touch(j, s, e.Seq)
}

func (b *Build) applyToolCorrected(e Entry, p ToolCorrected) {
	j, s, r := b.resultOf(p.Entry)
	if r == nil {
		b.applyLateReading(e, p)
		return
	}
	b.touch(j, s, e.Seq)
	r.Tool, r.AcceptedBy = p.Tool, nil
	s.Signed = nil
	if !p.Judgement.Counts {
		delete(s.Results, r.Item)
		s.Group.start(s.Group.Pass, s.Group.Round)
		return
	}
	r.Judgement.Verdict, r.Judgement.Probability = p.Judgement.Verdict, p.Judgement.Probability
	if p.Judgement.Verdict == Nonconforming {
		s.Rework = e.ID
	}
}

// applyLateReading makes a reading count that did not because of the tool it
// was first recorded with.
func (b *Build) applyLateReading(e Entry, p ToolCorrected) {
	was, ok := b.Entry(p.Entry)
	if !ok || !p.Judgement.Counts || b.gone[p.Entry] {
		return
	}
	r, isReading := was.Payload.(ReadingTaken)
	j, s, err := b.jobAndStep(was.Job, factStep(was.Payload))
	if !isReading || r.Judgement.Counts || err != nil {
		return
	}
	b.touch(j, s, e.Seq)
	r.Tool, r.Judgement = p.Tool, p.Judgement
	if s.Rework == was.ID {
		s.Rework = ""
	}
	b.applyReading(j, s, Entry{Envelope: was.Envelope, Payload: r}, r)
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

func (b *Build) applySwap(e Entry, p PartSwapped) error {
	j, ok := b.Job(e.Job)
	if !ok {
		return fmt.Errorf("build %s: entry %s: job %q: %w", b.ID, e.ID, e.Job, ErrNotFound)
	}
	plan, err := b.plans(p.PlanDigest)
	if err != nil {
		return fmt.Errorf("build %s: plan %s of job %s: %w", b.ID, p.PlanDigest, e.Job, err)
	}
	b.applyVoids(e, p.Voids)
	old := j.Steps
	j.Plan, j.PlanDigest, j.Steps = plan, p.PlanDigest, nil
	for i := range plan.Steps {
		s := newStep(&plan.Steps[i])
		for _, o := range old {
			if o.Planned.ID == s.Planned.ID {
				s.keep(o)
			}
		}
		s.LastSeq = e.Seq
		j.Steps = append(j.Steps, s)
	}
	b.touch(j, nil, e.Seq)
	return nil
}

// keep carries the state of a step over to the plan after a swap. Results of
// items that the new plan does not ask for stay in the record and not here.
func (s *StepState) keep(o *StepState) {
	for _, item := range s.Planned.items() {
		if r, ok := o.Results[item]; ok {
			s.Results[item] = r
		}
	}
	s.Signed, s.Rework, s.Reworks = o.Signed, o.Rework, o.Reworks
	if s.Planned.Torque != nil && o.Planned.Torque != nil {
		s.Group = o.Group
	}
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
