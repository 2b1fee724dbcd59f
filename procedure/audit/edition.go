package audit

import (
	"fmt"
	"time"
)

// An EditionSince is the revision of a procedure that was in force from a time
// on, until the next one.
type EditionSince struct {
	Procedure string    `json:"procedure"`
	Revision  string    `json:"revision"`
	Since     time.Time `json:"since"`
}

// editionAt returns what was in force of a procedure at a time; false when the
// view does not say.
func (v *View) editionAt(procedure string, at time.Time) (found EditionSince, ok bool) {
	for _, e := range v.Editions {
		if e.Procedure == procedure && !e.Since.After(at) && (!ok || !e.Since.Before(found.Since)) {
			found, ok = e, true
		}
	}
	return found, ok
}

// editions looks for work by a plan whose edition another had replaced by then.
// A job keeps its plan, and a tablet without a network cannot know: the work is
// not wrong for it, but somebody has to hold it against what is asked now.
func (x *examiner) editions() {
	for i := range x.facts {
		f := &x.facts[i]
		now, ok := x.view.editionAt(x.job.Plan.Procedure, f.When().Best())
		if !f.judgement.Counts || !ok || now.Revision == x.job.Plan.Revision || !x.job.Plan.At.Before(now.Since) {
			continue
		}
		x.add(Finding{Rule: RuleOlderEdition, Sure: Certain, Status: x.madeGoodLater(), Entries: refs(f.Envelope),
			Text: fmt.Sprintf("%q was done by an edition that another had replaced at %s", x.title(f.step), now.Since.UTC().Format("2006-01-02 15:04")),
			Mend: "hold what was recorded against the edition in force, and take again what it would not have asked for"}, x.state(f.step))
	}
}
