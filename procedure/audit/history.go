package audit

import (
	"slices"

	"github.com/tightwright/tightwright/procedure"
)

// A fact is an entry that gives a result for an item of a step, as it is to be
// read now: with the tool that it was corrected to.
type fact struct {
	procedure.Envelope
	step, item string
	payload    procedure.Payload
	judgement  procedure.Judgement
	// tool is the torque tool of a reading, "" for other facts.
	tool string
}

// A history is a build's record put in order for questions about the past.
// Entries that were withdrawn are left out everywhere.
type history struct {
	all     []fact
	reworks []procedure.Entry
	// signed holds signatures of hold points, accepted foremen's words for
	// results, figures those for windows, released the releases.
	signed, accepted, figures, released []procedure.Entry
	// withdrawals are the entries that took others back.
	withdrawals []procedure.Entry
	// voids holds the sequences of the entries that spoiled a result.
	voids map[procedure.ResultRef][]int64
}

// readHistory reads the record once. Corrections are gathered first, because
// they come after the readings that they correct.
func readHistory(b *procedure.Build) *history {
	h := &history{voids: map[procedure.ResultRef][]int64{}}
	corrections := map[string]procedure.ToolCorrected{}
	for _, e := range b.Entries() {
		if c, ok := e.Payload.(procedure.ToolCorrected); ok {
			corrections[c.Entry] = c
		}
	}
	for _, e := range b.Entries() {
		if !b.IsWithdrawn(e.ID) {
			h.take(e, corrections)
		}
	}
	return h
}

// take files one entry that was not withdrawn.
func (h *history) take(e procedure.Entry, corrections map[string]procedure.ToolCorrected) {
	for _, ref := range procedure.VoidsOf(e.Payload) {
		h.voids[ref] = append(h.voids[ref], e.Seq)
	}
	switch e.Payload.(type) {
	case procedure.ReworkBegun:
		h.reworks = append(h.reworks, e)
	case procedure.HoldSigned:
		h.signed = append(h.signed, e)
	case procedure.ResultAccepted:
		h.accepted = append(h.accepted, e)
	case procedure.FigureAccepted:
		h.figures = append(h.figures, e)
	case procedure.BuildReleased:
		h.released = append(h.released, e)
	case procedure.EntryWithdrawn:
		h.withdrawals = append(h.withdrawals, e)
	}
	judgement, ok := procedure.JudgementOf(e.Payload)
	if !ok {
		return
	}
	f := fact{Envelope: e.Envelope, step: procedure.StepOf(e.Payload), item: procedure.ItemOf(e.Payload),
		payload: e.Payload, judgement: judgement}
	if r, ok := e.Payload.(procedure.ReadingTaken); ok {
		f.tool = r.Tool
		if c, ok := corrections[e.ID]; ok {
			f.tool, f.judgement = c.Tool, corrected(judgement, c.Judgement)
		}
	}
	h.all = append(h.all, f)
}

// corrected is a reading's judgement after its tool was corrected. What the
// reading spoiled, and whether it may simply be taken again, was said when it
// was made.
func corrected(was, now procedure.Judgement) procedure.Judgement {
	now.Voids, now.Retake = was.Voids, was.Retake
	return now
}

// factsOf returns the facts of a job, in order.
func (h *history) factsOf(job string) []fact {
	var out []fact
	for _, f := range h.all {
		if f.Job == job {
			out = append(out, f)
		}
	}
	return out
}

// spoiledBetween reports whether the item's result was spoiled after one entry
// and before another.
func (h *history) spoiledBetween(f *fact, before int64) bool {
	ref := procedure.ResultRef{Job: f.Job, Step: f.step, Item: f.item}
	return slices.ContainsFunc(h.voids[ref], func(seq int64) bool { return seq > f.Seq && seq < before })
}

// standing returns the counted fact of each item of a step that stood before
// an entry of the job, by item.
func (x *examiner) standing(step string, before int64) map[string]*fact {
	out := map[string]*fact{}
	for i := range x.facts {
		f := &x.facts[i]
		if f.step == step && f.Seq < before && f.judgement.Counts {
			out[f.item] = f
		}
	}
	for item, f := range out {
		if x.spoiledBetween(f, before) {
			delete(out, item)
		}
	}
	return out
}

// latest returns the fact with the highest sequence, or nil.
func latest(facts map[string]*fact) *fact {
	var last *fact
	for _, f := range facts {
		if last == nil || f.Seq > last.Seq {
			last = f
		}
	}
	return last
}

// state returns the present state of a step, or nil when the plan no longer
// has it.
func (x *examiner) state(step string) *procedure.StepState {
	s, _ := x.job.Step(step)
	return s
}

// title is what the bench calls a step.
func (x *examiner) title(step string) string {
	if s := x.state(step); s != nil {
		return s.Planned.Title
	}
	return step
}

// retaken reports whether a later result stands for the fact's item, or the
// plan asks for none any more.
func (x *examiner) retaken(f *fact) bool {
	s := x.state(f.step)
	if s == nil || !slices.Contains(s.Planned.Items(), f.item) {
		return true
	}
	r := s.Results[f.item]
	return r.Stands(s.Planned.Risk) && r.Entry.Seq > f.Seq
}

// takenApart reports whether a step was reworked after an entry.
func (x *examiner) takenApart(step string, after int64) bool {
	return slices.ContainsFunc(x.reworks, func(e procedure.Entry) bool {
		r, ok := e.Payload.(procedure.ReworkBegun)
		return ok && e.Job == x.job.ID && e.Seq > after && x.covers(r, step)
	})
}

// covers reports whether a rework went through a step.
func (x *examiner) covers(r procedure.ReworkBegun, step string) bool {
	from, to, at := x.place(r.From), x.place(r.Step), x.place(step)
	return at >= 0 && max(from, 0) <= at && at <= to
}

// place is where a step stands in the plan now, -1 when it has none.
func (x *examiner) place(step string) int {
	return slices.IndexFunc(x.job.Steps, func(s *procedure.StepState) bool { return s.Planned.ID == step })
}

// madeGood is the status of what a later result settles; overMax asks for a
// rework as well, because a value above the maximum leaves its mark.
func (x *examiner) madeGood(f *fact, overMax bool) Status {
	switch {
	case overMax && !x.takenApart(f.step, f.Seq):
		return Open
	case x.retaken(f) || x.build.Superseded(x.job):
		return Reworked
	}
	return Open
}
