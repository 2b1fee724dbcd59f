package audit

import (
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// SecondsToLook is the least time between the builder's last entry and a
// second signature on the same tablet that looks like two people: below it the
// second person can hardly have taken the tablet over, looked and written what
// they saw (common practice, no source).
const SecondsToLook = 60 * time.Second

// signatures looks at every signature of a hold point that was not taken back.
func (x *examiner) signatures() {
	for _, e := range x.signed {
		p, ok := e.Payload.(procedure.HoldSigned)
		if !ok || e.Job != x.job.ID {
			continue
		}
		s := x.state(p.Step)
		status := x.signatureStatus(s, e)
		worked := x.standing(p.Step, e.Seq)
		if madeBy(worked, e.Actor) {
			x.add(Finding{Rule: RuleOwnWork, Sure: Certain, Status: status, Entries: refs(e.Envelope),
				Text: fmt.Sprintf("%q was signed by the person who did it", x.title(p.Step)),
				Mend: "the signature is worth nothing: have another person look and sign"}, s)
		}
		x.rank(s, e, p.Rank, needed(s), status)
		x.signerSkill(s, e, status)
		x.late(s, e, p.Step, status)
		x.inSeconds(s, e, latest(worked), status)
	}
}

// signatureStatus is reworked once a later signature stands.
func (x *examiner) signatureStatus(s *procedure.StepState, e procedure.Entry) Status {
	if s == nil || s.Planned.Hold == nil || (s.Signed != nil && s.Signed.Seq > e.Seq) {
		return Reworked
	}
	return Open
}

// needed is the least rank that a step's hold asks for.
func needed(s *procedure.StepState) procedure.Rank {
	if s != nil && s.Planned.Hold != nil && s.Planned.Hold.By == procedure.ForemanSigns {
		return procedure.Foreman
	}
	return procedure.SeniorBuilder
}

// madeBy reports whether one of the facts is by this person.
func madeBy(facts map[string]*fact, person string) bool {
	for _, f := range facts {
		if f.Actor == person {
			return true
		}
	}
	return false
}

// rank compares the rank a signature needed with the rank its maker had, by
// the record and by what the auditor knows.
func (x *examiner) rank(s *procedure.StepState, e procedure.Entry, recorded, need procedure.Rank, status Status) {
	had, known := x.view.rankAt(e.Actor, e.When().Best())
	if !known {
		had = recorded
	}
	if had >= need && recorded >= need {
		return
	}
	text := fmt.Sprintf("entry %d was signed as %s", e.Seq, rankWords(recorded))
	if known && had != recorded {
		text += fmt.Sprintf(", but the person was %s on that day", rankWords(had))
	}
	x.add(Finding{Rule: RuleRank, Sure: Certain, Status: status, Entries: refs(e.Envelope),
		Text: fmt.Sprintf("%s; it takes %s", text, rankWords(need)),
		Mend: "have it looked at and signed again by a person who may"}, s)
}

// rankWords writes a rank with its article.
func rankWords(r procedure.Rank) string {
	if r == 0 {
		return "somebody without a rank"
	}
	return "a " + plain(r.String())
}

// late looks for work in a later step between the step's own last result and
// the signature.
func (x *examiner) late(s *procedure.StepState, e procedure.Entry, step string, status Status) {
	last := latest(x.standing(step, e.Seq))
	at := x.place(step)
	if last == nil || at < 0 {
		return
	}
	signed, done := e.When().Best(), last.When().Best()
	for i := range x.facts {
		f := &x.facts[i]
		when := f.When().Best()
		if x.place(f.step) <= at || f.Seq < last.Seq || when.Before(done) || !when.Before(signed) {
			continue
		}
		x.add(Finding{Rule: RuleSignedLate, Sure: Certain, Status: status, Entries: refs(f.Envelope, e.Envelope),
			Text: fmt.Sprintf("%q was signed after %q had begun", x.title(step), x.title(f.step)),
			Mend: "a late signature is worth little: look at what can still be seen, and take apart what cannot"}, s)
		return
	}
}

// inSeconds looks for a second signature that came too soon after the builder
// to have been a look.
func (x *examiner) inSeconds(s *procedure.StepState, e procedure.Entry, last *fact, status Status) {
	if last == nil || last.Actor == e.Actor || e.Moment.Tablet == "" || last.Moment.Tablet != e.Moment.Tablet {
		return
	}
	gap := apart(last.When(), e.When())
	if gap >= SecondsToLook {
		return
	}
	x.add(Finding{Rule: RuleSignedInSeconds, Sure: Possible, Status: status, Entries: refs(last.Envelope, e.Envelope),
		Text: fmt.Sprintf("%q was signed %s after the builder's last entry, on the same tablet", x.title(e.Payload.(procedure.HoldSigned).Step), inWords(gap)),
		Mend: "ask both people separately who looked at what; if nobody did, have it looked at and signed again"}, s)
}

// acceptances looks at foremen's words for undecided results.
func (x *examiner) acceptances() {
	for _, e := range x.accepted {
		p, ok := e.Payload.(procedure.ResultAccepted)
		if !ok || e.Job != x.job.ID {
			continue
		}
		was, ok := x.build.Entry(p.Entry)
		if !ok {
			continue
		}
		s := x.state(procedure.StepOf(was.Payload))
		status := x.acceptanceStatus(s, was)
		if was.Actor == e.Actor {
			x.add(Finding{Rule: RuleOwnWork, Item: procedure.ItemOf(was.Payload), Sure: Certain, Status: status, Entries: refs(was.Envelope, e.Envelope),
				Text: "an undecided result was accepted by the person who took it",
				Mend: "let another foreman decide, or take it again with a finer tool"}, s)
		}
		x.rank(s, e, p.Rank, procedure.Foreman, status)
	}
}

// acceptanceStatus is reworked once the accepted result is no longer the one
// that stands.
func (x *examiner) acceptanceStatus(s *procedure.StepState, was procedure.Entry) Status {
	if s != nil {
		if r := s.Results[procedure.ItemOf(was.Payload)]; r != nil && r.Entry.ID == was.ID && r.Void == nil {
			return Open
		}
	}
	return Reworked
}

// releases looks at who let the bike leave. It belongs to no job.
func (x *examiner) releases() {
	for _, e := range x.released {
		p, ok := e.Payload.(procedure.BuildReleased)
		if !ok {
			continue
		}
		status := Open
		if x.build.Released != nil && x.build.Released.Seq > e.Seq {
			status = Reworked
		}
		if own := x.ownSafetyWork(e); own != nil {
			x.add(Finding{Rule: RuleOwnWork, Risk: procedure.SafetyCritical, Sure: Certain, Status: status, Entries: refs(own.Envelope, e.Envelope),
				Text: "the bike was released by a person who tightened one of its safety-critical joints",
				Mend: "let another foreman look at these joints and release the bike"}, nil)
		}
		before := len(x.found)
		x.rank(nil, e, p.Rank, procedure.Foreman, status)
		for i := before; i < len(x.found); i++ {
			x.found[i].Risk = procedure.SafetyCritical
		}
	}
}

// ownSafetyWork returns a reading of the releaser on a safety-critical joint
// that stood at the release.
func (x *examiner) ownSafetyWork(release procedure.Entry) *fact {
	for i := range x.all {
		f := &x.all[i]
		if f.tool == "" || f.Actor != release.Actor || f.Seq > release.Seq || !f.judgement.Counts {
			continue
		}
		j, ok := x.build.Job(f.Job)
		if !ok || j.Abandoned != nil {
			continue
		}
		if s, ok := j.Step(f.step); ok && s.Planned.Risk == procedure.SafetyCritical && s.Results[f.item] != nil && s.Results[f.item].Entry.ID == f.ID {
			return f
		}
	}
	return nil
}
