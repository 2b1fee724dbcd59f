package teaching

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// releaseTime asks when a wait is over that began at a given time, in given
// conditions. One that holds back a step of a procedure that is not taught here
// gives no question.
func (m *maker) releaseTime(at place, w *procedure.Wait, d *dice) (Question, bool) {
	start := time.Date(2025, time.March, 3+d.below(5), 8+d.below(9), 10*d.below(6), 0, 0, time.UTC)
	prep, told := conditions(w, d)
	need := w.Least(prep)
	before, ok := m.beforeWords(at, w.Before)
	if need <= 0 || !ok {
		return Question{}, false
	}
	q := Question{
		Stem:     fmt.Sprintf("On %s you %s %q%s. From when on may you %s?", clock(start), startWords(at.step), at.step.Title, told, before),
		Answer:   clock(start.Add(need)),
		Solution: fmt.Sprintf("The wait is %s in ordinary conditions%s. %s", hours(time.Duration(w.For)), longerWords(w, need), w.Why),
		Source:   w.Source, Caution: "What is printed on the container comes first.",
	}
	q.give("start", clock(start))
	q.give("for", time.Duration(w.For).String())
	q.give("prep", prep.Thread.String())
	q.give("metal", prep.Metal)
	if prep.Celsius != nil {
		q.give("celsius", fmt.Sprint(*prep.Celsius))
	}
	plainWait := time.Duration(w.For)
	product, sum := 1, 0
	for _, l := range w.Longer {
		product *= l.Times
		sum += l.Times
	}
	q.wrong(clock(start.Add(plainWait)), "leaves metal and cold out")
	q.wrong(clock(start.Add(plainWait*time.Duration(product))), "multiplies all factors")
	q.wrong(clock(start.Add(plainWait*time.Duration(max(1, sum)))), "adds all factors")
	q.wrong(clock(start.Add(plainWait/2)), "waits half the time")
	q.wrong(clock(start.Add(need+24*time.Hour)), "counts a day too many")
	return q, true
}

// conditions draws a prep that the wait concerns, and tells it.
func conditions(w *procedure.Wait, d *dice) (procedure.PrepDone, string) {
	var p procedure.PrepDone
	told := ""
	if len(w.With) > 0 {
		p.Thread = pick(d, w.With...)
		told = " with " + p.Thread.Words()
	}
	p.Metal = "steel"
	warm := 20
	var metals []string
	var colds []int
	for _, l := range w.Longer {
		for _, metal := range l.Metals {
			if !slices.Contains(metals, metal) {
				metals = append(metals, metal)
			}
		}
		if l.BelowCelsius != nil {
			warm = max(warm, *l.BelowCelsius+2)
			colds = append(colds, *l.BelowCelsius-6)
		}
	}
	if len(metals) > 0 && d.below(2) == 0 {
		p.Metal = pick(d, metals...)
	}
	celsius := warm
	if len(colds) > 0 && d.below(2) == 0 {
		celsius = pick(d, colds...)
	}
	if len(metals) > 0 {
		told += ", on " + plain(p.Metal)
	}
	if len(colds) > 0 {
		told += fmt.Sprintf(", at %d °C", celsius)
	}
	p.Celsius = &celsius
	return p, told + slowestWords(w, p)
}

// slowestWords says which of several reasons to wait longer counts, where there
// are several.
func slowestWords(w *procedure.Wait, p procedure.PrepDone) string {
	holding := 0
	for _, l := range w.Longer {
		alone := procedure.Wait{For: w.For, Longer: []procedure.Longer{l}}
		if alone.Least(p) > time.Duration(w.For) {
			holding++
		}
	}
	if holding < 2 {
		return ""
	}
	return " (of several things that make it slower, the worst counts)"
}

// startWords says what a wait counts from: the step's prep, else its end.
func startWords(s *procedure.Step) string {
	if s.Prep != nil {
		return "do the prep of"
	}
	return "finish"
}

// longerWords says how much longer a wait is than in ordinary conditions.
func longerWords(w *procedure.Wait, need time.Duration) string {
	times := int(need / time.Duration(w.For))
	if times == 1 {
		return ", and nothing here makes it longer"
	}
	return fmt.Sprintf(", here %d times as long: %s", times, hours(need))
}

// clock writes a day and a time as on a wall calendar, without the year.
func clock(t time.Time) string { return t.Format("Monday 2 January, 15:04") }

// hours writes a wait in whole hours, or in minutes where it has none.
func hours(t time.Duration) string {
	if t%time.Hour == 0 {
		return fmt.Sprintf("%d h", t/time.Hour)
	}
	return fmt.Sprintf("%d min", t/time.Minute)
}

// beforeWords says what a wait of a step holds back, or false where it is not
// among the procedures.
func (m *maker) beforeWords(at place, before string) (string, bool) {
	switch before {
	case procedure.BeforeFinishing:
		return "finish the job", true
	case procedure.BeforeReleasing:
		return "hand the bike over", true
	}
	of, job := at.of, ""
	if id, step, other := strings.Cut(before, "/"); other {
		of, before = m.byID[id], step
		if of == nil {
			return "", false
		}
		job = fmt.Sprintf(" of the job %q", of.Title)
	}
	s, _, ok := of.Step(before)
	if !ok {
		return "", false
	}
	return fmt.Sprintf("begin %q%s", s.Title, job), true
}
