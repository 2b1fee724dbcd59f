package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// corrected names the tool of a reading and returns what the rules say then.
func (b *bench) corrected(e procedure.Envelope, tool string) procedure.Judgement {
	b.t.Helper()
	c := b.do("fay", procedure.CorrectTool{Entry: e.ID, Tool: tool, Reason: "r"})
	return c.Payload.(procedure.ToolCorrected).Judgement
}

// toLastPull works up to the last closing reading, that of bolt B.
func (b *bench) toLastPull() {
	for _, r := range []procedure.TakeReading{pull("A", "6.5"), pull("B", "6.5"), pull("A", "13"), pull("B", "13"), pull("A", "13")} {
		require.True(b.t, judgement(b.t, b.do("ana", r)).Counts)
	}
}

func with(tool string, r procedure.TakeReading) procedure.TakeReading {
	r.Tool = tool
	return r
}

func TestACorrectedToolTakesTheReleaseBack(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.recheck()
	b.do("fay", procedure.ReleaseBuild{})
	b.corrected(step(t, b, "crank", "pinch").Results["bolt.A"].Entry, "overdue")
	require.Nil(t, b.build.Released)
	b.refused("fay", procedure.ReleaseBuild{}, procedure.RuleUnfinished)
}

func TestAToolIsCorrectedThereAndBack(t *testing.T) {
	b := newBench(t)
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, cups())})
	b.do("ana", procedure.TakeMeasure{Job: "cups", Step: "start", Check: "turns", Value: "4", Unit: "turns"})
	b.do("ben", procedure.SignHold{Job: "cups", Step: "start", Saw: "n"})
	b.do("ana", procedure.DoPrep{Job: "cups", Step: "tighten", Thread: procedure.ThreadlockerMedium})
	e := b.do("ana", procedure.TakeReading{Job: "cups", Step: "tighten", Bolt: "cup", Figure: newtonMeters("40"), Tool: "large"})
	require.False(t, b.corrected(e.Envelope, "large-right").Counts)
	require.False(t, step(t, b, "cups", "tighten").Done())
	require.False(t, b.corrected(e.Envelope, "small").Counts, "out of its range")
	require.True(t, b.corrected(e.Envelope, "large").Counts)
	require.True(t, step(t, b, "cups", "tighten").Done(), "what the record says counts does count")
	require.Equal(t, "large", step(t, b, "cups", "tighten").Results["bolt.cup"].Tool)
}

func TestAReworkThatTheToolExplainedIsNotAskedForAnyMore(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.toLastPull()
	e := b.do("ana", pull("B", "14.4"))
	require.Equal(t, procedure.Undecided, judgement(t, e).Verdict)
	require.Equal(t, procedure.Nonconforming, b.corrected(e.Envelope, "fine").Verdict, "a fine tool can tell")
	require.Equal(t, e.ID, step(t, b, "crank", "pinch").Rework)
	require.Equal(t, procedure.Undecided, b.corrected(e.Envelope, "small").Verdict)
	require.Empty(t, step(t, b, "crank", "pinch").Rework)
	require.False(t, step(t, b, "crank", "pinch").Done(), "the foreman has not spoken")
}

func TestAPullIsNotCountedAfterTheStepWentOn(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.toLastPull()
	e := b.do("ana", with("overdue", pull("B", "13")))
	b.do("ana", procedure.BeginRework{Job: "crank", Step: "pinch", Reason: "r"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	b.toLastPull()
	jd := b.corrected(e.Envelope, "small")
	require.Equal(t, procedure.RuleOvertaken, jd.Rule, "the bolt was out since that pull")
	require.False(t, step(t, b, "crank", "pinch").Done())
}

func TestAWholeRoundLoggedWithTheWrongToolIsCorrected(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	first := b.do("ana", with("overdue", pull("A", "6.5")))
	second := b.do("ana", with("overdue", pull("B", "6.5")))
	require.True(t, b.corrected(first.Envelope, "small").Counts)
	require.True(t, b.corrected(second.Envelope, "small").Counts)
	require.Equal(t, 1, step(t, b, "crank", "pinch").Group.Pass)
}

// moved is a pull that was made then and recorded on another bike first.
func moved(r procedure.TakeReading, then procedure.Moment) procedure.TakeReading {
	r.From, r.Happened = &procedure.MovedFrom{Build: "b-2", Entry: "e"}, &then
	return r
}

func TestAMovedReadingIsJudgedByItsOwnTime(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	then := b.call("ana").Moment
	b.now = b.now.Add(time.Hour)
	require.True(t, judgement(t, b.do("ana", moved(pull("A", "6.5"), then))).Counts, "nothing happened since")
	b.do("ana", procedure.BeginRework{Job: "crank", Step: "pinch", Reason: "r"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	require.Equal(t, procedure.RuleOvertaken, judgement(t, b.do("ana", moved(pull("A", "6.5"), then))).Rule)
	future := b.call("ana").Moment
	future.ServerUS += int64(1e15)
	require.True(t, judgement(t, b.do("ana", moved(pull("A", "6.5"), future))).Counts, "a time to come is taken as now")
}

func TestAMovedReadingHasNotWaited(t *testing.T) {
	b := newBench(t)
	d := waiting()
	d.Steps[1].Waits[0].Before = "pinch"
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, d)})
	b.do("ana", lookAtArm())
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "preload", Face: procedure.Grease})
	b.do("ana", procedure.TakeLook{Job: "crank", Step: "preload", Check: "rock", OK: true})
	b.do("ana", procedure.TakeMeasure{Job: "crank", Step: "preload", Check: "gap", Value: "1.5", Unit: "mm"})
	b.do("ana", procedure.TakePhoto{Job: "crank", Step: "plate", Check: "down", Picture: "p"})
	then := b.call("ana").Moment
	b.now = b.now.Add(4 * time.Hour)
	require.Equal(t, procedure.RuleWait, judgement(t, b.do("ana", moved(pull("A", "6.5"), then))).Rule)
}

func TestABoltThatTurnsInAPullThatDoesNotCountSpoilsTheRound(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.toLastPull()
	require.Equal(t, procedure.RuleToolOverdue, judgement(t, b.do("ana", turned(with("overdue", pull("B", "13"))))).Rule)
	b.do("ana", pull("B", "13"))
	require.False(t, step(t, b, "crank", "pinch").Done(), "bolt A was pulled before bolt B turned")
	b.do("ana", turned(pull("A", "11")))
	b.do("ana", pull("A", "13"))
	b.do("ana", pull("B", "13"))
	require.False(t, step(t, b, "crank", "pinch").Done(), "bolt A turned short of its window in this round")
	b.do("ana", pull("A", "13"))
	b.do("ana", pull("B", "13"))
	require.True(t, step(t, b, "crank", "pinch").Done())
}
