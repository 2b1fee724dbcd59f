package teaching_test

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/teaching"
	"github.com/tightwright/tightwright/torque"
)

// ask returns the questions of a kind on the invented procedures.
func ask(t testing.TB, seed uint64, kind teaching.Kind) []teaching.Question {
	t.Helper()
	qs, err := teaching.Questions(pair(t), nil, teaching.Options{Seed: seed}, 100_000)
	require.NoError(t, err)
	var out []teaching.Question
	for _, q := range qs {
		if q.Kind == kind {
			out = append(out, q)
		}
	}
	require.NotEmpty(t, out)
	return out
}

func inventedSheet(printed ...procedure.PrintedFigure) *procedure.Sheet {
	return &procedure.Sheet{Build: "bike", Parts: []procedure.Part{
		{Role: "stem", Material: "alloy", Is: map[string]string{"coating": "paint"}, Printed: printed}, {Role: "ring", Material: "steel"}}}
}

// bench is the engine at work on both invented procedures.
type bench struct {
	t     testing.TB
	build *procedure.Build
	plans map[string]*procedure.Plan
	count int
}

func newBench(t testing.TB) *bench {
	t.Helper()
	b := &bench{t: t, plans: map[string]*procedure.Plan{}}
	b.build = procedure.NewBuild("bike", func(d string) (*procedure.Plan, error) {
		p, ok := b.plans[d]
		if !ok {
			return nil, procedure.ErrNotFound
		}
		return p, nil
	})
	for _, p := range pair(t) {
		plan, err := procedure.NewPlan(p, inventedSheet(), tools(), practiceDay, procedure.Policy{Accepted: []procedure.Acceptance{{Joint: "plate", Person: "f", At: practiceDay}}})
		require.NoError(t, err)
		require.False(t, plan.Blocked(), "%v", plan.Findings)
		_, digest, err := plan.Encode()
		require.NoError(t, err)
		b.plans[digest] = plan
		b.do(procedure.OpenJob{Job: p.ID, Plan: plan})
	}
	return b
}

func tools() []procedure.Tool {
	return []procedure.Tool{setting("1", "10", ""), func() procedure.Tool {
		t := setting("20", "100", "")
		t.ID = "big"
		return t
	}()}
}

func (b *bench) do(cmd procedure.Command) procedure.Entry {
	b.t.Helper()
	b.count++
	at := practiceDay.UnixMicro() + int64(b.count)*60_000_000
	rack := tools()
	e, err := b.build.Decide(cmd, procedure.Call{EntryID: "e-" + strconv.Itoa(b.count), Workshop: "w", By: procedure.Actor{Person: "p", Rank: procedure.Builder},
		Moment: procedure.Moment{Tablet: "t", Boot: "b", MonotonicUS: at, TabletUS: at, ServerUS: at},
		Tools: func(id string) (*procedure.Tool, bool) {
			for i := range rack {
				if rack[i].ID == id {
					return &rack[i], true
				}
			}
			return nil, false
		}})
	require.NoError(b.t, err)
	require.NoError(b.t, b.build.Apply(e))
	return e
}

// result writes a result straight into the record, so that a step has one.
func (b *bench) result(job, step, item string) {
	j, ok := b.build.Job(job)
	require.True(b.t, ok)
	s, ok := j.Step(step)
	require.True(b.t, ok)
	s.Results[item] = &procedure.Result{Item: item, Judgement: procedure.Judgement{Counts: true, Verdict: procedure.Conforming}}
}

// What a question says is void is what the bench voids when the step is taken
// apart, the step itself left out.
func TestVoidMapAsAtTheBench(t *testing.T) {
	titles := map[string]string{}
	for _, p := range pair(t) {
		for i := range p.Steps {
			titles[p.ID+"/"+p.Steps[i].ID] = p.Steps[i].Title
		}
	}
	for _, q := range ask(t, 1, teaching.VoidMap) {
		b := newBench(t)
		for _, p := range pair(t) {
			for i := range p.Steps {
				b.result(p.ID, p.Steps[i].ID, "bolt.any")
			}
		}
		e := b.do(procedure.BeginRework{Job: q.Procedure, Step: q.Step, Reason: "hmac"})
		here, jobs := map[string]bool{}, map[string]bool{}
		for _, r := range procedure.VoidsOf(e.Payload) {
			if r.Job == q.Procedure {
				here[titles[r.Job+"/"+r.Step]] = true
			} else {
				jobs[find(pair(t), r.Job).Title] = true
			}
		}
		delete(here, titles[q.Procedure+"/"+q.Step])
		answer := map[string]bool{}
		for _, title := range strings.Split(q.Answer, "; ") {
			answer[title] = true
		}
		delete(answer, "in none")
		want := here
		if given(q, "asked") == "jobs" {
			want = jobs
		}
		require.Equal(t, want, answer, q.Stem)
	}
}

