package procedure_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"pgregory.net/rapid"
)

// TestNoSequenceFinishesABadJob plays random commands by random people. What
// the state machine calls finished is checked against a reading of the bare
// entries that shares no code with it.
func TestNoSequenceFinishesABadJob(t *testing.T) {
	finished := 0
	rapid.Check(t, func(rt *rapid.T) {
		b := newBench(t)
		b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, crank())})
		b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(t, cups())})
		for range rapid.IntRange(10, 80).Draw(rt, "steps") {
			person := rapid.SampledFrom([]string{"ana", "ben", "fay"}).Draw(rt, "person")
			before := b.build.Seq
			e, err := b.try(person, draw(rt, b))
			if err != nil {
				require.Equal(rt, before, b.build.Seq, "a refusal records nothing")
				continue
			}
			if _, ok := e.Payload.(procedure.JobFinished); ok {
				finished++
				assertSound(rt, b.build, e.Job, procedure.BeforeFinish)
			}
			if _, ok := e.Payload.(procedure.BuildReleased); ok {
				assertSound(rt, b.build, "crank", procedure.BeforeFinish)
				assertSound(rt, b.build, "crank", procedure.BeforeRelease)
			}
			b.now = b.now.Add(time.Duration(rapid.IntRange(0, 90).Draw(rt, "minutes")) * time.Minute)
		}
		again, err := procedure.Fold("b-1", b.build.Entries(), b.planSource)
		require.NoError(rt, err)
		require.Equal(rt, states(b.build), states(again), "the fold of the record is the state")
	})
	require.Positive(t, finished, "the generator must reach the end of a job")
}

// states is the visible state of all steps.
func states(b *procedure.Build) []string {
	var out []string
	for _, j := range b.Jobs {
		for _, s := range j.Steps {
			out = append(out, fmt.Sprintf("%s/%s done=%v complete=%v missing=%v rework=%q group=%+v",
				j.ID, s.Planned.ID, s.Done(), s.Complete(), s.Missing(), s.Rework, s.Group))
		}
	}
	return out
}

// draw picks a command: mostly the next useful one, sometimes anything.
func draw(rt *rapid.T, b *bench) procedure.Command {
	if rapid.IntRange(0, 9).Draw(rt, "stray") < 7 {
		if c := useful(rt, b); c != nil {
			return c
		}
	}
	return stray(rt, b)
}

func useful(rt *rapid.T, b *bench) procedure.Command {
	job := rapid.SampledFrom([]string{"crank", "crank", "cups"}).Draw(rt, "job")
	g, err := b.build.Guide(job, b.call("ana").Moment)
	require.NoError(rt, err)
	if g.Current == "" {
		j, _ := b.build.Job(job)
		if j.Closed() {
			return procedure.ReleaseBuild{}
		}
		return procedure.FinishJob{Job: job}
	}
	i := slices.IndexFunc(g.Steps, func(s procedure.GuideStep) bool { return s.ID == g.Current })
	gs := g.Steps[i]
	switch {
	case gs.Status == procedure.StepRework:
		return procedure.BeginRework{Job: job, Step: gs.ID, Reason: "r"}
	case gs.Status == procedure.StepToSign:
		return procedure.SignHold{Job: job, Step: gs.ID, Saw: "n"}
	case len(gs.Missing) == 0:
		return nil
	}
	return fact(rt, job, gs.ID, gs.Missing[0], gs)
}

