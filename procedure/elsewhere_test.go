package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// A cup set in compound keeps the bike from its ride, which is another job.
func curingCups() procedure.Definition {
	d := cups()
	d.Steps[1].Waits[0].Before = "crank/fit-arm"
	return d
}

func (b *bench) curing(metal string, celsius int) {
	b.t.Helper()
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(b.t, curingCups())})
	b.do("ana", procedure.TakeMeasure{Job: "cups", Step: "start", Check: "turns", Value: "4", Unit: "turns"})
	b.do("ben", procedure.SignHold{Job: "cups", Step: "start", Saw: "four turns"})
	b.do("ana", procedure.DoPrep{Job: "cups", Step: "tighten", Thread: procedure.ThreadlockerMedium, Metal: metal, Celsius: &celsius})
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(b.t, crank())})
}

func (b *bench) tryArm() procedure.Judgement {
	return judgement(b.t, b.do("ana", procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true}))
}

func TestWaitHoldsBackAStepOfAnotherJob(t *testing.T) {
	b := newBench(t)
	b.curing("steel", 20)
	g, err := b.build.Guide("crank", b.call("ana").Moment)
	require.NoError(t, err)
	require.Equal(t, procedure.StepWaiting, g.Steps[0].Status)
	require.InDelta(t, 3*time.Hour, g.Steps[0].Wait, float64(5*time.Minute))

	early := b.tryArm()
	require.False(t, early.Counts)
	require.Equal(t, procedure.RuleWait, early.Rule)

	b.now = b.now.Add(3 * time.Hour)
	require.True(t, b.tryArm().Counts)
}

// Cold or a slow metal doubles it, in the other job as well.
func TestWaitForAnotherJobIsLongerInTheCold(t *testing.T) {
	for _, c := range []struct {
		metal   string
		celsius int
	}{{"steel", 9}, {"stainless", 20}, {"stainless", 9}} {
		b := newBench(t)
		b.curing(c.metal, c.celsius)
		b.now = b.now.Add(5 * time.Hour)
		require.Equal(t, procedure.RuleWait, b.tryArm().Rule)
		b.now = b.now.Add(time.Hour)
		require.True(t, b.tryArm().Counts)
	}
}

// A job that was given up holds nothing back.
func TestAbandonedJobHoldsNothingBack(t *testing.T) {
	b := newBench(t)
	b.curing("steel", 20)
	b.do("ana", procedure.AbandonJob{Job: "cups", Reason: "other cups"})
	require.True(t, b.tryArm().Counts)
}

// A part that a bike may have: where the sheet has none, what depends on it is
// left out without a finding; where it has one, its attributes are asked for.
func TestMayHave(t *testing.T) {
	d := crank()
	d.MayHave = []string{"pedal-left"}
	d.Steps = append(d.Steps, procedure.Step{ID: "pedal", Title: "Pedal", When: procedure.Condition{"pedal-left.washer": {"supplied"}}})
	p, err := procedure.NewPlan(resolve(t, d), sheet(), rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	require.Empty(t, p.Findings)
	_, there := p.Step("pedal")
	require.False(t, there)

	with := sheet()
	with.Parts = append(with.Parts, procedure.Part{Role: "pedal-left", Material: "steel"})
	p, err = procedure.NewPlan(resolve(t, d), with, rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	require.Len(t, p.Findings, 1)
	require.Equal(t, procedure.FindingAttributeMissing, p.Findings[0].Rule)

	with.Parts[len(with.Parts)-1].Is = map[string]string{"washer": "supplied"}
	p, err = procedure.NewPlan(resolve(t, d), with, rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	require.Empty(t, p.Findings)
	_, there = p.Step("pedal")
	require.True(t, there)
}

// A way back to a step that this bike does not have leads to the one before it.
func TestReworkLeadsToAStepOfThePlan(t *testing.T) {
	d := crank()
	d.Steps[1].When = procedure.Condition{"crank-arm-left.material": {"carbon"}}
	d.Steps[3].Rework = []procedure.Rework{{If: "play", Do: "Set it again.", From: "preload"}, {If: "crack", Do: "Stop.", From: "stop"}}
	p, err := procedure.NewPlan(resolve(t, d), sheet(), rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	s, ok := p.Step("pinch")
	require.True(t, ok)
	require.Equal(t, "fit-arm", s.Rework[0].From)
	require.Equal(t, "stop", s.Rework[1].From)
	require.Equal(t, "preload", d.Steps[3].Rework[0].From, "the definition stays as it is")
}

func TestWordsOfACondition(t *testing.T) {
	c := procedure.Condition{"hub-rear.axle_fixing": {"quick-release", "nuts"}, "fit.body-length": {"fits-with"}}
	require.Equal(t, "the check of body length says fits with and the axle fixing of the rear hub is quick release or nuts", c.Words())
}
