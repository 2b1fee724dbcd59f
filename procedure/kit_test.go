package procedure_test

import (
	"fmt"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// The bench of these tests is invented: two small procedures that use every
// rule of the state machine, on a bike that nobody owns.

func source() procedure.Source {
	return procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory}
}

func cups() procedure.Definition {
	return procedure.Definition{
		ID: "cups", Title: "Cups", Edition: 1, Risk: procedure.FunctionCritical, Source: source(),
		Minutes: 20, LeastMinutes: 5, Roles: []string{"bottom-bracket-shell"},
		Steps: []procedure.Step{
			{ID: "start", Title: "Start by hand", Do: "Start the cup.", Why: "A thread.", Accept: "It turns.",
				Checks: []procedure.Check{{ID: "turns", Kind: procedure.Measure, Ask: "Turns by hand", Unit: "turns", Min: "3", Instrument: "count"}},
				Hold:   &procedure.Hold{By: procedure.SecondPerson, LooksAt: "three turns"},
				Voids:  []string{"tighten"}},
			{ID: "tighten", Title: "Tighten the cup", Do: "Pull once.", Why: "Seat it.", Accept: "It signals.",
				Prep: &procedure.PrepRule{Thread: []procedure.PrepChoice{{Use: procedure.ThreadlockerMedium, Why: "it walks"}}},
				Torque: &procedure.TorqueRule{Joints: []procedure.JointChoice{{Joint: "cup"}},
					Bolts: []string{"cup"}, Passes: []int{100}},
				Waits: []procedure.Wait{{For: procedure.Duration(3 * time.Hour), Before: procedure.BeforeReleasing,
					Longer: []procedure.Longer{{Metals: []string{"stainless", "titanium"}, Times: 2}, {BelowCelsius: ptr(10), Times: 2}},
					Why:    "it cures", Source: source()}},
				Voids: []string{"crank/*"}},
		},
	}
}

func crank() procedure.Definition {
	return procedure.Definition{
		ID: "crank", Title: "Crank", Edition: 1, Risk: procedure.SafetyCritical, Source: source(),
		Minutes: 20, LeastMinutes: 5, Roles: []string{"crank-arm-left"},
		Steps: []procedure.Step{
			{ID: "fit-arm", Title: "Fit the arm", Do: "Slide it on.", Why: "It leads.", Accept: "Opposite.",
				Checks: []procedure.Check{{ID: "opposite", Kind: procedure.Look, Ask: "The arms are opposite"}},
				Voids:  []string{"preload"}},
			{ID: "preload", Title: "Set the preload", Do: "Turn the cap.", Why: "Play.", Accept: "No rock.",
				Checks: []procedure.Check{
					{ID: "rock", Kind: procedure.Look, Ask: "No rock"},
					{ID: "gap", Kind: procedure.Measure, Ask: "Slot", Unit: "mm", Min: "1", Max: "2", Error: "0.1", Instrument: "caliper"},
				},
				Voids: []string{"pinch"}},
			{ID: "plate", Title: "Drop the plate", Do: "Push it down.", Why: "Second line.", Accept: "Flush.",
				Checks: []procedure.Check{{ID: "down", Kind: procedure.Photo, Ask: "The plate is down"}}},
			{ID: "pinch", Title: "Pinch bolts", Do: "Alternate.", Why: "They share a slot.", Accept: "Neither turns.",
				Parts: []string{"crank-arm-left"},
				Prep:  &procedure.PrepRule{Thread: []procedure.PrepChoice{{Use: procedure.Grease, Why: "the figure assumes it"}}},
				Torque: &procedure.TorqueRule{Joints: []procedure.JointChoice{{Joint: "pinch"}},
					Bolts: []string{"A", "B"}, Passes: []int{50, 100}, Closing: true},
				Hold: &procedure.Hold{By: procedure.SecondPerson, LooksAt: "neither bolt turns"}},
			{ID: "recheck", Title: "After the ride", Do: "Pull again.", Why: "It beds in.", Accept: "No turn.",
				Torque: &procedure.TorqueRule{Joints: []procedure.JointChoice{{Joint: "pinch"}},
					Bolts: []string{"A", "B"}, Passes: []int{100}},
				Due: procedure.BeforeRelease},
		},
	}
}

