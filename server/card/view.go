package card

import (
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// A view is the card as the template lays it out: words only.
type view struct {
	Title, Build string
	Invented     bool
	Planned      string
	Bench        string
	Last         string
	Leaves       string
	Engine       int
	Catalogue    string
	Code         *code
	Stopped      []string
	Jobs         []job
	Day          []slot
	Stands       string
	Tools        []string
	Stock        []string
	Wrenches     []wrench
	Holds        []hold
	LeftOut      []procedure.LeftOut
}

// A slot is a line of the day.
type slot struct {
	From, To string
	Idle     bool
	Text     string
}

// A wrench is a torque tool of the rack.
type wrench struct{ ID, Label, Scale, Due string }

func newView(c Card) (*view, error) {
	w := c.Whole
	v := &view{
		Title: w.Label, Build: w.Build, Invented: c.Invented,
		Planned: w.At.Format(dayForm + ", 15:04"), Bench: durationText(time.Duration(w.Minutes) * time.Minute),
		Last: clock(w.At, w.Elapsed), Leaves: clock(w.At, w.Release), Engine: procedure.EngineVersion,
		Catalogue: short(c.Catalogue), Tools: w.Tools, Stock: w.Consumables, LeftOut: w.LeftOut,
	}
	if v.Title == "" {
		v.Title = w.Build
	}
	if w.Build != "" {
		var err error
		if v.Code, err = newCode(w.Build); err != nil {
			return nil, err
		}
	}
	for i := range w.Jobs {
		v.Jobs = append(v.Jobs, newJob(w, i))
	}
	for _, p := range w.Blocked() {
		v.Stopped = append(v.Stopped, p.Title)
	}
	if w.Release > w.Elapsed {
		v.Stands = clock(w.At, w.Release)
	}
	v.Day, v.Wrenches, v.Holds = day(w), wrenches(c.Tools, w.At), allHolds(v.Jobs)
	return v, nil
}

func day(w *procedure.Whole) []slot {
	var out []slot
	for _, s := range w.Day {
		line := slot{From: clock(w.At, s.Start), To: clock(w.At, s.Start+s.For), Idle: s.Procedure == "", Text: s.Title}
		switch {
		case line.Idle:
			line.Text = s.Why
		case s.First > 1 || s.Last < s.Steps:
			line.Text += ", " + stepsText(s)
		}
		out = append(out, line)
	}
	return out
}

// wrenches lists the tools that are in date.
func wrenches(all []procedure.Tool, at time.Time) []wrench {
	var out []wrench
	for _, t := range all {
		line := wrench{ID: t.ID, Label: t.Label, Scale: scaleText(t), Due: "no calibration"}
		if n := len(t.Calibrations); n > 0 {
			due := t.Calibrations[n-1].Due
			line.Due = due.Format(dayForm)
			if due.Before(at) {
				line.Due += ", OVER"
			}
		}
		out = append(out, line)
	}
	return out
}

func scaleText(t procedure.Tool) string {
	if t.Kind == procedure.Fixed {
		return t.Min + " " + t.Unit.Symbol() + ", fixed"
	}
	return strings.Join(nonEmpty(t.Min+" to "+t.Max+" "+t.Unit.Symbol(), steps(t)), ", ")
}

func steps(t procedure.Tool) string {
	if t.Graduation == "" {
		return ""
	}
	return "in steps of " + t.Graduation
}

// allHolds lists the holds of all jobs.
func allHolds(jobs []job) []hold {
	var out []hold
	for _, j := range jobs {
		out = append(out, j.Holds...)
	}
	return out
}

func nonEmpty(texts ...string) []string {
	return slices.DeleteFunc(texts, func(t string) bool { return t == "" })
}
