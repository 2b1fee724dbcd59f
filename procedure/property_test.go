package procedure_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"pgregory.net/rapid"
)

// TestNoSequenceFinishesABadJob plays random commands by random people. What
// the state machine calls finished is checked against a reading of the bare
// entries that shares no code with it.
func TestNoSequenceFinishesABadJob(t *testing.T) {
	finished, released := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		b := newBench(t)
		b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, crank())})
		b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, cups())})
		for range rapid.IntRange(20, 120).Draw(rt, "steps") {
			person := rapid.SampledFrom([]string{"ana", "ben", "ana", "fay"}).Draw(rt, "person")
			before := b.build.Seq
			e, err := b.try(person, draw(rt, b))
			if err != nil {
				require.Equal(rt, before, b.build.Seq, "a refusal records nothing")
				continue
			}
			if _, ok := e.Payload.(procedure.JobFinished); ok {
				finished++
				assertSound(rt, b.build, e.Job, procedure.BeforeFinish)
			}
			if _, ok := e.Payload.(procedure.BuildReleased); ok {
				released++
				assertReleasable(rt, b.build)
			}
			if b.build.Released != nil {
				assertReleasable(rt, b.build)
			}
			b.now = b.now.Add(time.Duration(rapid.SampledFrom([]int{0, 1, 20, 90, 400}).Draw(rt, "minutes")) * time.Minute)
		}
		again, err := procedure.Fold("b-1", b.build.Entries(), b.planSource)
		require.NoError(rt, err)
		require.Equal(rt, states(b.build), states(again), "the fold of the record is the state")
	})
	require.Positive(t, finished, "the generator must reach the end of a job")
	t.Logf("%d jobs finished, %d bikes released", finished, released)
}

// states is the visible state of all steps.
func states(b *procedure.Build) []string {
	var out []string
	for _, j := range b.Jobs {
		for _, s := range j.Steps {
			out = append(out, fmt.Sprintf("%s/%s done=%v complete=%v missing=%v rework=%q group=%+v",
				j.ID, s.Planned.ID, s.Done(), s.Complete(), s.Missing(), s.Rework, s.Group))
		}
	}
	return out
}

// draw picks a command: mostly the next useful one, sometimes anything.
func draw(rt *rapid.T, b *bench) procedure.Command {
	if rapid.IntRange(0, 9).Draw(rt, "stray") < 8 {
		if c := useful(rt, b); c != nil {
			return c
		}
	}
	return stray(rt, b)
}

func useful(rt *rapid.T, b *bench) procedure.Command {
	j := anyJob(rt, b)
	g, err := b.build.Guide(j.ID, b.call("ana").Moment)
	require.NoError(rt, err)
	holds := j.Finished != nil && g.Done == g.Total
	switch {
	case j.Closed() && g.Current == "" && (holds || b.build.Superseded(j)):
		return procedure.ReleaseBuild{}
	case j.Closed() && g.Current == "":
		return procedure.OpenJob{Job: fmt.Sprintf("job-%d", len(b.build.Jobs)), Plan: j.Plan}
	}
	if g.Current == "" {
		return procedure.FinishJob{Job: j.ID}
	}
	i := slices.IndexFunc(g.Steps, func(s procedure.GuideStep) bool { return s.ID == g.Current })
	gs := g.Steps[i]
	switch {
	case gs.Status == procedure.StepRework:
		return procedure.BeginRework{Job: j.ID, Step: gs.ID, Reason: "r"}
	case gs.Status == procedure.StepToSign:
		return procedure.SignHold{Job: j.ID, Step: gs.ID, Saw: "n"}
	case len(gs.Missing) == 0:
		return nil
	}
	return fact(rt, j, gs.ID, gs.Missing[0], gs)
}

func fact(rt *rapid.T, j *procedure.Job, step, item string, gs procedure.GuideStep) procedure.Command {
	switch item {
	case "check.opposite", "check.rock":
		return procedure.TakeLook{Job: j.ID, Step: step, Check: item[6:], OK: rapid.IntRange(0, 9).Draw(rt, "ok") > 0}
	case "check.gap":
		return procedure.TakeMeasure{Job: j.ID, Step: step, Check: "gap", Unit: "mm",
			Value: rapid.SampledFrom([]string{"1.5", "1.5", "1.04", "0.5", "1.9"}).Draw(rt, "gap")}
	case "check.turns":
		return procedure.TakeMeasure{Job: j.ID, Step: step, Check: "turns", Unit: "turns",
			Value: rapid.SampledFrom([]string{"3", "4", "2"}).Draw(rt, "turns")}
	case "check.down":
		return procedure.TakePhoto{Job: j.ID, Step: step, Check: "down", Picture: "p"}
	case "prep":
		prep := map[string]procedure.Prep{"crank": procedure.Grease, "cups": procedure.ThreadlockerMedium}[j.Plan.Procedure]
		return procedure.DoPrep{Job: j.ID, Step: step, Thread: rapid.SampledFrom([]procedure.Prep{prep, prep, prep, procedure.Dry}).Draw(rt, "prep")}
	}
	r := procedure.TakeReading{Job: j.ID, Step: step, Bolt: gs.Bolt, Tool: rapid.SampledFrom([]string{"small", "small", "small", "overdue"}).Draw(rt, "tool"),
		Turned: rapid.IntRange(0, 3).Draw(rt, "turned") == 0}
	if r.Bolt == "" {
		r.Bolt = item[5:]
	}
	if j.Plan.Procedure == "cups" {
		r.Tool = rapid.SampledFrom([]string{"large", "large", "large-right"}).Draw(rt, "tool")
		r.Figure = newtonMeters(rapid.SampledFrom([]string{"40", "40", "44.5", "60", "20"}).Draw(rt, "cup"))
		return r
	}
	full := []string{"13", "13", "13", "13", "13", "13.9", "16", "11"}
	if gs.Pass == 1 && step == "pinch" {
		full = []string{"6.5"}
	}
	r.Figure = newtonMeters(rapid.SampledFrom(full).Draw(rt, "figure"))
	return r
}