func fact(rt *rapid.T, job, step, item string, gs procedure.GuideStep) procedure.Command {
	switch item {
	case "check.opposite", "check.rock":
		return procedure.TakeLook{Job: job, Step: step, Check: item[6:], OK: rapid.IntRange(0, 9).Draw(rt, "ok") > 0}
	case "check.gap":
		return procedure.TakeMeasure{Job: job, Step: step, Check: "gap", Unit: "mm",
			Value: rapid.SampledFrom([]string{"1.5", "1.5", "1.04", "0.5", "1.9"}).Draw(rt, "gap")}
	case "check.turns":
		return procedure.TakeMeasure{Job: job, Step: step, Check: "turns", Unit: "turns",
			Value: rapid.SampledFrom([]string{"3", "4", "2"}).Draw(rt, "turns")}
	case "check.down":
		return procedure.TakePhoto{Job: job, Step: step, Check: "down", Picture: "p"}
	case "prep":
		prep := map[string]procedure.Prep{"crank": procedure.Grease, "cups": procedure.ThreadlockerMedium}[job]
		return procedure.DoPrep{Job: job, Step: step, Thread: rapid.SampledFrom([]procedure.Prep{prep, prep, prep, procedure.Dry}).Draw(rt, "prep")}
	}
	r := procedure.TakeReading{Job: job, Step: step, Bolt: gs.Bolt, Tool: "small", Turned: rapid.IntRange(0, 3).Draw(rt, "turned") == 0}
	if r.Bolt == "" {
		r.Bolt = item[5:]
	}
	if job == "cups" {
		r.Tool = "large"
		r.Figure = newtonMeters(rapid.SampledFrom([]string{"40", "40", "44.5", "60", "20"}).Draw(rt, "cup"))
		return r
	}
	full := []string{"13", "13", "13", "13", "13", "13.9", "16", "11"}
	if gs.Pass == 1 && step == "pinch" {
		full = []string{"6.5"}
	}
	r.Figure = newtonMeters(rapid.SampledFrom(full).Draw(rt, "figure"))
	return r
}

// stray picks any command on anything.
func stray(rt *rapid.T, b *bench) procedure.Command {
	bolt := rapid.SampledFrom([]string{"A", "B"}).Draw(rt, "bolt")
	last := b.build.Entries()[rapid.IntRange(0, len(b.build.Entries())-1).Draw(rt, "entry")].ID
	all := []procedure.Command{
		procedure.TakeReading{Job: "crank", Step: "pinch", Bolt: bolt, Tool: rapid.SampledFrom([]string{"small", "overdue", "none"}).Draw(rt, "tool"),
			Figure: newtonMeters(rapid.SampledFrom([]string{"6.5", "13", "15"}).Draw(rt, "nm")), Turned: rapid.Bool().Draw(rt, "moved")},
		procedure.TakeReading{Job: "crank", Step: "recheck", Bolt: bolt, Tool: "small", Figure: newtonMeters("13")},
		procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true},
		procedure.TakeLook{Job: "crank", Step: "preload", Check: "rock", OK: true},
		procedure.TakeMeasure{Job: "cups", Step: "start", Check: "turns", Value: "3", Unit: "turns"},
		procedure.DoPrep{Job: "crank", Step: "pinch", Thread: procedure.Grease},
		procedure.DoPrep{Job: "cups", Step: "tighten", Thread: procedure.ThreadlockerMedium},
		procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"},
		procedure.SignHold{Job: "cups", Step: "start", Saw: "n"},
		procedure.BeginRework{Job: "crank", Step: "pinch", From: rapid.SampledFrom([]string{"", "preload", "fit-arm"}).Draw(rt, "from"), Reason: "r"},
		procedure.WithdrawEntry{Entry: last, Cause: procedure.CauseMisTap, Reason: "r"},
		procedure.CorrectTool{Entry: last, Tool: rapid.SampledFrom([]string{"small", "overdue"}).Draw(rt, "other"), Reason: "r"},
		procedure.AcceptResult{Job: "crank", Entry: last, Reason: "r"},
		procedure.FinishJob{Job: "crank"},
		procedure.FinishJob{Job: "cups"},
		procedure.ReleaseBuild{},
	}
	return all[rapid.IntRange(0, len(all)-1).Draw(rt, "command")]
}

