package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// recheck takes what comes after the test ride.
func (b *bench) recheck() {
	for _, bolt := range []string{"A", "B"} {
		r := pull(bolt, "13")
		r.Step = "recheck"
		require.True(b.t, judgement(b.t, b.do("ana", r)).Counts)
	}
}

func TestASecondJobSpoilsTheFirstThoughItIsAbandoned(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.recheck()
	b.do("ana", procedure.OpenJob{Job: "again", Plan: plan(t, crank())})
	again := func(c procedure.Command) { b.do("ana", inJob(c, "again")) }
	again(procedure.TakeLook{Step: "fit-arm", Check: "opposite", OK: true})
	again(procedure.TakeLook{Step: "preload", Check: "rock", OK: true})
	again(procedure.TakeMeasure{Step: "preload", Check: "gap", Value: "1.5", Unit: "mm"})
	again(procedure.TakePhoto{Step: "plate", Check: "down", Picture: "p"})
	again(procedure.DoPrep{Step: "pinch", Thread: procedure.Grease})
	again(pull("A", "6.5"))
	b.do("ana", procedure.AbandonJob{Job: "again", Reason: "r"})
	require.False(t, step(t, b, "crank", "pinch").Done(), "the same two bolts, one of them at half its torque")
	b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleUnfinished)
}

func TestASecondJobThatTouchedNothingLeavesTheFirst(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.recheck()
	b.do("ana", procedure.OpenJob{Job: "again", Plan: plan(t, crank())})
	b.do("ana", procedure.AbandonJob{Job: "again", Reason: "opened by mistake"})
	b.do("fay", procedure.ReleaseBuild{})
}

func TestAReworkInTheOlderJobSpoilsTheNewer(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.do("ana", procedure.OpenJob{Job: "again", Plan: plan(t, crank())})
	b.do("ana", inJob(procedure.TakeLook{Step: "fit-arm", Check: "opposite", OK: true}, "again"))
	e := b.do("ana", procedure.BeginRework{Job: "crank", Step: "fit-arm", Reason: "r"})
	require.Contains(t, procedure.VoidsOf(e.Payload), procedure.ResultRef{Job: "again", Step: "fit-arm", Item: "check.opposite"})
	require.False(t, step(t, b, "again", "fit-arm").Done())
}

func TestNewPrepTakesTheBoltsFromTheFirstPass(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	require.Zero(t, step(t, b, "crank", "pinch").Group.Pass, "the bolts were out")
	require.Equal(t, procedure.RulePassSetting, judgement(t, b.do("ana", pull("A", "13"))).Rule)
	b.pinch()
}

func TestAFactThatDoesNotCountSpoilsAllTheSame(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	e := b.do("ana", lookAtArm())
	require.Equal(t, procedure.RuleJobClosed, judgement(t, e).Rule)
	require.NotEmpty(t, judgement(t, e).Voids)
	require.False(t, step(t, b, "crank", "pinch").Done(), "the arm was fitted again after its bolts were tight")
}

// waiting is the crank job with a wait of three hours between the prep of a
// seat and the plate, which the void map does not tie together.
func waiting() procedure.Definition {
	d := crank()
	d.Steps[1].Prep = &procedure.PrepRule{Face: []procedure.PrepChoice{{Use: procedure.Grease, Why: "it creaks"}}}
	d.Steps[1].Waits = []procedure.Wait{{For: procedure.Duration(3 * time.Hour), Before: "plate", Why: "it dries", Source: source()}}
	return d
}

func TestAStepThatAWaitHoldsBackIsDoneAgainWhenTheWaitBeginsAnew(t *testing.T) {
	b := newBench(t)
	prep := procedure.DoPrep{Job: "crank", Step: "preload", Face: procedure.Grease}
	plate := procedure.TakePhoto{Job: "crank", Step: "plate", Check: "down", Picture: "p"}
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, waiting())})
	b.do("ana", lookAtArm())
	b.do("ana", prep)
	b.do("ana", procedure.TakeLook{Job: "crank", Step: "preload", Check: "rock", OK: true})
	b.do("ana", procedure.TakeMeasure{Job: "crank", Step: "preload", Check: "gap", Value: "1.5", Unit: "mm"})
	require.Equal(t, procedure.RuleWait, judgement(t, b.do("ana", plate)).Rule)
	b.now = b.now.Add(3 * time.Hour)
	require.True(t, judgement(t, b.do("ana", plate)).Counts)
	b.do("ana", prep)
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	b.pinch()
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
	b.refused("ana", procedure.FinishJob{Job: "crank"}, procedure.RuleWait)
	b.now = b.now.Add(3 * time.Hour)
	require.True(t, judgement(t, b.do("ana", plate)).Counts)
	b.do("ana", procedure.FinishJob{Job: "crank"})
}

func TestTheGuideSendsNobodyBackIntoAFinishedJob(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	current := func() string {
		g, err := b.build.Guide("crank", b.call("ana").Moment)
		require.NoError(t, err)
		return g.Current
	}
	require.Equal(t, "recheck", current())
	b.do("ana", lookAtArm())
	require.Empty(t, current(), "nothing counts in it any more")
}
