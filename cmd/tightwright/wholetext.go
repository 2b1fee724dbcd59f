package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// clockColumn is where text begins beside a time of the day.
const clockColumn = 22

// wholeText writes the work on a bike for the person who plans the day. hasRack
// says that tools were given.
func wholeText(w *procedure.Whole, hasRack bool) string {
	t := wholePage{w: w, hasRack: hasRack}
	t.head()
	t.stopped()
	t.jobs()
	t.day()
	t.holds()
	t.layOut()
	t.leftOut()
	return t.String()
}

type wholePage struct {
	page
	w       *procedure.Whole
	hasRack bool
}

func (t *wholePage) head() {
	w := t.w
	t.line("All the work on one bike")
	t.hang("bike", topColumn, bikeText(w.Label, w.Build))
	t.hang("planned for", topColumn, w.At.Format("2 January 2006, 15:04 UTC"))
	t.hang("at the bench", topColumn, durationText(time.Duration(w.Minutes)*time.Minute))
	t.hang("last step", topColumn, "after "+durationText(time.Duration(w.Elapsed))+", with what is waited for at the bench")
	t.hang("leaves", topColumn, "at the earliest "+clockText(w.At, w.Release))
	if !t.hasRack {
		t.hang("tools", topColumn, "no rack was given, so no settings are worked out")
	}
}

// stopped lists what stops plans, by job.
func (t *wholePage) stopped() {
	stopped := t.w.Blocked()
	if len(stopped) == 0 {
		return
	}
	t.heading("STOP: mend this before a tool is touched")
	for _, p := range stopped {
		t.line("  %s", p.Title)
		for _, text := range stopTexts(p) {
			t.hang("    -", 6, text)
		}
	}
}

// stopTexts lists what stops a plan, each once: a joint that is tightened twice
// is found wanting twice.
func stopTexts(p *procedure.Plan) []string {
	var out []string
	for _, f := range p.Findings {
		if f.Blocks && !slices.Contains(out, f.Text) {
			out = append(out, f.Text)
		}
	}
	return out
}

func (t *wholePage) jobs() {
	t.heading("The jobs, in this order")
	for i, j := range t.w.Jobs {
		p := j.Plan
		text := fmt.Sprintf("%s: %s, %s", p.Title, counted(len(p.Steps), "step"), counted(p.Minutes, "minute"))
		if p.Blocked() {
			text += ", STOPPED"
		}
		t.hang(fmt.Sprintf("%3d.", i+1), 6, text)
		t.hang("", 6, t.afterText(j.After))
	}
	if len(t.w.Jobs) == 0 {
		t.line("  There is no procedure for the parts on this sheet.")
	}
}

// afterText says which jobs come first, by their places in the list. Those that
// come before one of them anyway are not said again.
func (t *wholePage) afterText(after []string) string {
	var implied []string
	for _, id := range after {
		if j, ok := t.w.Job(id); ok {
			implied = append(implied, j.After...)
		}
	}
	var places []string
	for i, j := range t.w.Jobs {
		if id := j.Plan.Procedure; slices.Contains(after, id) && !slices.Contains(implied, id) {
			places = append(places, strconv.Itoa(i+1))
		}
	}
	if len(places) == 0 {
		return ""
	}
	return "after " + strings.Join(places, ", ")
}

func (t *wholePage) day() {
	t.heading("The day of one person at one bench")
	for _, s := range t.w.Day {
		end := s.Start + s.For
		text := fmt.Sprintf("%s, %s", s.Title, stepsText(s))
		switch {
		case s.Procedure == "":
			text = "nothing to do but wait. " + s.Why
		case s.First == 1 && s.Last == s.Steps:
			text = s.Title
		}
		t.hang(fmt.Sprintf("  %s to %s", dayTime(t.w.At, s.Start), dayTime(t.w.At, end)), clockColumn, text)
	}
	for _, wait := range t.waits() {
		t.hang("  then", clockColumn, wait)
	}
}

// waits lists what holds the bike back after the work.
func (t *wholePage) waits() []string {
	if t.w.Release <= t.w.Elapsed {
		return nil
	}
	return []string{"the bike stands until " + clockText(t.w.At, t.w.Release) + " for what still cures or dries"}
}

func (t *wholePage) holds() {
	if len(t.w.Holds) == 0 {
		return
	}
	t.heading("Where somebody else has to look")
	for _, h := range t.w.Holds {
		who := "another able person"
		if h.By == procedure.ForemanSigns {
			who = "the foreman"
		}
		job := spelled(h.Procedure)
		if j, ok := t.w.Job(h.Procedure); ok {
			job = j.Plan.Title
		}
		t.hang("  -", 4, fmt.Sprintf("%s, after %s: %s looks: %s", job, lowerFirst(h.Title), who, h.LooksAt))
	}
}

func (t *wholePage) layOut() {
	t.heading("Lay out")
	t.hang("  tools", topColumn, strings.Join(t.w.Tools, "; "))
	t.hang("  stock", topColumn, strings.Join(t.w.Consumables, "; "))
}

func (t *wholePage) leftOut() {
	if len(t.w.LeftOut) == 0 {
		return
	}
	t.heading("Left out: is each of these really not on the bike?")
	for _, l := range t.w.LeftOut {
		t.hang("  -", 4, l.Title+": "+l.Reason)
	}
}

// dayTime is a time of the day on which work starts; later days are counted.
func dayTime(start time.Time, after procedure.Duration) string {
	at := start.Add(time.Duration(after))
	if days := daysBetween(start, at); days > 0 {
		return fmt.Sprintf("%s +%dd", at.Format("15:04"), days)
	}
	return at.Format("15:04")
}

func daysBetween(from, to time.Time) int {
	day := func(t time.Time) time.Time { return t.UTC().Truncate(24 * time.Hour) }
	return int(day(to).Sub(day(from)) / (24 * time.Hour))
}

func clockText(start time.Time, after procedure.Duration) string {
	return start.Add(time.Duration(after)).Format("2 January 2006, 15:04 UTC")
}

// stepsText says which steps of a job a stretch of the day is for.
func stepsText(s procedure.Slot) string {
	if s.First == s.Last {
		return fmt.Sprintf("step %d of %d", s.First, s.Steps)
	}
	return fmt.Sprintf("steps %d to %d of %d", s.First, s.Last, s.Steps)
}
