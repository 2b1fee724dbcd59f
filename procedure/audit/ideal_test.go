package audit_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// anyDefinition draws a procedure: every kind of step that a bench knows.
func anyDefinition(t *rapid.T) *procedure.Definition {
	n := rapid.IntRange(1, 6).Draw(t, "steps")
	def := &procedure.Definition{ID: "drawn", Title: "drawn", Edition: 1, Risk: procedure.FunctionCritical, Minutes: 10, LeastMinutes: 1,
		Source: procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory}, Roles: []string{"stem"}}
	for i := range n {
		def.Steps = append(def.Steps, anyStep(t, i, n))
	}
	return def
}

func anyStep(t *rapid.T, i, n int) procedure.Step {
	s := procedure.Step{ID: stepID(i), Title: "step " + stepID(i), Do: "do", Why: "why", Accept: "ok"}
	switch rapid.SampledFrom([]string{"look", "measure", "torque", "torque"}).Draw(t, "kind") {
	case "look":
		s.Checks = []procedure.Check{{ID: "seen", Kind: procedure.Look, Ask: "is it clean?"}, {ID: "shot", Kind: procedure.Photo, Ask: "picture"}}
	case "measure":
		s.Checks = []procedure.Check{{ID: "gap", Kind: procedure.Measure, Ask: "gap", Unit: "mm", Min: "0.5", Max: "2", Error: "0.05"}}
	case "torque":
		anyTorque(t, &s)
	}
	if rapid.Bool().Draw(t, "hold") {
		s.Hold = &procedure.Hold{By: rapid.SampledFrom([]procedure.Signer{procedure.SecondPerson, procedure.ForemanSigns}).Draw(t, "by"), LooksAt: "the joint"}
	}
	if rapid.Bool().Draw(t, "wait") {
		before := []string{procedure.BeforeFinishing, procedure.BeforeReleasing}
		for k := i + 1; k < n; k++ {
			before = append(before, stepID(k))
		}
		s.Waits = []procedure.Wait{{For: procedure.Duration(rapid.IntRange(1, 24).Draw(t, "hours") * int(time.Hour)),
			Before: rapid.SampledFrom(before).Draw(t, "before"), Longer: []procedure.Longer{{Metals: []string{"stainless"}, Times: 2}}}}
	}
	for k := i + 1; k < n; k++ {
		if rapid.Bool().Draw(t, "void") {
			s.Voids = append(s.Voids, stepID(k))
		}
	}
	if i == n-1 && i > 0 && len(s.Checks) > 0 && rapid.Bool().Draw(t, "later") {
		s.Due, s.Waits = procedure.BeforeRelease, nil
	}
	return s
}

func anyTorque(t *rapid.T, s *procedure.Step) {
	bolts := []string{"A", "B", "C", "D"}[:rapid.IntRange(1, 4).Draw(t, "bolts")]
	s.Torque = &procedure.TorqueRule{Bolts: bolts, Order: rapid.Permutation(bolts).Draw(t, "order"),
		Passes:  rapid.SampledFrom([][]int{{100}, {60, 100}, {50, 75, 100}}).Draw(t, "passes"),
		Closing: rapid.Bool().Draw(t, "closing"),
		Joints:  []procedure.JointChoice{{Joint: rapid.SampledFrom([]string{"small", "middle", "left"}).Draw(t, "joint")}}}
	s.Prep = &procedure.PrepRule{Thread: []procedure.PrepChoice{{Use: procedure.Grease, Why: "it slides"}}}
	if rapid.Bool().Draw(t, "face") {
		s.Prep.Face = []procedure.PrepChoice{{Use: procedure.Dry, Why: "it grips"}}
	}
}

func stepID(i int) string { return fmt.Sprintf("s%d", i) }

// anyRack draws the order of the tools, and with it which of those that can
// is taken.
func anyRack(t *rapid.T) []procedure.Tool { return rapid.Permutation(rack()).Draw(t, "rack") }