// assertSound reads the entries of a job and demands, for every item of every
// step of the due: a counted fact that was not withdrawn, spoiled later or
// nonconforming; for a group a closing round in which no bolt turned; for a
// hold a signature by another, able person after the last fact.
func assertSound(rt *rapid.T, b *procedure.Build, job string, due procedure.Due) {
	j, _ := b.Job(job)
	for i := range j.Plan.Steps {
		s := &j.Plan.Steps[i]
		if s.Due == due {
			assertStep(rt, record{b, job, s})
		}
	}
}

type record struct {
	b    *procedure.Build
	job  string
	step *procedure.PlannedStep
}

func assertStep(rt *rapid.T, r record) {
	var items []string
	if s := r.step; s.ThreadPrep != nil || s.FacePrep != nil {
		items = append(items, "prep")
	}
	if r.step.Torque != nil {
		for _, bolt := range r.step.Torque.Bolts {
			items = append(items, "bolt."+bolt)
		}
	}
	for _, c := range r.step.Checks {
		items = append(items, "check."+c.ID)
	}
	for _, item := range items {
		r.assertItem(rt, item)
	}
	if r.step.Torque != nil && r.step.Torque.Closing {
		r.assertClosing(rt)
	}
	if r.step.Torque != nil {
		r.assertNotPastTheLimit(rt)
	}
	if r.step.Hold != nil {
		r.assertSigned(rt)
	}
}

// facts lists the counted facts of the step that were not withdrawn.
func (r record) facts() []procedure.Entry {
	var out []procedure.Entry
	for _, e := range r.b.Entries() {
		item, jd := itemOf(e)
		if e.Job == r.job && item != "" && stepOf(e) == r.step.ID && jd.Counts && !r.b.IsWithdrawn(e.ID) {
			out = append(out, e)
		}
	}
	return out
}

func stepOf(e procedure.Entry) string {
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken:
		return p.Step
	case procedure.MeasureTaken:
		return p.Step
	case procedure.LookTaken:
		return p.Step
	case procedure.PhotoTaken:
		return p.Step
	case procedure.PrepDone:
		return p.Step
	}
	return ""
}

func itemOf(e procedure.Entry) (string, procedure.Judgement) {
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken:
		return "bolt." + p.Bolt, p.Judgement
	case procedure.MeasureTaken:
		return "check." + p.Check, p.Judgement
	case procedure.LookTaken:
		return "check." + p.Check, p.Judgement
	case procedure.PhotoTaken:
		return "check." + p.Check, p.Judgement
	case procedure.PrepDone:
		return "prep", p.Judgement
	}
	return "", procedure.Judgement{}
}

func (r record) assertItem(rt *rapid.T, item string) {
	var last procedure.Entry
	for _, e := range r.facts() {
		if got, _ := itemOf(e); got == item {
			last = e
		}
	}
	require.NotZero(rt, last.Seq, "%s/%s %s is missing", r.job, r.step.ID, item)
	_, jd := itemOf(last)
	verdict := jd.Verdict
	for _, e := range r.b.Entries() {
		if c, ok := e.Payload.(procedure.ToolCorrected); ok && c.Entry == last.ID && !r.b.IsWithdrawn(e.ID) {
			verdict = c.Judgement.Verdict
			require.True(rt, c.Judgement.Counts, "%s rests on a tool that cannot vouch", item)
		}
	}
	switch verdict {
	case procedure.Conforming:
	case procedure.Undecided:
		require.True(rt, r.step.Risk < procedure.SafetyCritical || r.accepted(last.ID), "%s is undecided", item)
	default:
		require.Fail(rt, "nonconforming", "%s/%s %s: %v", r.job, r.step.ID, item, verdict)
	}
	for _, e := range r.b.Entries()[last.Seq:] {
		for _, v := range voidsOf(e) {
			spoiled := v.Job == r.job && v.Step == r.step.ID && v.Item == item && !r.b.IsWithdrawn(e.ID)
			require.False(rt, spoiled, "%s/%s %s is void since %d", r.job, r.step.ID, item, e.Seq)
		}
	}
}

