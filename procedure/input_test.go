package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

func TestWhatCannotBeStoredIsRefusedByField(t *testing.T) {
	empty, noOrder, noPasses, other := plan(t, crank()), plan(t, crank()), plan(t, crank()), plan(t, crank())
	empty.Steps = nil
	noOrder.Steps[3].Torque.Order = nil
	noPasses.Steps[3].Torque.Passes = nil
	other.Build = "b-2"
	nobody := func(c *procedure.Call) {}
	tests := []struct {
		name    string
		command procedure.Command
		call    func(c *procedure.Call)
		path    string
	}{
		{"a job without a plan", procedure.OpenJob{Job: "x"}, nobody, "plan"},
		{"a swap without a plan", procedure.SwapPart{Job: "crank", Role: "x", Reason: "r"}, nobody, "plan"},
		{"a plan without steps", procedure.OpenJob{Job: "x", Plan: empty}, nobody, "plan"},
		{"a swap to a plan without steps", procedure.SwapPart{Job: "crank", Role: "x", Reason: "r", Plan: empty}, nobody, "plan"},
		{"a group without an order", procedure.SwapPart{Job: "crank", Role: "x", Reason: "r", Plan: noOrder}, nobody, "plan.steps[3].torque.order"},
		{"a group without passes", procedure.SwapPart{Job: "crank", Role: "x", Reason: "r", Plan: noPasses}, nobody, "plan.steps[3].torque.passes"},
		{"a plan for another bike", procedure.SwapPart{Job: "crank", Role: "x", Reason: "r", Plan: other}, nobody, "plan"},
		{"a prep of no kind", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: 200}, nobody, "thread"},
		{"a rank of no kind", procedure.ReleaseBuild{}, func(c *procedure.Call) { c.By.Rank = 200 }, "person"},
		{"a record that was never seen", procedure.FinishJob{Job: "crank"}, func(c *procedure.Call) { c.BasedOn = 1000 }, "based_on"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.toPinch()
			if _, ok := tt.command.(procedure.OpenJob); ok {
				b = newBench(t)
			}
			c := b.call("ana")
			tt.call(&c)
			_, err := b.build.Decide(tt.command, c)
			errs := procedure.FieldErrors(err)
			require.Len(t, errs, 1)
			require.Equal(t, tt.path, errs[0].Path)
		})
	}
}

func TestWithoutARackNoToolIsKnown(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	c := b.call("ana")
	c.Tools = nil
	e, err := b.build.Decide(pull("A", "6.5"), c)
	require.NoError(t, err)
	require.Equal(t, procedure.RuleToolUnknown, judgement(t, e).Rule)
}

func TestABrokenRecordIsAnErrorAndNoPanic(t *testing.T) {
	p := plan(t, crank())
	p.Steps[3].Torque.Passes = nil
	_, digest, err := p.Encode()
	require.NoError(t, err)
	opened := procedure.Entry{Envelope: procedure.Envelope{ID: "e-1", Build: "b-1", Seq: 1, Job: "crank"},
		Payload: procedure.JobOpened{Procedure: "crank", PlanDigest: digest}}
	pull := procedure.Entry{Envelope: procedure.Envelope{ID: "e-2", Build: "b-1", Seq: 2, Job: "crank"},
		Payload: procedure.ReadingTaken{Step: "plate", Bolt: "A", Judgement: procedure.Judgement{Counts: true}}}
	found := func(p *procedure.Plan) procedure.PlanSource {
		return func(string) (*procedure.Plan, error) { return p, nil }
	}
	tests := []struct {
		name    string
		entries []procedure.Entry
		plans   procedure.PlanSource
	}{
		{"no plans at all", []procedure.Entry{opened}, nil},
		{"no such plan and no error", []procedure.Entry{opened}, found(nil)},
		{"a plan that nobody could follow", []procedure.Entry{opened}, found(p)},
		{"a reading where nothing is tightened", []procedure.Entry{opened, pull}, found(plan(t, crank()))},
		{"an entry that says nothing", []procedure.Entry{{Envelope: opened.Envelope}}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := procedure.Fold("b-1", tt.entries, tt.plans)
			require.Error(t, err)
		})
	}
}

func TestAWaitOfMonthsIsASlipOfThePen(t *testing.T) {
	paths := func(hours int) (out []string) {
		d := cups()
		d.Steps[1].Waits[0].For = procedure.Duration(time.Duration(hours) * time.Hour)
		for _, e := range procedure.FieldErrors(procedure.CheckDefinition(&d, jointTable(), &procedure.Vocabulary{}, nil)) {
			out = append(out, e.Path)
		}
		return out
	}
	require.Contains(t, paths(5000), "steps[1].waits[0].for")
	require.NotContains(t, paths(72), "steps[1].waits[0].for")
}