func jointTable() []procedure.JointRow {
	return []procedure.JointRow{
		{ID: "cup", Title: "cup", Thread: "1.37 in x 24 tpi LH", Window: "35 N·m to 45 N·m", Aim: "40 N·m",
			ThreadPrep: procedure.ThreadlockerMedium, Risk: procedure.FunctionCritical, Source: source()},
		{ID: "pinch", Title: "pinch bolt", Thread: "M6x1", Window: "12 N·m to 14 N·m", Aim: "13 N·m",
			Limits: []string{"crank-arm-left"}, ThreadPrep: procedure.Grease, Risk: procedure.SafetyCritical, Source: source()},
	}
}

func sheet() *procedure.Sheet {
	return &procedure.Sheet{Build: "b-1", Invented: true, Parts: []procedure.Part{
		{Role: "bottom-bracket-shell", Material: "steel"},
		{Role: "crank-arm-left", Material: "alloy", Printed: []procedure.PrintedFigure{
			{Joint: "pinch", Marking: "12-14 Nm", Seen: procedure.Printed, Where: "inside of the arm"}}},
	}}
}

var monday = time.Date(2025, 3, 3, 9, 0, 0, 0, time.UTC)

func calibrated(hands ...joint.Hand) []procedure.Calibration {
	return []procedure.Calibration{{At: monday.AddDate(0, -6, 0), Due: monday.AddDate(0, 6, 0), Hands: hands}}
}

func rack() []procedure.Tool {
	both := []joint.Hand{joint.RightHand, joint.LeftHand}
	overdue := calibrated(both...)
	overdue[0].Due = monday.AddDate(0, 0, -5)
	fine := calibrated(both...)
	fine[0].DeviationPercent = "1"
	return []procedure.Tool{
		{ID: "small", Kind: procedure.Setting, Min: "2", Max: "20", Graduation: "0.1", Calibrations: calibrated(joint.RightHand)},
		{ID: "large", Kind: procedure.Setting, Min: "20", Max: "100", Graduation: "1", Calibrations: calibrated(both...)},
		{ID: "large-right", Kind: procedure.Setting, Min: "20", Max: "100", Graduation: "1", Calibrations: calibrated(joint.RightHand)},
		{ID: "fine", Kind: procedure.Setting, Min: "2", Max: "20", Graduation: "0.1", Calibrations: fine},
		{ID: "overdue", Kind: procedure.Setting, Min: "2", Max: "20", Graduation: "0.1", Calibrations: overdue},
	}
}

func ptr[T any](v T) *T { return &v }

func resolve(t tester, d procedure.Definition) *procedure.Resolved {
	t.Helper()
	r, err := procedure.Resolve(&d, jointTable())
	require.NoError(t, err)
	return r
}

