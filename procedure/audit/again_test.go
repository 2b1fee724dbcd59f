package audit_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// pullAs takes a reading of the clamp by somebody.
func (b *bench) pullAs(by procedure.Actor, bolt string) procedure.Entry {
	b.t.Helper()
	return b.do(by, procedure.TakeReading{Job: job, Step: "clamp", Bolt: bolt, Figure: figure(b.t, "6.5"), Tool: "tw-small"})
}

// ofRule returns the findings of one rule.
func ofRule(found []audit.Finding, rule string) []audit.Finding {
	var out []audit.Finding
	for _, f := range found {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

func TestABoltPulledAgainBySomebodyElse(t *testing.T) {
	tests := []struct {
		name string
		// play follows once the clamp is done and signed; want is how many
		// findings it gives.
		play func(b *bench)
		want int
	}{
		{"by somebody else", func(b *bench) { b.pullAs(second, "A") }, 1},
		{"by the same person", func(b *bench) { b.pullAs(builder, "A") }, 0},
		{"after the step was opened again", func(b *bench) {
			b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
			b.pullAs(second, "A")
		}, 0},
		{"taken back", func(b *bench) {
			e := b.pullAs(second, "A")
			b.do(second, procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseWrongBike, Reason: "hmac"})
		}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := richBench(t)
			b.open()
			b.steps("clean", "clamp")
			tt.play(b)
			found := ofRule(b.audit(b.view()), audit.RuleAgain)
			require.Len(t, found, tt.want)
			for _, f := range found {
				require.Equal(t, "bolt.A", f.Item)
				require.Len(t, f.Entries, 2, "what stood, and what came on top")
			}
		})
	}
}

// Two people may share a group of bolts while it is being done.
func TestASharedGroupIsNotPulledAgain(t *testing.T) {
	b := richBench(t)
	b.open()
	b.steps("clean")
	b.prep("clamp")
	for range 8 {
		b.reading("clamp", false)
	}
	b.pullAs(second, "A")
	require.Empty(t, ofRule(b.audit(b.view()), audit.RuleAgain))
}

func TestWorkByAnEditionThatWasReplaced(t *testing.T) {
	b := richBench(t)
	b.open()
	b.steps("clean")
	noon := b.now.Add(b.pace / 2)
	b.steps("clamp")
	id, own := b.plan.Procedure, b.plan.Revision
	first := audit.EditionSince{Procedure: id, Revision: own, Since: monday.AddDate(0, -1, 0)}
	tests := []struct {
		name     string
		editions []audit.EditionSince
		steps    []string
	}{
		{"nothing is known", nil, nil},
		{"still in force", []audit.EditionSince{first}, nil},
		{"replaced at noon", []audit.EditionSince{first, {Procedure: id, Revision: "newer", Since: noon}}, []string{"clamp"}},
		{"another procedure was replaced", []audit.EditionSince{first, {Procedure: "other", Revision: "newer", Since: noon}}, nil},
		{"replaced before the plan was made", []audit.EditionSince{{Procedure: id, Revision: "newer", Since: b.plan.At.Add(-time.Hour)}}, nil},
		{"replaced and back again at once", []audit.EditionSince{first, {Procedure: id, Revision: "newer", Since: noon}, {Procedure: id, Revision: own, Since: noon}}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			v := b.view()
			v.Editions = tt.editions
			var steps []string
			for _, f := range ofRule(b.audit(v), audit.RuleOlderEdition) {
				steps = append(steps, f.Step)
				require.Equal(t, audit.Open, f.Status)
			}
			require.Equal(t, tt.steps, steps)
		})
	}
}

func TestAnEditionNamesItsProcedure(t *testing.T) {
	b := richBench(t)
	b.open()
	_, err := audit.Build(b.build, audit.View{Editions: []audit.EditionSince{{Procedure: "x"}}})
	require.Len(t, procedure.FieldErrors(err), 1)
	require.Equal(t, "editions[0]", procedure.FieldErrors(err)[0].Path)
}
