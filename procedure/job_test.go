package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

func step(t testing.TB, b *bench, job, id string) *procedure.StepState {
	t.Helper()
	j, ok := b.build.Job(job)
	require.True(t, ok)
	s, ok := j.Step(id)
	require.True(t, ok)
	return s
}

func TestAWholeJob(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	j, _ := b.build.Job("crank")
	require.NotNil(t, j.Finished)
	b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleUnfinished)
	for _, bolt := range []string{"A", "B"} {
		r := pull(bolt, "13")
		r.Step = "recheck"
		require.True(t, judgement(t, b.do("ana", r)).Counts)
	}
	b.refused("ana", procedure.ReleaseBuild{}, procedure.RuleRank)
	b.do("fay", procedure.ReleaseBuild{})
	require.NotNil(t, b.build.Released)
}

func TestFactsAreRecordedAndSayWhyTheyDoNotCount(t *testing.T) {
	b := newBench(t)
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, crank())})
	early := b.do("ana", pull("A", "6.5"))
	require.Equal(t, procedure.RuleEarlierStep, judgement(t, early).Rule)

	b = newBench(t)
	b.toPinch()
	overdue := pull("A", "6.5")
	overdue.Tool = "overdue"
	require.Equal(t, procedure.RuleToolOverdue, judgement(t, b.do("ana", overdue)).Rule)
	unknown := pull("A", "6.5")
	unknown.Tool = "nowhere"
	require.Equal(t, procedure.RuleToolUnknown, judgement(t, b.do("ana", unknown)).Rule)
	require.Equal(t, procedure.RuleBoltOrder, judgement(t, b.do("ana", pull("B", "6.5"))).Rule)
	require.Equal(t, procedure.RulePassSetting, judgement(t, b.do("ana", pull("A", "13"))).Rule)
}

func TestOnlyTheClosingPassIsEvidence(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	for _, r := range []procedure.TakeReading{pull("A", "6.5"), pull("B", "6.5"), pull("A", "13"), pull("B", "13")} {
		b.do("ana", r)
	}
	b.refused("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, procedure.RuleUnfinished)
	b.do("ana", turned(pull("A", "13")))
	b.do("ana", pull("B", "13"))
	b.refused("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, procedure.RuleUnfinished)
	b.do("ana", pull("A", "13"))
	b.do("ana", pull("B", "13"))
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
}

func TestABoltThatTurnsAfterTheClosingPassOpensItAgain(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	require.True(t, judgement(t, b.do("ana", pull("B", "13"))).Counts, "a bolt that holds confirms")
	e := b.do("ana", turned(pull("A", "13")))
	require.Equal(t, procedure.RuleGroupDisturbed, judgement(t, e).Rule)
	require.Len(t, judgement(t, e).Voids, 2)
	require.False(t, step(t, b, "crank", "pinch").Done())
	b.do("ana", pull("A", "13"))
	b.do("ana", pull("B", "13"))
	require.True(t, step(t, b, "crank", "pinch").Done())
}

func TestThreeClosingRoundsThenRework(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	b.do("ana", turned(pull("A", "13")))
	for range 3 {
		b.do("ana", turned(pull("A", "13")))
		b.do("ana", pull("B", "13"))
	}
	require.NotEmpty(t, step(t, b, "crank", "pinch").Rework)
	require.Equal(t, procedure.RuleReworkFirst, judgement(t, b.do("ana", pull("A", "13"))).Rule)
}

func TestATouchedStepVoidsWhatLeanedOnIt(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
	e := b.do("ana", procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true})
	require.ElementsMatch(t, []procedure.ResultRef{
		{Job: "crank", Step: "preload", Item: "check.rock"}, {Job: "crank", Step: "preload", Item: "check.gap"},
		{Job: "crank", Step: "pinch", Item: "prep"}, {Job: "crank", Step: "pinch", Item: "bolt.A"}, {Job: "crank", Step: "pinch", Item: "bolt.B"},
	}, judgement(t, e).Voids, "transitive: the arm, then the preload, then the bolts")
	require.Nil(t, step(t, b, "crank", "pinch").Signed)
	b.refused("ana", procedure.FinishJob{Job: "crank"}, procedure.RuleUnfinished)
	b.do("ana", procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseMisTap, Reason: "r"})
	b.do("ana", procedure.FinishJob{Job: "crank"})
}

