package procedure

import (
	"slices"
	"time"
)

// The things a wait can hold back beside a step.
const (
	BeforeFinishing = "finish"
	BeforeReleasing = "release"
)

// waitLeft returns how long a step, finishing or releasing still has to wait
// at that moment; 0 or less means not at all.
func (j *Job) waitLeft(what string, now Moment) time.Duration {
	var left time.Duration
	for _, s := range j.Steps {
		for _, w := range s.Planned.Waits {
			if w.Before != what {
				continue
			}
			left = max(left, s.waitLeft(w, now))
		}
	}
	return left
}

// stepWait returns how long a step of a job still has to wait at that moment:
// for its own job, and for any other of the bike whose waits name the step.
func (b *Build) stepWait(j *Job, step string, now Moment) time.Duration {
	left := j.waitLeft(step, now)
	for _, t := range b.Jobs {
		if t != j && t.Abandoned == nil && !b.Superseded(t) {
			left = max(left, t.waitLeft(j.Plan.Procedure+"/"+step, now))
		}
	}
	return left
}

// waitLeft returns how long one wait still runs. It starts with the step's
// prep, else with its last result.
func (s *StepState) waitLeft(w Wait, now Moment) time.Duration {
	start := s.waitStart()
	if start == nil {
		return 0
	}
	prep, _ := start.payload.(PrepDone)
	if len(w.With) > 0 && !slices.Contains(w.With, prep.Thread) {
		return 0
	}
	return time.Duration(w.For)*time.Duration(w.factor(prep)) - leastElapsed(start.moment, now)
}

// tooEarly reports whether a result that stands in the step was taken before a
// wait for the step was over: what the wait counts from was done again since.
func (b *Build) tooEarly(j *Job, s *StepState) bool {
	for _, r := range s.Results {
		if r.Void == nil && b.stepWait(j, s.Planned.ID, r.Entry.when()) > 0 {
			return true
		}
	}
	return false
}

// waitStart is the fact a wait of the step counts from.
func (s *StepState) waitStart() *waitOrigin {
	if r := s.Results[PrepItem]; r != nil && r.Void == nil {
		return &waitOrigin{moment: r.Entry.when(), payload: r.fact}
	}
	var last *Result
	for _, r := range s.Results {
		if r.Void == nil && (last == nil || r.Entry.Seq > last.Entry.Seq) {
			last = r
		}
	}
	if last == nil {
		return nil
	}
	return &waitOrigin{moment: last.Entry.when(), payload: last.fact}
}

type waitOrigin struct {
	moment  Moment
	payload Payload
}

// factor returns how many times longer the wait is in the conditions of the
// prep. A condition that was not recorded counts as the slow one.
func (w Wait) factor(p PrepDone) int {
	most := 1
	for _, l := range w.Longer {
		if l.holds(p) {
			most = max(most, l.Times)
		}
	}
	return most
}

// knownMetals are the words for what a thread is of, those of the built-in
// vocabulary. A word that is none of them may stand for any metal.
var knownMetals = []string{"steel", "stainless", "alloy", "anodised-alloy", "titanium", "carbon", "resin", "brass"}

// IsKnownMetal reports whether a word says what a thread is of.
func IsKnownMetal(word string) bool { return slices.Contains(knownMetals, word) }

// holds reports whether the wait is longer. A metal that was not recorded, or by
// a word that nobody knows, counts as a slow one.
func (l Longer) holds(p PrepDone) bool {
	if len(l.Metals) > 0 && IsKnownMetal(p.Metal) && !slices.Contains(l.Metals, p.Metal) {
		return false
	}
	if l.BelowCelsius != nil && p.Celsius != nil && *p.Celsius >= *l.BelowCelsius {
		return false
	}
	return true
}
