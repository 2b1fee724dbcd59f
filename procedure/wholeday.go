package procedure

import (
	"slices"
	"time"
)

// A Slot is a stretch of the day: work on one job, or nothing to do.
type Slot struct {
	// Procedure is empty while the bench is idle.
	Procedure string `json:"procedure,omitempty"`
	Title     string `json:"title,omitempty"`
	// First and Last are the steps worked on, by their place in the plan from
	// 1, of Steps: a job that has to wait in the middle has several slots.
	First int `json:"first,omitempty"`
	Last  int `json:"last,omitempty"`
	Steps int `json:"steps,omitempty"`
	// Start is counted from the beginning of the day's work.
	Start Duration `json:"start"`
	For   Duration `json:"for"`
	// Why says what the bench waits for.
	Why string `json:"why,omitempty"`
}

// A stretch is a part of a job that is worked on without a wait in it.
type stretch struct {
	job         int
	first, last int
	takes       time.Duration
	// then is how long the next stretch of the job has to wait, and why.
	then time.Duration
	why  string
}

// arrange lays the jobs out for one person at one bench. While something
// cures, whatever else can be done is done; of what can be done, the stretch
// with the longest wait behind it goes first, then the build order decides.
func (w *Whole) arrange() {
	a := arrangement{w: w, at: make([]int, len(w.Jobs)), ready: make([]time.Duration, len(w.Jobs))}
	for i := range w.Jobs {
		a.stretches = append(a.stretches, w.Jobs[i].Plan.stretches(i))
	}
	for {
		next, found := a.next()
		if !found {
			break
		}
		a.work(next)
	}
	w.Elapsed, w.Release = Duration(a.now), Duration(max(a.now, a.release))
}

type arrangement struct {
	w         *Whole
	stretches [][]stretch
	// at is the next stretch of each job, ready when it may begin.
	at           []int
	ready        []time.Duration
	now, release time.Duration
}

// next returns the job to work on; where all have to wait, the bench is idle
// until the first may go on.
func (a *arrangement) next() (job int, found bool) {
	best, soonest := -1, -1
	for i := range a.w.Jobs {
		switch {
		case a.at[i] == len(a.stretches[i]) || !a.isFree(i):
		case a.ready[i] > a.now:
			if soonest < 0 || a.ready[i] < a.ready[soonest] {
				soonest = i
			}
		case best < 0 || a.stretches[i][a.at[i]].then > a.stretches[best][a.at[best]].then:
			best = i
		}
	}
	if best < 0 && soonest >= 0 {
		a.idle(soonest)
		best = soonest
	}
	return best, best >= 0
}

// isFree reports whether the jobs that come before a job are worked.
func (a *arrangement) isFree(job int) bool {
	for _, id := range a.w.Jobs[job].After {
		i := slices.IndexFunc(a.w.Jobs, func(j WholeJob) bool { return j.Plan.Procedure == id })
		if i >= 0 && a.at[i] < len(a.stretches[i]) {
			return false
		}
	}
	return true
}

func (a *arrangement) idle(until int) {
	p := a.w.Jobs[until].Plan
	a.w.Day = append(a.w.Day, Slot{Start: Duration(a.now), For: Duration(a.ready[until] - a.now),
		Why: p.Title + ": " + a.stretches[until][a.at[until]-1].why})
	a.now = a.ready[until]
}

func (a *arrangement) work(job int) {
	p, s := a.w.Jobs[job].Plan, a.stretches[job][a.at[job]]
	a.w.Day = append(a.w.Day, Slot{Procedure: p.Procedure, Title: p.Title, First: s.first + 1, Last: s.last + 1,
		Steps: len(p.Steps), Start: Duration(a.now), For: Duration(s.takes)})
	for i := s.first; i <= s.last; i++ {
		for _, wait := range p.Steps[i].asked() {
			if wait.Before == BeforeReleasing || wait.Before == BeforeFinishing {
				a.release = max(a.release, a.now+s.takes+time.Duration(wait.For))
			}
		}
	}
	a.now += s.takes
	a.at[job]++
	a.ready[job] = a.now + s.then
}

// stretches cuts a plan where it has to wait for one of its own steps. A
// step's share of the minutes is the same for all; those that wait for the
// release are left to the end of the bike.
func (p *Plan) stretches(job int) []stretch {
	n := len(p.Steps)
	if n == 0 {
		return nil
	}
	share := time.Duration(p.Minutes) * time.Minute / time.Duration(n)
	var out []stretch
	first := 0
	for i := range n {
		wait, why := p.waitBefore(i)
		if wait == 0 {
			continue
		}
		out = append(out, stretch{job: job, first: first, last: i - 1, takes: share * time.Duration(i-first), then: wait, why: why})
		first = i
	}
	return append(out, stretch{job: job, first: first, last: n - 1,
		takes: time.Duration(p.Minutes)*time.Minute - share*time.Duration(first)})
}

// waitBefore returns the longest wait of earlier steps that ends at step i.
func (p *Plan) waitBefore(i int) (longest time.Duration, why string) {
	for k := range i {
		for _, w := range p.Steps[k].asked() {
			if w.Before == p.Steps[i].ID && time.Duration(w.For) > longest {
				longest, why = time.Duration(w.For), w.Why
			}
		}
	}
	return longest, why
}

// asked lists the waits that hold for the planned prep, in ordinary
// conditions: what makes them longer is found at the bench.
func (s *PlannedStep) asked() []Wait {
	var out []Wait
	for _, w := range s.Waits {
		if len(w.With) == 0 || s.ThreadPrep != nil && slices.Contains(w.With, s.ThreadPrep.Use) {
			out = append(out, w)
		}
	}
	return out
}