// stray picks any command on anything.
func stray(rt *rapid.T, b *bench) procedure.Command {
	job := anyJob(rt, b)
	if rapid.IntRange(0, 9).Draw(rt, "rare") == 0 {
		return rare(rt, b, job)
	}
	return anyOf(rt, b, job)
}

// rare are commands that take a job off its way.
func rare(rt *rapid.T, b *bench, j *procedure.Job) procedure.Command {
	s := sheet()
	s.Parts[1].Printed[0].Marking = rapid.SampledFrom([]string{"12-14 Nm", "11-13.5 Nm"}).Draw(rt, "arm")
	d := map[string]procedure.Definition{"crank": crank(), "cups": cups()}[j.Plan.Procedure]
	p, err := procedure.NewPlan(resolve(rt, d), s, rack(), monday, procedure.Policy{})
	require.NoError(rt, err)
	return []procedure.Command{
		procedure.OpenJob{Job: fmt.Sprintf("job-%d", len(b.build.Jobs)), Plan: p},
		procedure.AbandonJob{Job: j.ID, Reason: "r"},
		procedure.SwapPart{Job: j.ID, Role: "crank-arm-left", Plan: p, Reason: "r"},
	}[rapid.IntRange(0, 2).Draw(rt, "command")]
}

func anyJob(rt *rapid.T, b *bench) *procedure.Job {
	return b.build.Jobs[rapid.IntRange(0, len(b.build.Jobs)-1).Draw(rt, "job")]
}

func anyOf(rt *rapid.T, b *bench, j *procedure.Job) procedure.Command {
	bolt := rapid.SampledFrom([]string{"A", "B"}).Draw(rt, "bolt")
	was := b.build.Entries()[rapid.IntRange(0, len(b.build.Entries())-1).Draw(rt, "entry")]
	then := was.Moment
	step := j.Steps[rapid.IntRange(0, len(j.Steps)-1).Draw(rt, "step")].Planned.ID
	reading := procedure.TakeReading{Job: j.ID, Step: rapid.SampledFrom([]string{"pinch", "recheck"}).Draw(rt, "pulled"), Bolt: bolt,
		Tool:   rapid.SampledFrom([]string{"small", "overdue", "none"}).Draw(rt, "tool"),
		Figure: newtonMeters(rapid.SampledFrom([]string{"6.5", "13", "15"}).Draw(rt, "nm")), Turned: rapid.Bool().Draw(rt, "moved")}
	late := reading
	late.Happened = &then
	all := []procedure.Command{
		reading, late,
		procedure.TakeLook{Job: j.ID, Step: "fit-arm", Check: "opposite", OK: true},
		procedure.TakeLook{Job: j.ID, Step: "preload", Check: "rock", OK: true},
		procedure.TakeMeasure{Job: j.ID, Step: "start", Check: "turns", Value: "3", Unit: "turns"},
		procedure.DoPrep{Job: j.ID, Step: "pinch", Thread: procedure.Grease},
		procedure.DoPrep{Job: j.ID, Step: "tighten", Thread: procedure.ThreadlockerMedium},
		procedure.SignHold{Job: j.ID, Step: step, Saw: "n"},
		procedure.BeginRework{Job: j.ID, Step: step, From: rapid.SampledFrom([]string{"", "preload", "fit-arm", "start"}).Draw(rt, "from"), Reason: "r"},
		procedure.WithdrawEntry{Entry: was.ID, Cause: procedure.CauseMisTap, Reason: "r"},
		procedure.CorrectTool{Entry: was.ID, Tool: rapid.SampledFrom([]string{"small", "overdue", "large", "fine"}).Draw(rt, "other"), Reason: "r"},
		procedure.AcceptResult{Job: j.ID, Entry: was.ID, Reason: "r"},
		procedure.FinishJob{Job: j.ID},
		procedure.ReleaseBuild{},
	}
	return all[rapid.IntRange(0, len(all)-1).Draw(rt, "command")]
}

// FuzzRecord lets the fuzzer choose the commands of the property test.
func FuzzRecord(f *testing.F) {
	f.Fuzz(rapid.MakeFuzz(func(rt *rapid.T) {
		b := newBench(rt)
		b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(rt, crank())})
		b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(rt, cups())})
		for range rapid.IntRange(0, 40).Draw(rt, "steps") {
			e, err := b.try(rapid.SampledFrom([]string{"ana", "ben", "fay"}).Draw(rt, "person"), draw(rt, b))
			if _, ok := e.Payload.(procedure.JobFinished); ok && err == nil {
				assertSound(rt, b.build, e.Job, procedure.BeforeFinish)
			}
		}
	}))
}
