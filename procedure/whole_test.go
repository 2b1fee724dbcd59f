package procedure_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"pgregory.net/rapid"
)

// job is a small procedure of so many steps, for a whole that is easy to see
// through.
func job(id string, minutes, steps int, after ...string) *procedure.Resolved {
	r := &procedure.Resolved{Definition: procedure.Definition{ID: id, Title: id, Minutes: minutes, LeastMinutes: 1,
		After: after, Roles: []string{"frame"}, Risk: procedure.RiskOther}}
	for i := range steps {
		r.Steps = append(r.Steps, procedure.Step{ID: string(rune('a' + i)), Title: "step", Tools: []string{"lamp"}})
	}
	return r
}

// curing puts a wait on a step of it.
func curing(r *procedure.Resolved, step int, hours int, before string) *procedure.Resolved {
	r.Steps[step].Waits = []procedure.Wait{{For: procedure.Duration(time.Duration(hours) * time.Hour), Before: before, Why: "It cures."}}
	return r
}

var bareFrame = &procedure.Sheet{Build: "b", Parts: []procedure.Part{{Role: "frame", Material: "steel"}}}

func whole(t require.TestingT, sheet *procedure.Sheet, jobs ...*procedure.Resolved) *procedure.Whole {
	w, err := procedure.NewWhole(jobs, sheet, nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return w
}

func order(w *procedure.Whole) []string {
	var out []string
	for _, j := range w.Jobs {
		out = append(out, j.Plan.Procedure)
	}
	return out
}

func TestWholeOrder(t *testing.T) {
	notHere := job("rotor", 5, 1, "wheel")
	notHere.Roles = []string{"rotor-front"}
	other := job("taper", 5, 1)
	other.When = procedure.Condition{"frame.material": {"carbon"}}
	w := whole(t, bareFrame, job("ride", 5, 1, "lube"), job("lube", 5, 1, "rotor"), notHere, job("wheel", 5, 1, "open"), job("open", 5, 1), other)
	require.Equal(t, []string{"open", "wheel", "lube", "ride"}, order(w), "what came before a job that is left out still does")
	require.Len(t, w.LeftOut, 2)
	require.Equal(t, "the sheet lists no front rotor", w.LeftOut[0].Reason)
	require.Contains(t, w.LeftOut[1].Reason, "carbon")
	require.Equal(t, 20, w.Minutes)
	require.Equal(t, []string{"lamp"}, w.Tools)
}

// The bench is not idle while something cures, as long as there is other work.
func TestWholeFillsWaits(t *testing.T) {
	w := whole(t, bareFrame,
		curing(job("a-first", 10, 2), 0, 1, "b"),
		job("b-short", 30, 1), job("c-long", 40, 1))
	var did []string
	for _, s := range w.Day {
		did = append(did, s.Procedure)
	}
	require.Equal(t, []string{"a-first", "b-short", "c-long", "a-first"}, did)
	require.Equal(t, procedure.Duration(80*time.Minute), w.Elapsed, "5 + 30 + 40 + 5 minutes, none of them idle")

	alone := whole(t, bareFrame, curing(job("a-first", 10, 2), 0, 1, "b"))
	require.Len(t, alone.Day, 3)
	require.Empty(t, alone.Day[1].Procedure)
	require.Equal(t, "a-first: It cures.", alone.Day[1].Why)
	require.Equal(t, procedure.Duration(70*time.Minute), alone.Elapsed)
}

func TestWholeWaitsForTheRelease(t *testing.T) {
	w := whole(t, bareFrame, curing(job("a", 10, 1), 0, 24, procedure.BeforeReleasing), job("b", 20, 1, "a"))
	require.Equal(t, procedure.Duration(30*time.Minute), w.Elapsed)
	require.Equal(t, procedure.Duration(24*time.Hour+10*time.Minute), w.Release)
}

// A wait counts only with the prep it is for.
func TestWholeWaitWithAnotherPrep(t *testing.T) {
	r := curing(job("a", 10, 2), 0, 1, "b")
	r.Steps[0].Waits[0].With = []procedure.Prep{procedure.ThreadlockerMedium}
	require.Len(t, whole(t, bareFrame, r).Day, 1)
	r.Steps[0].Prep = &procedure.PrepRule{Thread: []procedure.PrepChoice{{Use: procedure.ThreadlockerMedium, Why: "locks"}}}
	require.Len(t, whole(t, bareFrame, r).Day, 3)
}

// Whatever the procedures and their order: every one is planned once, after
// those that come first; every step is worked once and in order; no two
// stretches overlap; the minutes at the bench are those of the procedures.
func TestWholeHoldsWhateverTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "jobs")
		var jobs []*procedure.Resolved
		for i := range n {
			var after []string
			for k := range i {
				if rapid.Bool().Draw(t, "after") {
					after = append(after, jobs[k].ID)
				}
			}
			steps := rapid.IntRange(1, 4).Draw(t, "steps")
			r := job(string(rune('z'-i)), rapid.IntRange(1, 60).Draw(t, "minutes"), steps, after...)
			if steps > 1 && rapid.Bool().Draw(t, "wait") {
				at := rapid.IntRange(0, steps-2).Draw(t, "at")
				curing(r, at, rapid.IntRange(1, 5).Draw(t, "hours"), r.Steps[rapid.IntRange(at+1, steps-1).Draw(t, "before")].ID)
			}
			jobs = append(jobs, r)
		}
		shuffled := rapid.Permutation(jobs).Draw(t, "given")
		w := whole(t, bareFrame, shuffled...)
		require.Equal(t, order(whole(t, bareFrame, jobs...)), order(w), "the order in which they are given does not matter")
		require.Len(t, w.Jobs, n)
		worked := map[string]int{}
		var now, bench time.Duration
		for _, s := range w.Day {
			require.Equal(t, procedure.Duration(now), s.Start)
			now += time.Duration(s.For)
			if s.Procedure == "" {
				require.NotEmpty(t, s.Why)
				continue
			}
			bench += time.Duration(s.For)
			j, _ := w.Job(s.Procedure)
			require.Equal(t, worked[s.Procedure]+1, s.First)
			if s.First == 1 {
				for _, before := range j.After {
					require.Equal(t, len(jobs[slices.IndexFunc(jobs, func(r *procedure.Resolved) bool { return r.ID == before })].Steps), worked[before])
				}
			}
			worked[s.Procedure] = s.Last
		}
		for _, r := range jobs {
			require.Equal(t, len(r.Steps), worked[r.ID])
		}
		require.Equal(t, time.Duration(w.Minutes)*time.Minute, bench)
		require.Equal(t, procedure.Duration(now), w.Elapsed)
	})
}