// A question's number of pulls is the number after which the bench takes the
// group for closed, and not one earlier.
func TestPullsAsAtTheBench(t *testing.T) {
	rounds := map[string]bool{}
	for seed := range uint64(12) {
		for _, q := range ask(t, seed, teaching.Pulls) {
			want, err := strconv.Atoi(q.Answer)
			require.NoError(t, err)
			rounds[given(q, "closing_rounds")] = true
			require.Equal(t, want, pullAtBench(t, given(q, "closing_rounds")), q.Stem)
		}
	}
	require.Len(t, rounds, 3, "one to three closing rounds were asked for")
}

func pullAtBench(t testing.TB, rounds string) int {
	t.Helper()
	b := newBench(t)
	b.do(procedure.DoPrep{Job: "stem-plate", Step: "prepare", Thread: procedure.Grease})
	j, _ := b.build.Job("stem-plate")
	s, _ := j.Step("clamp")
	marks := []string{"2.75", "4.12", "5.5"}
	for n := range 40 {
		if s.Group.Closed {
			return n
		}
		turned := s.Group.Round > 0 && fmt.Sprint(s.Group.Round) != rounds
		order := []string{"A", "C", "B", "D"}
		f, err := torque.ParseFigure(marks[s.Group.Pass], torque.NewtonMeters)
		require.NoError(t, err)
		e := b.do(procedure.TakeReading{Job: "stem-plate", Step: "clamp", Bolt: order[n%4], Figure: f, Tool: "tool", Turned: turned})
		judged, _ := procedure.JudgementOf(e.Payload)
		require.True(t, judged.Counts, "%+v", judged)
	}
	return 0
}

// Where a question says stop, the plan stops, and where it names a window, the
// plan has it.
func TestLimitsAsInThePlan(t *testing.T) {
	res := pair(t)
	for seed := range uint64(6) {
		for _, q := range ask(t, seed, teaching.LowestGoverns) {
			if q.Joint != "plate" {
				continue
			}
			sheet := inventedSheet(procedure.PrintedFigure{Joint: "plate", Marking: "max " + given(q, "printed_max"), Seen: procedure.Printed, Where: "the face"})
			plan, err := procedure.NewPlan(res[0], sheet, tools(), practiceDay, procedure.Policy{})
			require.NoError(t, err)
			require.Equal(t, q.Answer, planned(plan))
		}
	}
	for _, q := range ask(t, 1, teaching.LimitUnknown) {
		def := res[1].Definition
		def.Steps[0].Torque.Joints = []procedure.JointChoice{{Joint: q.Joint}}
		only, err := procedure.Resolve(&def, inventedRows())
		require.NoError(t, err)
		plan, err := procedure.NewPlan(only, inventedSheet(), tools(), practiceDay, procedure.Policy{})
		require.NoError(t, err)
		require.True(t, plan.Blocked())
		require.Equal(t, procedure.FindingLimitUnknown, plan.Findings[0].Rule)
		require.Equal(t, stop, q.Answer)
	}
}

// planned is the window of the plate, or stop where the plan has none.
func planned(p *procedure.Plan) string {
	for _, f := range p.Findings {
		if f.Rule == procedure.FindingWindowsConflict {
			return stop
		}
	}
	s, _ := p.Step("clamp")
	return s.Torque.Window.String()
}

// Through the index of the curriculum the same steps lean on a step as at the
// bench.
func TestVoidQuestionsNameWhatLeans(t *testing.T) {
	all := append(builtIn(t), pair(t)...)
	qs, err := teaching.Questions(all, nil, teaching.Options{}, 1_000_000)
	require.NoError(t, err)
	titles, asked := map[string]string{}, 0
	for _, p := range all {
		for i := range p.Steps {
			titles[p.ID+"/"+p.Steps[i].ID] = p.Steps[i].Title
		}
	}
	for _, q := range qs {
		if q.Kind != teaching.VoidMap {
			continue
		}
		asked++
		var here, jobs []string
		for _, r := range procedure.LeanOn(all, procedure.StepRef{Procedure: q.Procedure, Step: q.Step}) {
			job := find(all, r.Procedure).Title
			switch {
			case r.Procedure == q.Procedure:
				here = append(here, titles[r.Procedure+"/"+r.Step])
			case !slices.Contains(jobs, job):
				jobs = append(jobs, job)
			}
		}
		want := strings.Join(here, "; ")
		if given(q, "asked") == "jobs" {
			want = cmp.Or(strings.Join(jobs, "; "), "in none")
		}
		require.Equal(t, want, q.Answer, q.ID)
	}
	require.Greater(t, asked, 100)
}
