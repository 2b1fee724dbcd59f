package audit_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// A window from memory that a foreman answers for is noted, not held against
// anybody.
func TestFromMemoryIsNoted(t *testing.T) {
	def, err := procedure.ReadDefinition("rich.yaml", []byte(rich))
	require.NoError(t, err)
	table := rows()
	table[0].Source.Confidence = procedure.FromMemory
	b := newBench(t, def, table, sheet(), rack(), procedure.Policy{Accepted: []procedure.Acceptance{{Joint: "small", Person: foreman.Person, At: monday}}})
	b.write(foreman, "", procedure.FigureAccepted{Joint: "small", Window: b.plan.FromMemory()["small"], Reason: "hmac", Rank: procedure.Foreman})
	b.ideal()
	found := b.audit(b.view())
	require.Len(t, found, 1)
	f := want{rule: audit.RuleFromMemory, step: "clamp", status: audit.Open, note: true}.in(t, found)
	require.Equal(t, []audit.EntryRef{{ID: "e-1", Seq: 1, Actor: foreman.Person}}, f.Entries)
	require.Contains(t, f.Text, "from memory")
	s := audit.Summarize(found)
	require.Equal(t, 1, s.Notes)
	require.Zero(t, s.Total)
}

// The release belongs to the build, not to a job.
func TestReleaseByOwnHand(t *testing.T) {
	b := richBench(t)
	b.open()
	b.all(procedure.BeforeFinish)
	b.finish()
	b.now = b.now.AddDate(0, 0, 2)
	b.all(procedure.BeforeRelease)
	b.write(builder, "", procedure.BuildReleased{Rank: procedure.Foreman})
	require.Empty(t, b.audit(b.view()))
	found, err := audit.Build(b.build, b.view())
	require.NoError(t, err)
	require.Len(t, found, 2)
	require.Equal(t, audit.RuleOwnWork, found[0].Rule)
	require.Equal(t, audit.RuleRank, found[1].Rule, "the view knows a builder, not a foreman")
	require.Equal(t, procedure.SafetyCritical, found[1].Risk)
}

// The worst comes first, notes last; the summary counts by class and rule.
func TestOrderAndSummary(t *testing.T) {
	b := richBench(t)
	b.open()
	b.bay.fast = 7 * 60 * 1_000_000_000
	b.steps("clean")
	b.do(builder, procedure.DoPrep{Job: job, Step: "clamp", Thread: procedure.Dry, Face: procedure.Dry})
	b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
	b.steps("clamp")
	b.do(builder, procedure.DoPrep{Job: job, Step: "lock", Thread: procedure.Grease})
	found := b.audit(b.view())
	var rules []string
	for _, f := range found {
		rules = append(rules, fmt.Sprint(f.Risk, " ", f.Rule, " ", f.Status))
	}
	require.Equal(t, []string{
		"safety-critical prep-not-as-planned reworked",
		"function-critical prep-not-as-planned open",
		"other clock-ahead open",
	}, rules)
	require.Equal(t, audit.Summary{Total: 3, Open: 2, Reworked: 1,
		ByRisk: []audit.RiskCount{{Risk: procedure.SafetyCritical, Reworked: 1}, {Risk: procedure.FunctionCritical, Open: 1}, {Risk: procedure.RiskOther, Open: 1}},
		ByRule: []audit.RuleCount{{Rule: audit.RulePrep, Open: 1, Reworked: 1}, {Rule: audit.RuleClockAhead, Open: 1}},
	}, audit.Summarize(found))
}

// A finding goes over the wire and comes back.
func TestFindingAsJSON(t *testing.T) {
	b := richBench(t)
	b.open()
	b.steps("clean")
	b.do(builder, procedure.DoPrep{Job: job, Step: "clamp", Thread: procedure.Dry, Face: procedure.Dry})
	found := b.audit(b.view())
	data, err := json.Marshal(found)
	require.NoError(t, err)
	require.JSONEq(t, `[{"rule":"prep-not-as-planned","risk":"safety-critical","procedure":"rich","job":"job-1","step":"clamp","item":"prep",
		"entries":[{"id":"e-3","seq":3,"actor":"person-b"}],
		"text":"\"close the clamp\" was prepared with clean and dry on the thread and clean and dry on the contact face, planned was grease on the thread and clean and dry on the contact face",
		"mend":"take the joint apart, clean it, prepare it as planned and tighten it again: the window holds for that prep only",
		"sure":"certain","status":"open"}]`, string(data))
	var back []audit.Finding
	require.NoError(t, json.Unmarshal(data, &back))
	require.Equal(t, found, back)
	require.Error(t, json.Unmarshal([]byte(`{"status":"closed"}`), &audit.Finding{}))
}

// An abandoned job lacks nothing; what happened in it did happen.
func TestAbandonedJob(t *testing.T) {
	b := richBench(t)
	b.open()
	b.do(builder, procedure.TakeLook{Job: job, Step: "clean", Check: "wiped", OK: false})
	b.do(builder, procedure.AbandonJob{Job: job, Reason: "hmac"})
	found := b.audit(b.view())
	require.Len(t, found, 1)
	require.Equal(t, audit.RuleNonconforming, found[0].Rule)
}

// What a job lacks is history once the same procedure was begun again: the
// newer job answers for the joints. A bolt that was pulled too far is not.
func TestJobDoneAgain(t *testing.T) {
	b := richBench(t)
	b.open()
	b.steps("clean", "clamp")
	b.prep("lock")
	b.pullOf("lock", "ring", "60", "tw-big", true)
	b.write(builder, job, procedure.JobFinished{})
	was := b.audit(b.view())
	require.NotEmpty(t, of(was, audit.RuleStepMissing))
	_, digest, err := b.plan.Encode()
	require.NoError(t, err)
	b.write(builder, "job-2", procedure.JobOpened{Procedure: b.plan.Procedure, PlanDigest: digest})
	now := b.audit(b.view())
	require.Len(t, now, len(was))
	for _, f := range now {
		require.Equal(t, f.Rule == audit.RuleNonconforming, f.Status == audit.Open, "%+v", f)
	}
}

func BenchmarkJob(b *testing.B) {
	x := richBench(b)
	x.ideal()
	v := x.view()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := audit.Job(x.build, job, v); err != nil {
			b.Fatal(err)
		}
	}
}
