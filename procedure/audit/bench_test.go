package audit_test

import (
	"fmt"
	"strconv"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// needs is what a bench asks of the test it stands in; rapid.T has it too.
type needs interface {
	require.TestingT
	Helper()
}

// The people of the tests.
var (
	builder = procedure.Actor{Person: "person-b", Rank: procedure.Builder}
	second  = procedure.Actor{Person: "person-s", Rank: procedure.SeniorBuilder}
	foreman = procedure.Actor{Person: "person-f", Rank: procedure.Foreman}
)

// monday is when the tests begin; the date is invented.
var monday = time.Date(2025, time.March, 3, 8, 30, 0, 0, time.UTC)

// A tablet is one device with its own clock.
type tablet struct {
	name string
	boot string
	// fast is how far its wall clock is ahead, offset what it has measured of
	// that; nil means never measured.
	fast   time.Duration
	offset *int64
	seq    int64
}

// A bench plays a job as people and tablets would and keeps the record.
type bench struct {
	t     needs
	build *procedure.Build
	plan  *procedure.Plan
	rack  []procedure.Tool
	plans map[string]*procedure.Plan
	now   time.Time
	bays  []*tablet
	bay   *tablet
	count int
	// pace is the time from one entry to the next.
	pace time.Duration
	// pulls counts readings, so that an indicating tool never shows the same.
	pulls int
	// turnsFirst lets bolts turn in the first closing round.
	turnsFirst bool
}

const job = "job-1"

// newBench opens a job on a plan of the definition.
func newBench(t needs, def *procedure.Definition, rows []procedure.JointRow, sheet *procedure.Sheet, rack []procedure.Tool, policy procedure.Policy) *bench {
	t.Helper()
	res, err := procedure.Resolve(def, rows)
	require.NoError(t, err)
	plan, err := procedure.NewPlan(res, sheet, rack, monday, policy)
	require.NoError(t, err)
	require.False(t, plan.Blocked(), "%v", plan.Findings)
	return benchFor(t, plan, rack)
}

func benchFor(t needs, plan *procedure.Plan, rack []procedure.Tool) *bench {
	t.Helper()
	_, digest, err := plan.Encode()
	require.NoError(t, err)
	b := &bench{t: t, plan: plan, rack: rack, plans: map[string]*procedure.Plan{digest: plan}, now: monday, pace: 40 * time.Second,
		bays: []*tablet{{name: "bay-1", boot: "boot-1"}, {name: "bay-2", boot: "boot-2"}}}
	b.bay = b.bays[0]
	b.build = procedure.NewBuild(plan.Build, func(d string) (*procedure.Plan, error) {
		p, ok := b.plans[d]
		if !ok {
			return nil, procedure.ErrNotFound
		}
		return p, nil
	})
	return b
}

func (b *bench) moment() procedure.Moment {
	at := b.now.UnixMicro()
	b.bay.seq++
	return procedure.Moment{Tablet: b.bay.name, TabletSeq: b.bay.seq, Boot: b.bay.boot,
		MonotonicUS: at - monday.UnixMicro() + 1_000_000, TabletUS: at + b.bay.fast.Microseconds(), ServerUS: at, OffsetUS: b.bay.offset}
}

func (b *bench) call(by procedure.Actor) procedure.Call {
	b.count++
	return procedure.Call{EntryID: "e-" + strconv.Itoa(b.count), Workshop: "shop", By: by, Moment: b.moment(),
		Tools: func(id string) (*procedure.Tool, bool) {
			for i := range b.rack {
				if b.rack[i].ID == id {
					return &b.rack[i], true
				}
			}
			return nil, false
		}}
}

// do lets the pace pass, decides the command and applies its entry.
func (b *bench) do(by procedure.Actor, cmd procedure.Command) procedure.Entry {
	b.t.Helper()
	b.now = b.now.Add(b.pace)
	e, err := b.build.Decide(cmd, b.call(by))
	require.NoError(b.t, err, "%+v", cmd)
	require.NoError(b.t, b.build.Apply(e))
	return e
}

// write puts an entry into the record that the bench would have refused.
func (b *bench) write(by procedure.Actor, job string, p procedure.Payload) procedure.Entry {
	b.t.Helper()
	b.now = b.now.Add(b.pace)
	c := b.call(by)
	e := procedure.Entry{Envelope: procedure.Envelope{Schema: procedure.EntrySchema, ID: c.EntryID, Workshop: c.Workshop,
		Build: b.build.ID, Seq: b.build.Seq + 1, Job: job, Kind: p.Kind(), Actor: by.Person, Moment: c.Moment}, Payload: p}
	require.NoError(b.t, b.build.Apply(e))
	return e
}

func (b *bench) open() { b.do(builder, procedure.OpenJob{Job: job, Plan: b.plan}) }

func (b *bench) job() *procedure.Job {
	j, ok := b.build.Job(job)
	require.True(b.t, ok)
	return j
}

func (b *bench) state(id string) *procedure.StepState {
	s, ok := b.job().Step(id)
	require.True(b.t, ok, id)
	return s
}

func (b *bench) guide(id string) procedure.GuideStep {
	g, err := b.build.Guide(job, b.moment())
	require.NoError(b.t, err)
	for _, s := range g.Steps {
		if s.ID == id {
			return s
		}
	}
	return procedure.GuideStep{}
}

// steps does steps as they are planned, waits and signatures included.
func (b *bench) steps(ids ...string) {
	b.t.Helper()
	for _, id := range ids {
		b.work(id)
		b.sign(id)
	}
}

// all does every step of a due.
func (b *bench) all(due procedure.Due) {
	b.t.Helper()
	for _, s := range b.job().Steps {
		if s.Planned.Due == due {
			b.steps(s.Planned.ID)
		}
	}
}

// work does a step up to its signature.
func (b *bench) work(id string) {
	b.t.Helper()
	b.wait(id)
	b.prep(id)
	b.pull(id)
	b.checks(id)
	require.True(b.t, b.state(id).Done(), "%s lacks: %s", id, b.state(id).Lacks())
}

func (b *bench) wait(id string) {
	if left := b.guide(id).Wait; left > 0 {
		b.now = b.now.Add(left + time.Minute)
	}
}

func (b *bench) prep(id string) {
	b.t.Helper()
	s := b.state(id).Planned
	if s.ThreadPrep == nil && s.FacePrep == nil {
		return
	}
	cmd := procedure.DoPrep{Job: job, Step: id, Batch: "lot-7"}
	if s.ThreadPrep != nil {
		cmd.Thread = s.ThreadPrep.Use
	}
	if s.FacePrep != nil {
		cmd.Face = s.FacePrep.Use
	}
	e := b.do(builder, cmd)
	require.True(b.t, judged(e).Counts, "%+v", judged(e))
}

// pull takes readings until the group holds.
func (b *bench) pull(id string) {
	b.t.Helper()
	s := b.state(id)
	if s.Planned.Torque == nil {
		return
	}
	for range 60 {
		if s.Group.Closed {
			return
		}
		e := b.reading(id, s.Group.Round == 1 && b.turnsFirst && len(s.Group.Done) == 0)
		require.True(b.t, judged(e).Counts, "%+v", judged(e))
		require.Equal(b.t, procedure.Conforming, judged(e).Verdict, "%+v", e.Payload)
	}
	require.True(b.t, s.Group.Closed, "the group of %s did not close", id)
}

// reading takes the next bolt with the first tool that can.
func (b *bench) reading(id string, turned bool) procedure.Entry {
	b.t.Helper()
	g := b.guide(id)
	for _, c := range b.state(id).Planned.Torque.Choices {
		if c.Can() {
			return b.readingWith(id, g.Bolt, c, g.Pass-1, turned)
		}
	}
	require.Fail(b.t, "no tool can do "+id)
	return procedure.Entry{}
}

func (b *bench) readingWith(id, bolt string, c procedure.ToolChoice, pass int, turned bool) procedure.Entry {
	b.t.Helper()
	fig := c.Passes[pass]
	if c.Kind == procedure.Indicating {
		b.pulls++
		fig = figure(b.t, fmt.Sprintf("%s%d", plusPlaces(fig.Digits()), b.pulls%10))
	}
	return b.do(builder, procedure.TakeReading{Job: job, Step: id, Bolt: bolt, Figure: fig, Tool: c.Tool, Turned: turned})
}

// plusPlaces makes room for one more decimal.
func plusPlaces(digits string) string {
	for _, r := range digits {
		if r == '.' {
			return digits
		}
	}
	return digits + ".0"
}

func figure(t needs, digits string) torque.Figure {
	f, err := torque.ParseFigure(digits, torque.NewtonMeters)
	require.NoError(t, err)
	return f
}

// pullOf takes one reading of a figure on a bolt.
func (b *bench) pullOf(id, bolt, digits, tool string, turned bool) procedure.Entry {
	b.t.Helper()
	return b.do(builder, procedure.TakeReading{Job: job, Step: id, Bolt: bolt, Figure: figure(b.t, digits), Tool: tool, Turned: turned})
}

func (b *bench) checks(id string) {
	b.t.Helper()
	for _, c := range b.state(id).Planned.Checks {
		switch c.Kind {
		case procedure.Look:
			b.do(builder, procedure.TakeLook{Job: job, Step: id, Check: c.ID, OK: true})
		case procedure.Photo:
			b.do(builder, procedure.TakePhoto{Job: job, Step: id, Check: c.ID, Picture: "hmac-1"})
		case procedure.Measure:
			b.do(builder, procedure.TakeMeasure{Job: job, Step: id, Check: c.ID, Value: middle(b.t, c), Unit: c.Unit})
		}
	}
}

// middle is a value well inside a check's limits.
func middle(t needs, c procedure.PlannedCheck) string {
	low, high := number(t, c.Min), number(t, c.Max)
	room := 2 + 4*number(t, c.Error)
	if c.Max == "" {
		high = low + room
	}
	if c.Min == "" {
		low = high - room
	}
	return strconv.FormatFloat((low+high)/2, 'f', 4, 64)
}

func number(t needs, text string) float64 {
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// sign has the hold looked at by another person, on another tablet.
func (b *bench) sign(id string) {
	b.t.Helper()
	hold := b.state(id).Planned.Hold
	if hold == nil {
		return
	}
	by := second
	if hold.By == procedure.ForemanSigns {
		by = foreman
	}
	was := b.bay
	b.bay = b.bays[1]
	b.do(by, procedure.SignHold{Job: job, Step: id, Saw: "hmac-2"})
	b.bay = was
}

// finish waits as long as it takes and finishes the job.
func (b *bench) finish() {
	b.t.Helper()
	g, err := b.build.Guide(job, b.moment())
	require.NoError(b.t, err)
	if g.FinishWait > 0 {
		b.now = b.now.Add(g.FinishWait + time.Minute)
	}
	b.now = b.now.Add(time.Duration(b.plan.Least) * time.Minute)
	b.do(builder, procedure.FinishJob{Job: job})
}

// release does what comes after the finish and lets the bike go.
func (b *bench) release() {
	b.t.Helper()
	b.now = b.now.Add(14 * 24 * time.Hour)
	b.all(procedure.BeforeRelease)
	b.do(foreman, procedure.ReleaseBuild{})
}

// ideal plays the whole job.
func (b *bench) ideal() {
	b.t.Helper()
	b.open()
	b.all(procedure.BeforeFinish)
	b.finish()
	b.release()
}

// view is what an auditor knows who knows no more than the bench.
func (b *bench) view() audit.View {
	return audit.View{At: b.now.Add(time.Hour), Tools: b.rack, Ranks: []audit.RankSince{
		{Person: builder.Person, Rank: builder.Rank, Since: monday.AddDate(-1, 0, 0)},
		{Person: second.Person, Rank: second.Rank, Since: monday.AddDate(-1, 0, 0)},
	}}
}

func (b *bench) audit(v audit.View) []audit.Finding {
	b.t.Helper()
	found, err := audit.Job(b.build, job, v)
	require.NoError(b.t, err)
	return found
}

func judged(e procedure.Entry) procedure.Judgement {
	j, _ := procedure.JudgementOf(e.Payload)
	return j
}

// of returns the findings of a rule.
func of(found []audit.Finding, rule string) []audit.Finding {
	var out []audit.Finding
	for _, f := range found {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

// rack are the tools of the tests; every one is sound and in date.
func rack() []procedure.Tool {
	both := []joint.Hand{joint.RightHand, joint.LeftHand}
	cal := []procedure.Calibration{{ID: "c1", At: monday.AddDate(0, -2, 0), Due: monday.AddDate(0, 10, 0), Hands: both, AsFound: "1.002", AsLeft: "1.000"}}
	return []procedure.Tool{
		{ID: "tw-small", Kind: procedure.Setting, Unit: torque.NewtonMeters, Min: "2", Max: "14", Graduation: "0.1", Calibrations: cal},
		{ID: "tw-show", Kind: procedure.Indicating, Unit: torque.NewtonMeters, Min: "0", Max: "15", Graduation: "0.1", Calibrations: cal},
		{ID: "tw-big", Kind: procedure.Setting, Unit: torque.NewtonMeters, Min: "20", Max: "100", Graduation: "1", Calibrations: cal},
	}
}

// rows is an invented joint table: figures for tests, on no bike.
func rows() []procedure.JointRow {
	src := procedure.Source{Text: "invented for tests", Confidence: procedure.Documented}
	return []procedure.JointRow{
		{ID: "small", Title: "small clamp", Thread: "M5x0.8", Window: "6 N·m to 7 N·m", ThreadPrep: procedure.Grease, Risk: procedure.SafetyCritical, Source: src},
		{ID: "middle", Title: "middle clamp", Thread: "M6x1", Window: "12 N·m to 14 N·m", ThreadPrep: procedure.Grease, Risk: procedure.FunctionCritical, Source: src},
		{ID: "left", Title: "left-hand ring", Thread: "M24x1 LH", Window: "35 N·m to 45 N·m", ThreadPrep: procedure.ThreadlockerMedium, Risk: procedure.FunctionCritical, Source: src},
	}
}

func sheet() *procedure.Sheet {
	return &procedure.Sheet{Build: "bike-1", Parts: []procedure.Part{{Role: "stem", Material: "alloy"}}}
}