func TestACupUndoesAFinishedCrank(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, cups())})
	b.do("ana", procedure.TakeMeasure{Job: "cups", Step: "start", Check: "turns", Value: "3", Unit: "turns"})
	cup := procedure.TakeReading{Job: "cups", Step: "tighten", Bolt: "cup", Figure: newtonMeters("40"), Tool: "large"}
	require.Equal(t, procedure.RuleHoldUnsigned, judgement(t, b.do("ana", cup)).Rule)
	b.refused("ana", procedure.SignHold{Job: "cups", Step: "start", Saw: "n"}, procedure.RuleOwnWork)
	b.do("ben", procedure.SignHold{Job: "cups", Step: "start", Saw: "n"})
	require.Equal(t, procedure.RulePrepMissing, judgement(t, b.do("ana", cup)).Rule)
	b.do("ana", procedure.DoPrep{Job: "cups", Step: "tighten", Thread: procedure.ThreadlockerMedium, Metal: "steel", Celsius: ptr(20)})
	right := cup
	right.Tool = "large-right"
	require.Equal(t, procedure.RuleToolHand, judgement(t, b.do("ana", right)).Rule, "a left-hand cup needs a wrench calibrated left-hand")
	require.True(t, judgement(t, b.do("ana", cup)).Counts)
	b.do("ana", procedure.FinishJob{Job: "cups"})
	require.False(t, step(t, b, "crank", "pinch").Done(), "everything in the crank job leaned on the cup")
	b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleUnfinished)
}

func TestAWaitRunsWithItsConditions(t *testing.T) {
	tests := []struct {
		name    string
		metal   string
		celsius *int
		hours   int
	}{
		{"steel and warm", "steel", ptr(20), 3},
		{"stainless", "stainless", ptr(20), 6},
		{"cold", "steel", ptr(9), 6},
		{"stainless and cold do not multiply", "stainless", ptr(9), 6},
		{"not recorded counts as slow", "", nil, 6},
		{"a metal that nobody knows counts as slow", "cast iron", ptr(20), 6},
		{"nor is a word in capitals known", "Steel", ptr(20), 6},
		{"another known metal", "brass", ptr(20), 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, cups())})
			b.do("ana", procedure.TakeMeasure{Job: "cups", Step: "start", Check: "turns", Value: "4", Unit: "turns"})
			b.do("ben", procedure.SignHold{Job: "cups", Step: "start", Saw: "n"})
			start := b.now
			b.do("ana", procedure.DoPrep{Job: "cups", Step: "tighten", Thread: procedure.ThreadlockerMedium, Metal: tt.metal, Celsius: tt.celsius})
			b.do("ana", procedure.TakeReading{Job: "cups", Step: "tighten", Bolt: "cup", Figure: newtonMeters("40"), Tool: "large"})
			b.do("ana", procedure.FinishJob{Job: "cups"})
			b.now = start.Add(time.Duration(tt.hours)*time.Hour - time.Second)
			b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleWait)
			b.now = start.Add(time.Duration(tt.hours) * time.Hour)
			b.do("fay", procedure.ReleaseBuild{})
		})
	}
}

func TestOverTheLimitIsReworkedNeverPulledAgain(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	for _, r := range []procedure.TakeReading{pull("A", "6.5"), pull("B", "6.5")} {
		b.do("ana", r)
	}
	e := b.do("ana", pull("A", "16"))
	require.Equal(t, procedure.Nonconforming, judgement(t, e).Verdict)
	require.Equal(t, procedure.RuleReworkFirst, judgement(t, b.do("ana", pull("A", "13"))).Rule)
	b.do("ana", procedure.BeginRework{Job: "crank", Step: "pinch", Reason: "r"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	b.pinch()
}

func TestShortOfTheWindowIsTakenAgain(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.do("ana", pull("A", "6.5"))
	b.do("ana", pull("B", "6.5"))
	e := b.do("ana", pull("A", "10"))
	require.Equal(t, procedure.Nonconforming, judgement(t, e).Verdict)
	require.True(t, judgement(t, b.do("ana", pull("A", "13"))).Counts)
}

func TestUndecidedNeedsTheForeman(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.do("ana", pull("A", "6.5"))
	b.do("ana", pull("B", "6.5"))
	for _, r := range []procedure.TakeReading{pull("A", "13"), pull("B", "13"), pull("A", "13")} {
		b.do("ana", r)
	}
	e := b.do("ana", pull("B", "13.8"))
	require.Equal(t, procedure.Undecided, judgement(t, e).Verdict)
	b.refused("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, procedure.RuleUnfinished)
	b.refused("ben", procedure.AcceptResult{Job: "crank", Entry: e.ID, Reason: "r"}, procedure.RuleRank)
	b.do("fay", procedure.AcceptResult{Job: "crank", Entry: e.ID, Reason: "r"})
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
}

func TestWrongPrepDoesNotConform(t *testing.T) {
	b := newBench(t)
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, crank())})
	b.do("ana", procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true})
	e := b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Dry})
	require.Equal(t, procedure.Nonconforming, judgement(t, e).Verdict)
	require.False(t, judgement(t, e).Counts, "an earlier step is open as well")
}

