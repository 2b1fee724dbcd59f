package audit

import (
	"fmt"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// A held is what a wait holds back: a fact of a later step, the finish or the
// release.
type held struct {
	procedure.Envelope
	// fact is nil for finish and release.
	fact *fact
}

// waits works every wait out again, from the clocks and the conditions of the
// prep, without asking what the bench made of it.
func (x *examiner) waits() {
	for _, s := range x.job.Steps {
		for _, w := range s.Planned.Waits {
			x.wait(s, w)
		}
	}
}

// wait holds one wait against everything that it held back, and reports the
// shortest of them.
func (x *examiner) wait(s *procedure.StepState, w procedure.Wait) {
	var early []held
	var short time.Duration
	sure, status := Possible, Reworked
	for _, h := range x.heldBack(w.Before) {
		need, had, most := x.waited(s, w, h)
		if need <= had {
			continue
		}
		early = append(early, h)
		short = max(short, need-had)
		if most < need {
			sure = Certain
		}
		if h.fact == nil || !x.isRetaken(h.fact) {
			status = Open
		}
	}
	if len(early) == 0 {
		return
	}
	f := Finding{Rule: RuleWait, Sure: sure, Status: status, Text: fmt.Sprintf("%s %s before the wait of %q was over",
		x.heldWords(w.Before), inWords(short), s.Planned.Title), Mend: "let it cure undisturbed now; if it was moved or loaded, take the joint apart and do it again"}
	if sure == Possible {
		f.Text += ", as far as the clocks can prove"
	}
	for _, h := range early {
		f.Entries = append(f.Entries, ref(h.Envelope))
		if h.fact != nil && h.fact.judgement.Rule == procedure.RuleWait {
			f.Because = procedure.RuleWait
		}
	}
	x.add(f, s)
}

// heldWords says what went ahead too early.
func (x *examiner) heldWords(before string) string {
	switch before {
	case procedure.BeforeFinishing:
		return "the job was finished"
	case procedure.BeforeReleasing:
		return "the bike was released"
	}
	if id, step, elsewhere := strings.Cut(before, "/"); elsewhere {
		return fmt.Sprintf("%q was begun", x.titleElsewhere(id, step))
	}
	return fmt.Sprintf("%q was begun", x.title(before))
}

// titleElsewhere is what the bench calls a step of another procedure.
func (x *examiner) titleElsewhere(id, step string) string {
	for _, j := range x.build.Jobs {
		if s, ok := j.Step(step); ok && j.Plan.Procedure == id {
			return s.Planned.Title
		}
	}
	return step
}

// heldBack lists what a wait can have held back.
func (x *examiner) heldBack(before string) []held {
	var out []held
	switch before {
	case procedure.BeforeFinishing:
		if x.job.Finished != nil {
			out = append(out, held{Envelope: *x.job.Finished})
		}
	case procedure.BeforeReleasing:
		for _, e := range x.released {
			out = append(out, held{Envelope: e.Envelope})
		}
	default:
		if id, step, elsewhere := strings.Cut(before, "/"); elsewhere {
			return x.heldElsewhere(id, step)
		}
		for i := range x.facts {
			f := &x.facts[i]
			if f.step == before && (f.judgement.Counts || f.judgement.Rule == procedure.RuleWait) {
				out = append(out, held{Envelope: f.Envelope, fact: f})
			}
		}
	}
	return out
}

// heldElsewhere lists the facts of a step of another procedure's jobs.
func (x *examiner) heldElsewhere(id, step string) []held {
	var out []held
	for i := range x.all {
		f := &x.all[i]
		j, ok := x.build.Job(f.Job)
		if ok && j.Plan.Procedure == id && f.step == step && (f.judgement.Counts || f.judgement.Rule == procedure.RuleWait) {
			out = append(out, held{Envelope: f.Envelope, fact: f})
		}
	}
	return out
}

// waited returns how long the wait had to be, how long it certainly was and
// how long it can have been at most. It counts from the step's prep, else from
// its last result, as they stood then. A release waits for what holds back
// finishing as well; the finish has shown that already.
func (x *examiner) waited(s *procedure.StepState, w procedure.Wait, h held) (need, had, most time.Duration) {
	facts := x.standing(s.Planned.ID, h.Seq)
	start := facts[procedure.PrepItem]
	if start == nil {
		start = latest(facts)
	}
	if start == nil {
		return 0, 0, 0
	}
	prep, _ := start.payload.(procedure.PrepDone)
	return w.Least(prep), procedure.LeastElapsed(start.When(), h.When()), procedure.MostElapsed(start.When(), h.When())
}

// isRetaken is retaken for a fact of any job of the bike.
func (x *examiner) isRetaken(f *fact) bool {
	if f.Job == x.job.ID {
		return x.retaken(f)
	}
	j, ok := x.build.Job(f.Job)
	if !ok {
		return true
	}
	s, ok := j.Step(f.step)
	if !ok {
		return true
	}
	r := s.Results[f.item]
	return r != nil && r.Stands(s.Planned.Risk) && r.Entry.Seq > f.Seq
}