func (r record) accepted(id string) bool {
	return slices.ContainsFunc(r.b.Entries(), func(e procedure.Entry) bool {
		a, ok := e.Payload.(procedure.ResultAccepted)
		return ok && a.Entry == id && a.Rank.MayRelease()
	})
}

func voidsOf(e procedure.Entry) []procedure.ResultRef {
	switch p := e.Payload.(type) {
	case procedure.ReworkBegun:
		return p.Voids
	case procedure.PartSwapped:
		return p.Voids
	}
	_, jd := itemOf(e)
	return jd.Voids
}

func (r record) assertClosing(rt *rapid.T) {
	turned := map[string]bool{}
	for _, e := range r.facts() {
		p, ok := e.Payload.(procedure.ReadingTaken)
		if ok && p.Judgement.Round > 0 && p.Judgement.Verdict != procedure.Nonconforming {
			turned[p.Bolt] = p.Turned
		}
	}
	require.Len(rt, turned, len(r.step.Torque.Bolts), "every bolt has a closing reading")
	for bolt, moved := range turned {
		require.False(rt, moved, "bolt %s turned in its last closing reading", bolt)
	}
}

func (r record) assertSigned(rt *rapid.T) {
	var sign procedure.Entry
	for _, e := range r.b.Entries() {
		if p, ok := e.Payload.(procedure.HoldSigned); ok && e.Job == r.job && p.Step == r.step.ID && !r.b.IsWithdrawn(e.ID) {
			sign = e
		}
	}
	require.NotZero(rt, sign.Seq, "%s/%s is not signed", r.job, r.step.ID)
	require.True(rt, sign.Payload.(procedure.HoldSigned).Rank.MaySecond())
	latest := map[string]procedure.Entry{}
	for _, e := range r.facts() {
		item, _ := itemOf(e)
		latest[item] = e
	}
	for item, e := range latest {
		require.Less(rt, e.Seq, sign.Seq, "%s was taken after the signature", item)
		require.NotEqual(rt, e.Actor, sign.Actor, "%s was signed by the person who took it", item)
	}
}

// FuzzRecord lets the fuzzer choose the commands of the property test.
func FuzzRecord(f *testing.F) {
	f.Fuzz(rapid.MakeFuzz(func(rt *rapid.T) {
		b := newBench(rt)
		b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(rt, crank())})
		b.do("ana", procedure.OpenJob{Job: "cups", Plan: plan(rt, cups())})
		for range rapid.IntRange(0, 40).Draw(rt, "steps") {
			e, err := b.try(rapid.SampledFrom([]string{"ana", "ben", "fay"}).Draw(rt, "person"), draw(rt, b))
			if _, ok := e.Payload.(procedure.JobFinished); ok && err == nil {
				assertSound(rt, b.build, e.Job, procedure.BeforeFinish)
			}
		}
	}))
}

// assertNotPastTheLimit demands a rework after every pull past the limit,
// counted or not, that was not taken back or explained by another tool.
func (r record) assertNotPastTheLimit(rt *rapid.T) {
	past := map[string]bool{}
	for _, e := range r.b.Entries() {
		if e.Job != r.job || r.b.IsWithdrawn(e.ID) {
			continue
		}
		switch p := e.Payload.(type) {
		case procedure.ReadingTaken:
			if p.Step == r.step.ID && p.Judgement.Verdict == procedure.Nonconforming && !p.Judgement.Retake {
				past[e.ID] = true
			}
		case procedure.ToolCorrected:
			if p.Judgement.Verdict != procedure.Nonconforming {
				delete(past, p.Entry)
			}
		case procedure.ReworkBegun:
			clear(past)
		}
	}
	require.Empty(rt, past, "%s/%s was pulled past its limit", r.job, r.step.ID)
}