func TestTheToolIsCorrectedWithItsVerdict(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	wrong := pull("A", "6.5")
	wrong.Tool = "overdue"
	e := b.do("ana", wrong)
	require.False(t, judgement(t, e).Counts)
	b.do("ana", pull("A", "6.5"))
	good := b.do("ana", pull("B", "6.5"))
	fixed := b.do("ana", procedure.CorrectTool{Entry: good.ID, Tool: "overdue", Reason: "r"})
	require.Equal(t, procedure.RuleToolOverdue, fixed.Payload.(procedure.ToolCorrected).Judgement.Rule)
	require.Nil(t, step(t, b, "crank", "pinch").Results["bolt.B"])
}

func TestASwappedPartKeepsWhatDoesNotTouchIt(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	s := sheet()
	s.Parts[1].Printed[0].Marking = "11-13 Nm"
	next, err := procedure.NewPlan(resolve(t, crank()), s, rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	e := b.do("ana", procedure.SwapPart{Job: "crank", Role: "crank-arm-left", Plan: next, Reason: "r"})
	voids := e.Payload.(procedure.PartSwapped).Voids
	require.Len(t, voids, 3, "prep and both bolts")
	require.True(t, step(t, b, "crank", "preload").Done(), "the preload step is worded the same")
	require.False(t, step(t, b, "crank", "pinch").Done())
}

func TestConflictOnlyWhereItMatters(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	seen := b.build.Seq
	c := b.call("ben")
	c.BasedOn = seen
	_, err := b.build.Decide(procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, c)
	require.NoError(t, err)
	b.do("ana", turned(pull("A", "13")))
	_, err = b.build.Decide(procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, c)
	var conflict *procedure.ConflictError
	require.ErrorAs(t, err, &conflict)
	require.Equal(t, seen+1, conflict.Changed)
}

func TestGuideNamesTheNextPull(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.do("ana", pull("A", "6.5"))
	g, err := b.build.Guide("crank", b.call("ana").Moment)
	require.NoError(t, err)
	require.Equal(t, "pinch", g.Current)
	require.Equal(t, 3, g.Done)
	require.Equal(t, 4, g.Total)
	last := g.Steps[3]
	require.Equal(t, procedure.StepNow, last.Status)
	require.Equal(t, "B", last.Bolt)
	require.Equal(t, 1, last.Pass)
}

func TestACorrectedToolMakesAReadingCount(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	wrong := pull("A", "6.5")
	wrong.Tool = "overdue"
	e := b.do("ana", wrong)
	require.False(t, judgement(t, e).Counts)
	fixed := b.do("ana", procedure.CorrectTool{Entry: e.ID, Tool: "small", Reason: "r"})
	require.True(t, fixed.Payload.(procedure.ToolCorrected).Judgement.Counts)
	require.Equal(t, "small", step(t, b, "crank", "pinch").Results["bolt.A"].Tool)
	require.True(t, judgement(t, b.do("ana", pull("B", "6.5"))).Counts, "bolt A is done in this pass")
}

func TestASpoiledJobIsDoneAgainAndThenTheBikeLeaves(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.do("ana", procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true})
	b.do("ana", procedure.BeginRework{Job: "crank", Step: "pinch", From: "fit-arm", Reason: "arm taken off again"})
	b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleUnfinished)
	b.do("ana", procedure.OpenJob{Job: "crank-again", Plan: plan(t, crank())})
	b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleJobOpen)
	again := func(c procedure.Command) { b.do("ana", inJob(c, "crank-again")) }
	again(procedure.TakeLook{Step: "fit-arm", Check: "opposite", OK: true})
	again(procedure.TakeLook{Step: "preload", Check: "rock", OK: true})
	again(procedure.TakeMeasure{Step: "preload", Check: "gap", Value: "1.5", Unit: "mm"})
	again(procedure.TakePhoto{Step: "plate", Check: "down", Picture: "p"})
	again(procedure.DoPrep{Step: "pinch", Thread: procedure.Grease})
	for _, f := range []string{"6.5", "13", "13"} {
		again(pull("A", f))
		again(pull("B", f))
	}
	b.do("ben", procedure.SignHold{Job: "crank-again", Step: "pinch", Saw: "n"})
	b.do("ana", procedure.FinishJob{Job: "crank-again"})
	for _, bolt := range []string{"A", "B"} {
		r := pull(bolt, "13")
		r.Step = "recheck"
		again(r)
	}
	b.do("fay", procedure.ReleaseBuild{})
}

// inJob puts a fact into another job.
func inJob(c procedure.Command, job string) procedure.Command {
	switch c := c.(type) {
	case procedure.TakeReading:
		c.Job = job
		return c
	case procedure.TakeMeasure:
		c.Job = job
		return c
	case procedure.TakeLook:
		c.Job = job
		return c
	case procedure.TakePhoto:
		c.Job = job
		return c
	case procedure.DoPrep:
		c.Job = job
		return c
	}
	return c
}
