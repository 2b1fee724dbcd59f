package teaching

import (
	"fmt"
	"slices"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// releaseTime asks when a wait is over that began at a given time, in given
// conditions.
func releaseTime(at place, w *procedure.Wait, d *dice) (Question, bool) {
	start := time.Date(2025, time.March, 3+d.below(5), 8+d.below(9), 10*d.below(6), 0, 0, time.UTC)
	prep, told := conditions(w, d)
	need := w.Least(prep)
	if need <= 0 {
		return Question{}, false
	}
	q := Question{
		Stem:   fmt.Sprintf("%q was prepared on %s%s. From when on may you %s?", at.step.Title, clock(start), told, at.beforeWords(w.Before)),
		Answer: clock(start.Add(need)),
		Solution: fmt.Sprintf("The wait is %s in ordinary conditions, here %s times as long: %s. %s",
			hours(time.Duration(w.For)), fmt.Sprint(int(need/time.Duration(w.For))), hours(need), w.Why),
		Source: w.Source, Caution: "What is printed on the container comes first.",
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
	q.wrong(clock(start.Add(plainWait/2)), "takes dry to the touch for cured")
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
	if len(w.Longer) > 0 {
		p.Celsius = &celsius
		told += fmt.Sprintf(", on %s, at %d °C", p.Metal, celsius)
	}
	return p, told
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

// beforeWords says what a wait holds back.
func (p place) beforeWords(before string) string {
	switch before {
	case procedure.BeforeFinishing:
		return "finish the job"
	case procedure.BeforeReleasing:
		return "hand the bike over"
	}
	if s, _, ok := p.of.Step(before); ok {
		return fmt.Sprintf("begin %q", s.Title)
	}
	return "go on"
}
