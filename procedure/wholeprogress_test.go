package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// bothJobs is the whole of cups and crank on a bike, planned with a rack.
func bothJobs(t testing.TB, s *procedure.Sheet, tools []procedure.Tool) *procedure.Whole {
	t.Helper()
	first := crank()
	first.After = []string{"cups"}
	w, err := procedure.NewWhole([]*procedure.Resolved{resolve(t, first), resolve(t, cups())}, s, tools, monday, procedure.Policy{})
	require.NoError(t, err)
	require.Equal(t, []string{"cups", "crank"}, order(w))
	return w
}

// finishCups works the whole cups job, as far as it can be done in a day.
func (b *bench) finishCups() {
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(b.t, cups())})
	b.do("ana", procedure.TakeMeasure{Job: "cups", Step: "start", Check: "turns", Value: "3", Unit: "turns"})
	b.do("ben", procedure.SignHold{Job: "cups", Step: "start", Saw: "n"})
	b.cup()
	b.do("ana", procedure.FinishJob{Job: "cups"})
}

// cup tightens the cup with its compound.
func (b *bench) cup() {
	b.do("ana", procedure.DoPrep{Job: "cups", Step: "tighten", Thread: procedure.ThreadlockerMedium, Metal: "steel", Celsius: ptr(20)})
	b.do("ana", procedure.TakeReading{Job: "cups", Step: "tighten", Bolt: "cup", Figure: newtonMeters("40"), Tool: "large"})
}

func TestProgress(t *testing.T) {
	none := procedure.JobProgress{Procedure: "cups"}
	cupsKept := procedure.JobProgress{Procedure: "cups", State: procedure.Kept, Job: "cups"}
	crankKept := procedure.JobProgress{Procedure: "crank", State: procedure.Kept, Job: "crank", Open: []string{"recheck"}}
	for _, tt := range []struct {
		name  string
		work  func(b *bench)
		sheet *procedure.Sheet
		want  []procedure.JobProgress
	}{
		{"nothing was done", func(*bench) {}, sheet(), []procedure.JobProgress{none, {Procedure: "crank"}}},
		{"a job is open", (*bench).toPinch, sheet(), []procedure.JobProgress{none,
			{Procedure: "crank", State: procedure.UnderWay, Job: "crank", Open: []string{"pinch", "recheck"}}}},
		{"all was done, but for the pull after the ride", func(b *bench) { b.finishCups(); b.finishCrank() }, sheet(),
			[]procedure.JobProgress{cupsKept, crankKept}},
		{"a later job spoiled an earlier one", func(b *bench) { b.finishCrank(); b.finishCups() }, sheet(),
			[]procedure.JobProgress{cupsKept, {Procedure: "crank", State: procedure.ToRepeat, Job: "crank",
				Open: []string{"fit-arm", "preload", "plate", "pinch", "recheck"}}}},
		{"a part with another limit came on", func(b *bench) { b.finishCups(); b.finishCrank() }, otherArm(),
			[]procedure.JobProgress{cupsKept, {Procedure: "crank", State: procedure.ToRepeat, Job: "crank", Open: []string{"pinch", "recheck"}}}},
		{"one result was touched", func(b *bench) {
			b.finishCups()
			b.finishCrank()
			b.do("ana", procedure.TakePhoto{Job: "crank", Step: "plate", Check: "down", Picture: "p2"})
		}, sheet(), []procedure.JobProgress{cupsKept, crankKept}},
		{"a job was given up", func(b *bench) {
			b.finishCups()
			b.toPinch()
			b.do("ana", procedure.AbandonJob{Job: "crank", Reason: "r"})
		}, sheet(), []procedure.JobProgress{cupsKept, {Procedure: "crank"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			tt.work(b)
			require.Equal(t, tt.want, bothJobs(t, tt.sheet, rack()).Progress(b.build))
		})
	}
}

// A bike that comes back gets a new job of the same procedure, which answers
// from then on; given up, the old one answers again.
func TestProgressGoesByTheNewestJob(t *testing.T) {
	b := newBench(t)
	b.finishCups()
	b.finishCrank()
	w := bothJobs(t, sheet(), rack())
	again := crank()
	b.do("ana", procedure.OpenJob{Job: "service", Plan: plan(t, again)})
	p := w.Progress(b.build)[1]
	require.Equal(t, procedure.UnderWay, p.State)
	require.Equal(t, "service", p.Job)
	require.Equal(t, []string{"fit-arm", "preload", "plate", "pinch", "recheck"}, p.Open)
	b.do("ana", procedure.AbandonJob{Job: "service", Reason: "the rider came early"})
	p = w.Progress(b.build)[1]
	require.Equal(t, procedure.Kept, p.State)
	require.Equal(t, "crank", p.Job)
}

// What a fact spoiled is kept again once the fact is taken back.
func TestProgressAfterAWithdrawal(t *testing.T) {
	b := newBench(t)
	b.finishCups()
	b.finishCrank()
	w := bothJobs(t, sheet(), rack())
	e := b.do("ana", procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true})
	require.Equal(t, procedure.ToRepeat, w.Progress(b.build)[1].State)
	require.Equal(t, []string{"preload", "pinch", "recheck"}, w.Progress(b.build)[1].Open)
	b.do("ana", procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseMisTap, Reason: "r"})
	require.Equal(t, procedure.Kept, w.Progress(b.build)[1].State)
}

// Planned on another day and with other wrenches, what was done still holds:
// it was judged by the window, and that is the same.
func TestProgressDoesNotAskForTheSameWrench(t *testing.T) {
	b := newBench(t)
	b.finishCups()
	b.finishCrank()
	for _, tools := range [][]procedure.Tool{rack()[:2], rack()[3:], nil} {
		w := bothJobs(t, sheet(), tools)
		w.At = monday.Add(100 * 24 * time.Hour)
		for _, p := range w.Progress(b.build) {
			require.Equal(t, procedure.Kept, p.State, p.Procedure)
		}
	}
}

// A job whose part another job swapped has what touched the part to repeat, and
// keeps the rest.
func TestProgressAfterASwapInAnotherJob(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, armsToo())})
	b.do("ana", procedure.SwapPart{Job: "cups", Role: "crank-arm-left", Plan: planFor(t, armsToo(), otherArm()), Reason: "cracked"})
	p := bothJobs(t, otherArm(), rack()).Progress(b.build)[1]
	require.Equal(t, procedure.ToRepeat, p.State)
	require.Equal(t, []string{"pinch", "recheck"}, p.Open)
}

func TestJobStateText(t *testing.T) {
	for s := procedure.NotBegun; s <= procedure.Kept; s++ {
		text, err := s.MarshalText()
		require.NoError(t, err)
		require.Equal(t, s.String(), string(text))
		var back procedure.JobState
		require.NoError(t, back.UnmarshalText(text))
		require.Equal(t, s, back)
	}
	var s procedure.JobState
	require.Error(t, s.UnmarshalText([]byte("lost")))
}