// An ideal record gives no finding, whatever the procedure, and none of its
// beginnings does: an open job is not blamed for what it has not come to.
func TestIdealRecordGivesNoFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := newBench(t, anyDefinition(t), rows(), sheet(), anyRack(t), procedure.Policy{})
		b.pace = time.Duration(rapid.IntRange(25, 300).Draw(t, "pace")) * time.Second
		b.turnsFirst = rapid.Bool().Draw(t, "turns")
		offset := int64(-7 * 60 * 1_000_000)
		b.bays[1].fast, b.bays[1].offset = 7*time.Minute, &offset
		b.ideal()
		require.Empty(t, b.audit(b.view()))
		whole, err := audit.Build(b.build, b.view())
		require.NoError(t, err)
		require.Empty(t, whole)

		n := rapid.IntRange(1, len(b.build.Entries())).Draw(t, "cut")
		part, err := procedure.Fold(b.build.ID, b.build.Entries()[:n], func(string) (*procedure.Plan, error) { return b.plan, nil })
		require.NoError(t, err)
		found, err := audit.Job(part, job, b.view())
		require.NoError(t, err)
		require.Empty(t, found)
	})
}

// The same record and view give the same findings in the same order, and every
// finding says what to do and names a rule of the list.
func TestFindingsAreStableAndComplete(t *testing.T) {
	var codes []string
	for _, r := range audit.Rules() {
		require.NotContains(t, codes, r.Code)
		require.NotEmpty(t, r.Looks)
		codes = append(codes, r.Code)
	}
	rapid.Check(t, func(t *rapid.T) {
		b := newBench(t, anyDefinition(t), rows(), sheet(), anyRack(t), procedure.Policy{})
		b.open()
		for range rapid.IntRange(1, 40).Draw(t, "entries") {
			scribble(t, b)
		}
		found := b.audit(b.view())
		require.Equal(t, found, b.audit(b.view()))
		for _, f := range found {
			require.True(t, slices.Contains(codes, f.Rule), f.Rule)
			require.NotEmpty(t, f.Text)
			require.NotEmpty(t, f.Mend)
			require.NotZero(t, f.Risk)
			require.NotZero(t, f.Sure)
			require.NotZero(t, f.Status)
			require.Equal(t, job, f.Job)
		}
		s := audit.Summarize(found)
		require.Equal(t, len(found), s.Total+s.Notes)
		require.Equal(t, s.Total, s.Open+s.Reworked)
	})
}

// scribble records anything at all; what the bench refuses is left out.
func scribble(t *rapid.T, b *bench) {
	step := stepID(rapid.IntRange(0, len(b.plan.Steps)-1).Draw(t, "step"))
	by := rapid.SampledFrom([]procedure.Actor{builder, second, foreman}).Draw(t, "by")
	b.now = b.now.Add(time.Duration(rapid.IntRange(0, 4000).Draw(t, "s")) * time.Second)
	b.bay = rapid.SampledFrom(b.bays).Draw(t, "bay")
	fig := figure(t, rapid.SampledFrom([]string{"3.9", "6.5", "7.4", "13", "40"}).Draw(t, "figure"))
	cmd := rapid.SampledFrom([]procedure.Command{
		procedure.TakeReading{Job: job, Step: step, Bolt: "A", Figure: fig, Tool: "tw-small"},
		procedure.TakeReading{Job: job, Step: step, Bolt: "B", Figure: fig, Tool: "tw-show", Turned: true},
		procedure.TakeLook{Job: job, Step: step, Check: "seen", OK: rapid.Bool().Draw(t, "ok")},
		procedure.TakeMeasure{Job: job, Step: step, Check: "gap", Value: "3", Unit: "mm"},
		procedure.DoPrep{Job: job, Step: step, Thread: procedure.Grease},
		procedure.DoPrep{Job: job, Step: step, Thread: procedure.Dry, Face: procedure.Dry},
		procedure.BeginRework{Job: job, Step: step, Reason: "hmac"},
		procedure.SignHold{Job: job, Step: step, Saw: "hmac"},
		procedure.FinishJob{Job: job},
		procedure.WithdrawEntry{Entry: "e-2", Cause: procedure.CauseMisTap, Reason: "hmac"},
	}).Draw(t, "command")
	if e, err := b.build.Decide(cmd, b.call(by)); err == nil {
		require.NoError(t, b.build.Apply(e))
	}
}