func plan(t tester, d procedure.Definition) *procedure.Plan {
	t.Helper()
	p, err := procedure.NewPlan(resolve(t, d), sheet(), rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	require.Empty(t, p.Findings)
	return p
}

// tester is what both a test and a property check are.
type tester interface {
	require.TestingT
	Helper()
}

// bench plays commands against a record as a server would.
type bench struct {
	t     tester
	build *procedure.Build
	plans map[string]*procedure.Plan
	now   time.Time
	n     int
	// skills holds the registers that the shop keeps, by person.
	skills map[string]*procedure.SkillRegister
}

func newBench(t tester) *bench {
	b := &bench{t: t, plans: map[string]*procedure.Plan{}, now: monday}
	b.build = procedure.NewBuild("b-1", b.planSource)
	return b
}

func (b *bench) planSource(digest string) (*procedure.Plan, error) {
	p, ok := b.plans[digest]
	if !ok {
		return nil, procedure.ErrNotFound
	}
	return p, nil
}

var people = map[string]procedure.Rank{
	"ana": procedure.Builder, "ben": procedure.SeniorBuilder, "cor": procedure.Builder, "fay": procedure.Foreman,
}

func (b *bench) call(person string) procedure.Call {
	b.n++
	us := b.now.UnixMicro()
	return procedure.Call{
		EntryID: fmt.Sprintf("e-%d", b.n), Workshop: "w", By: b.actor(person),
		Moment: procedure.Moment{Tablet: "t1", TabletSeq: int64(b.n), Boot: "b1", MonotonicUS: us - monday.UnixMicro(),
			TabletUS: us, ServerUS: us, OffsetUS: ptr[int64](0)},
		Tools: func(id string) (*procedure.Tool, bool) {
			for _, tool := range rack() {
				if tool.ID == id {
					return &tool, true
				}
			}
			return nil, false
		},
	}
}

// actor is a person with rank and register.
func (b *bench) actor(person string) procedure.Actor {
	return procedure.Actor{Person: person, Rank: people[person], Skills: b.skills[person]}
}

// try decides and applies, and returns the entry or the error.
func (b *bench) try(person string, c procedure.Command) (procedure.Entry, error) {
	if o, ok := c.(procedure.OpenJob); ok {
		b.keep(o.Plan)
	}
	if s, ok := c.(procedure.SwapPart); ok {
		b.keep(s.Plan)
	}
	e, err := b.build.Decide(c, b.call(person))
	if err != nil {
		return e, err
	}
	require.NoError(b.t, b.build.Apply(b.stored(e)))
	b.now = b.now.Add(time.Minute)
	return e, nil
}

// stored sends the entry through its bytes, as a server would.
func (b *bench) stored(e procedure.Entry) procedure.Entry {
	envelope, payload, err := e.Encode()
	require.NoError(b.t, err)
	back, err := procedure.DecodeEntry(envelope, payload)
	require.NoError(b.t, err)
	require.Equal(b.t, e, back)
	return back
}

func (b *bench) keep(p *procedure.Plan) {
	data, digest, err := p.Encode()
	require.NoError(b.t, err)
	back, err := procedure.DecodePlan(data)
	require.NoError(b.t, err)
	again, digestAgain, err := back.Encode()
	require.NoError(b.t, err)
	require.Equal(b.t, string(data), string(again))
	require.Equal(b.t, digest, digestAgain)
	b.plans[digest] = back
}

func (b *bench) do(person string, c procedure.Command) procedure.Entry {
	b.t.Helper()
	e, err := b.try(person, c)
	require.NoError(b.t, err)
	return e
}

func (b *bench) refused(person string, c procedure.Command, rule string) {
	b.t.Helper()
	_, err := b.try(person, c)
	var r *procedure.RefusedError
	require.ErrorAs(b.t, err, &r)
	require.Equal(b.t, rule, r.Rule, r.Text)
}

func newtonMeters(digits string) torque.Figure {
	f, err := torque.ParseFigure(digits, torque.NewtonMeters)
	if err != nil {
		panic(err)
	}
	return f
}

func pull(bolt, digits string) procedure.TakeReading {
	return procedure.TakeReading{Job: "crank", Step: "pinch", Bolt: bolt, Figure: newtonMeters(digits), Tool: "small"}
}

func turned(r procedure.TakeReading) procedure.TakeReading {
	r.Turned = true
	return r
}

// judgement returns what the rules said of a fact.
func judgement(t tester, e procedure.Entry) procedure.Judgement {
	t.Helper()
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken:
		return p.Judgement
	case procedure.MeasureTaken:
		return p.Judgement
	case procedure.LookTaken:
		return p.Judgement
	case procedure.PhotoTaken:
		return p.Judgement
	case procedure.PrepDone:
		return p.Judgement
	}
	require.Fail(t, "no judgement", "%T", e.Payload)
	return procedure.Judgement{}
}

// toPinch opens the crank job and works up to the pinch bolts' prep.
func (b *bench) toPinch() {
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(b.t, crank())})
	b.upToPinch()
}

// upToPinch works an open crank job up to the pinch bolts' prep.
func (b *bench) upToPinch() {
	b.do("ana", procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true})
	b.do("ana", procedure.TakeLook{Job: "crank", Step: "preload", Check: "rock", OK: true})
	b.do("ana", procedure.TakeMeasure{Job: "crank", Step: "preload", Check: "gap", Value: "1.5", Unit: "mm"})
	b.do("ana", procedure.TakePhoto{Job: "crank", Step: "plate", Check: "down", Picture: "p1"})
	b.do("ana", procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease})
}

// pinch takes all passes and one clean closing round.
func (b *bench) pinch() {
	for _, r := range []procedure.TakeReading{
		turned(pull("A", "6.5")), turned(pull("B", "6.5")), turned(pull("A", "13")), turned(pull("B", "13")), pull("A", "13"), pull("B", "13"),
	} {
		e := b.do("ana", r)
		jd := judgement(b.t, e)
		require.True(b.t, jd.Counts, jd.Text)
	}
}

// finishCrank works the whole crank job.
func (b *bench) finishCrank() {
	b.toPinch()
	b.pinch()
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n1"})
	b.do("ana", procedure.FinishJob{Job: "crank"})
}
