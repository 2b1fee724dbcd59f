package procedure

import (
	"fmt"
	"slices"
	"time"
)

// A Whole is all the work on one bike: the procedures that it asks for, in
// the order in which they are done, with what to lay out, who else is needed
// and how the waits fit into the day.
type Whole struct {
	Build string    `json:"build"`
	Label string    `json:"label,omitempty"`
	At    time.Time `json:"at"`
	// Jobs in build order.
	Jobs []WholeJob `json:"jobs"`
	// LeftOut are the procedures that this bike does not ask for, each with
	// the reason: a part that is not on the sheet looks the same as a part
	// that is not on the bike, so a person reads this list.
	LeftOut []LeftOut `json:"left_out,omitempty"`
	// Tools and Consumables are what to lay out, each once.
	Tools       []string `json:"tools,omitempty"`
	Consumables []string `json:"consumables,omitempty"`
	// Holds are the points at which somebody else looks.
	Holds []WholeHold `json:"holds,omitempty"`
	// Day is the order in which one person at one bench does the work.
	Day []Slot `json:"day"`
	// Minutes is the time at the bench, Elapsed that until the last step,
	// with what is waited for, and Release when the bike may leave at the
	// earliest, both counted from the start.
	Minutes int      `json:"minutes"`
	Elapsed Duration `json:"elapsed"`
	Release Duration `json:"release"`
}

// A WholeJob is one procedure of the whole.
type WholeJob struct {
	Plan *Plan `json:"plan"`
	// After lists the jobs of this bike that come first, directly.
	After []string `json:"after,omitempty"`
}

// LeftOut is a procedure that is not for this bike.
type LeftOut struct {
	Procedure string `json:"procedure"`
	Title     string `json:"title"`
	Reason    string `json:"reason"`
}

// A WholeHold is a step after which somebody else has to look.
type WholeHold struct {
	Procedure string `json:"procedure"`
	Step      string `json:"step"`
	Title     string `json:"title"`
	By        Signer `json:"by"`
	LooksAt   string `json:"looks_at"`
}

// NewWhole plans every procedure that the bike of the sheet asks for: those
// whose parts are all on the sheet and whose condition holds. It is as pure as
// NewPlan, and what a plan is stopped by stands in that plan.
//
// An error means that the arguments themselves cannot be used.
func NewWhole(procedures []*Resolved, sheet *Sheet, tools []Tool, at time.Time, policy Policy) (*Whole, error) {
	w := &Whole{Build: sheet.Build, Label: sheet.Label, At: at.UTC()}
	var chosen []*Resolved
	for _, r := range procedures {
		if why := notFor(&r.Definition, sheet); why != "" {
			w.LeftOut = append(w.LeftOut, LeftOut{Procedure: r.ID, Title: r.Title, Reason: why})
			continue
		}
		chosen = append(chosen, r)
	}
	after := reducedAfter(procedures, chosen)
	for _, r := range inOrder(chosen, after) {
		plan, err := NewPlan(r, sheet, tools, at, policy)
		if err != nil {
			return nil, err
		}
		w.Jobs = append(w.Jobs, WholeJob{Plan: plan, After: after[r.ID]})
		w.layOut(plan)
	}
	w.arrange()
	return w, nil
}

// Job returns the job that follows a procedure, or false.
func (w *Whole) Job(procedure string) (*WholeJob, bool) {
	for i := range w.Jobs {
		if w.Jobs[i].Plan.Procedure == procedure {
			return &w.Jobs[i], true
		}
	}
	return nil, false
}

// Blocked lists the plans that a finding stops.
func (w *Whole) Blocked() []*Plan {
	var out []*Plan
	for _, j := range w.Jobs {
		if j.Plan.Blocked() {
			out = append(out, j.Plan)
		}
	}
	return out
}

// notFor says why a procedure is not for the bike; empty where it is. An
// attribute that is not known is no reason: the plan asks for it.
func notFor(d *Definition, sheet *Sheet) string {
	for _, role := range d.Roles {
		if _, ok := sheet.Part(role); !ok {
			return fmt.Sprintf("the sheet lists no %s", words(role))
		}
	}
	holds, missing := d.When.holds(sheet.Attribute)
	if !holds && len(missing) == 0 && len(d.When) > 0 {
		return "it is for bikes on which " + d.When.Words()
	}
	return ""
}

// layOut gathers what a plan asks for.
func (w *Whole) layOut(p *Plan) {
	w.Minutes += p.Minutes
	w.Tools = addNew(w.Tools, p.Tools)
	w.Consumables = addNew(w.Consumables, p.Consumables)
	for i := range p.Steps {
		s := &p.Steps[i]
		w.Tools = addNew(w.Tools, s.Tools)
		if s.Hold != nil {
			w.Holds = append(w.Holds, WholeHold{Procedure: p.Procedure, Step: s.ID, Title: s.Title, By: s.Hold.By, LooksAt: s.Hold.LooksAt})
		}
	}
}

// addNew appends the words that the list does not have yet.
func addNew(list, more []string) []string {
	for _, v := range more {
		if !slices.Contains(list, v) {
			list = append(list, v)
		}
	}
	return list
}
