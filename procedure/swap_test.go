package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// armsToo is the cups job with a step that handles the left arm as well and
// spoils nothing.
func armsToo() procedure.Definition {
	d := cups()
	d.Roles = append(d.Roles, "crank-arm-left")
	d.Steps = append(d.Steps, procedure.Step{ID: "wipe", Title: "Wipe the arm", Do: "Wipe it.", Why: "Grease.", Accept: "Clean.",
		Parts: []string{"crank-arm-left"}, Checks: []procedure.Check{{ID: "clean", Kind: procedure.Look, Ask: "It is clean"}}})
	return d
}

// otherArm is the sheet with another left arm.
func otherArm() *procedure.Sheet {
	s := sheet()
	s.Parts[1].Printed[0].Marking = "11-13 Nm"
	return s
}

func planFor(t testing.TB, d procedure.Definition, s *procedure.Sheet) *procedure.Plan {
	t.Helper()
	p, err := procedure.NewPlan(resolve(t, d), s, rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	return p
}

func TestASwappedPartVoidsWhatOtherJobsDidToIt(t *testing.T) {
	b := newBench(t)
	b.finishCrank()
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, armsToo())})
	b.do("ana", procedure.SwapPart{Job: "cups", Role: "crank-arm-left", Plan: planFor(t, armsToo(), otherArm()), Reason: "cracked"})
	require.False(t, step(t, b, "crank", "pinch").Done(), "the bolts were tight on an arm that is gone")
	require.True(t, step(t, b, "crank", "plate").Done())
}

func TestAJobPlannedWithTheNewPartKeepsItsResults(t *testing.T) {
	b := newBench(t)
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, armsToo())})
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: planFor(t, crank(), otherArm())})
	b.upToPinch()
	e := b.do("ana", procedure.SwapPart{Job: "cups", Role: "crank-arm-left", Plan: planFor(t, armsToo(), otherArm()), Reason: "r"})
	require.Empty(t, procedure.VoidsOf(e.Payload))
}

func TestAPlanWithOtherPassesTakesTheGroupFromTheStart(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	for _, bolt := range []string{"A", "B"} {
		b.corrected(b.do("ana", pull(bolt, "6.5")).Envelope, "overdue")
	}
	next := plan(t, crank())
	next.Steps[3].Torque.Passes = []int{100}
	b.do("ana", procedure.SwapPart{Job: "crank", Role: "crank-arm-left", Plan: next, Reason: "r"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	require.True(t, judgement(t, b.do("ana", pull("A", "13"))).Counts)
}

func TestAReadingOfAStepThatTightensNothingAnyMore(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	e := b.do("ana", pull("A", "6.5"))
	next := plan(t, crank())
	next.Steps[3].Torque = nil
	b.do("ana", procedure.SwapPart{Job: "crank", Role: "crank-arm-left", Plan: next, Reason: "r"})
	b.refused("ana", procedure.CorrectTool{Entry: e.ID, Tool: "overdue", Reason: "r"}, procedure.RuleNotAFact)
}

func TestAJobIsNotAbandonedOverWorkThatNobodySaw(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	c := b.call("ben")
	c.BasedOn = b.build.Seq
	b.do("ana", pull("A", "6.5"))
	_, err := b.build.Decide(procedure.AbandonJob{Job: "crank", Reason: "r"}, c)
	var conflict *procedure.ConflictError
	require.ErrorAs(t, err, &conflict)
}

func TestAJobIsNotFinishedByThePlanOfAPartThatIsGone(t *testing.T) {
	b := newBench(t)
	b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, armsToo())})
	b.toPinch()
	b.do("ana", procedure.SwapPart{Job: "cups", Role: "crank-arm-left", Plan: planFor(t, armsToo(), otherArm()), Reason: "cracked"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	b.pinch()
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
	b.refused("ana", procedure.FinishJob{Job: "crank"}, procedure.RuleOutdated)
	b.do("ana", procedure.SwapPart{Job: "crank", Role: "crank-arm-left", Plan: planFor(t, crank(), otherArm()), Reason: "cracked"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
	for _, f := range []string{"6", "12", "12"} {
		b.do("ana", pull("A", f))
		b.do("ana", pull("B", f))
	}
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
	b.do("ana", procedure.FinishJob{Job: "crank"})
}

func TestAnotherRackSpoilsNothing(t *testing.T) {
	narrow := sheet()
	narrow.Parts[1].Printed[0].Marking = "11-13 Nm"
	racks := map[string]*procedure.Plan{}
	for name, tools := range map[string][]procedure.Tool{"one": rack()[:1], "all": rack()} {
		p, err := procedure.NewPlan(resolve(t, crank()), narrow, tools, monday, procedure.Policy{})
		require.NoError(t, err)
		racks[name] = p
	}
	one, _ := racks["one"].Step("pinch")
	all, _ := racks["all"].Step("pinch")
	require.NotEqual(t, one.Torque.Aim, all.Torque.Aim)
	b := newBench(t)
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: racks["one"]})
	b.upToPinch()
	e := b.do("ana", procedure.SwapPart{Job: "crank", Role: "bottom-bracket-shell", Plan: racks["all"], Reason: "r"})
	require.Empty(t, procedure.VoidsOf(e.Payload))
}
