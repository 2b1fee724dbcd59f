package procedure

import "fmt"

// Apply adds the next entry of the record to the state. It never judges: what
// the rules of the day said stands in the entry. An error means that the
// record itself is broken (a gap, a plan that is gone), and the state is not
// to be used further.
func (b *Build) Apply(e Entry) error {
	if err := b.add(e); err != nil {
		return err
	}
	if _, ok := e.Payload.(EntryWithdrawn); ok {
		return b.refold()
	}
	return b.apply(e)
}

// add takes the next entry of the record.
func (b *Build) add(e Entry) error {
	if e.Build != b.ID || e.Seq != b.Seq+1 {
		return fmt.Errorf("build %s: entry %s of build %s has sequence %d, want %d", b.ID, e.ID, e.Build, e.Seq, b.Seq+1)
	}
	b.byID[e.ID] = len(b.entries)
	b.entries = append(b.entries, e)
	b.Seq = e.Seq
	if w, ok := e.Payload.(EntryWithdrawn); ok {
		b.gone[w.Entry] = true
	}
	return nil
}

// refold builds the state again from the entries that were not withdrawn, so
// that what a withdrawn fact spoiled stands again.
func (b *Build) refold() error {
	b.Jobs, b.Accepted, b.Released = nil, nil, nil
	clear(b.corrected)
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

// markWithdrawal lets the step of the withdrawn entry, and the steps that it
// had spoiled, know that they changed. A signature falls with what it was for,
// and where the result that comes to light is the signer's own.
func (b *Build) markWithdrawal(e Entry, w EntryWithdrawn) {
	b.Released = nil
	was, ok := b.Entry(w.Entry)
	if !ok {
		return
	}
	for _, ref := range VoidsOf(was.Payload) {
		if j, s, err := b.jobAndStep(ref.Job, ref.Step); err == nil {
			b.touch(j, s, e.Seq)
		}
	}
	j, ok := b.Job(was.Job)
	if !ok {
		return
	}
	s, _ := j.Step(factStep(was.Payload))
	b.touch(j, s, e.Seq)
	if s != nil && s.Signed != nil && (!s.Done() || j.worked(s)[s.Signed.Actor]) {
		s.Signed = nil
	}
}

func (b *Build) apply(e Entry) error {
	switch p := e.Payload.(type) {
	case JobOpened:
		return b.applyOpened(e, p)
	case FigureAccepted:
		b.Accepted = append(b.Accepted, Acceptance{Joint: p.Joint, Person: e.Actor, At: e.Moment.Best(), Window: p.Window})
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
	plan, err := b.plan(p.PlanDigest)
	if err != nil {
		return fmt.Errorf("build %s: plan %s of job %s: %w", b.ID, p.PlanDigest, e.Job, err)
	}
	j := newJob(e.Job, plan, p.PlanDigest, e.Envelope)
	j.Supervisor = p.Supervisor
	b.Jobs = append(b.Jobs, j)
	b.Released = nil
	return nil
}

// plan finds a plan that steps can be worked by.
func (b *Build) plan(digest string) (*Plan, error) {
	if b.plans == nil {
		return nil, ErrNotFound
	}
	p, err := b.plans(digest)
	if err == nil && p == nil {
		err = ErrNotFound
	}
	if err != nil {
		return nil, err
	}
	return p, p.whole()
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
		if s.Planned.Torque == nil {
			return fmt.Errorf("build %s: entry %s: reading in step %s, which tightens nothing", b.ID, e.ID, p.Step)
		}
		b.applyReading(s, e, p)
	case MeasureTaken:
		b.applyFact(s, e, CheckItem(p.Check), p.Judgement, p.Value+" "+p.Unit)
	case LookTaken:
		b.applyFact(s, e, CheckItem(p.Check), p.Judgement, yesNo(p.OK))
	case PhotoTaken:
		b.applyFact(s, e, CheckItem(p.Check), p.Judgement, "photo")
	case PrepDone:
		b.applyFact(s, e, PrepItem, p.Judgement, preps(p.Thread, p.Face))
	case ReworkBegun:
		b.applyVoids(e, VoidsOf(p))
		b.applyRework(j, p)
	case HoldSigned:
		env := e.Envelope
		s.Signed = &env
	}
	return nil
}
