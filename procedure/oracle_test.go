package procedure_test

import (
	"slices"
	"strings"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"pgregory.net/rapid"
)

// A record is one step of a job, read from the bare entries. It shares no code
// with the state machine: what a hand spoils it works out from the void maps
// of the plans, not from what the entries say they spoiled.
type record struct {
	b    *procedure.Build
	job  string
	step *procedure.PlannedStep
}

// assertReleasable demands that every job that answers for the bike is
// finished and sound, later steps and waits included.
func assertReleasable(rt *rapid.T, b *procedure.Build) {
	for i, j := range b.Jobs {
		later := slices.ContainsFunc(b.Jobs[i+1:], func(o *procedure.Job) bool {
			return o.Plan.Procedure == j.Plan.Procedure && o.Abandoned == nil
		})
		if j.Abandoned != nil || later {
			continue
		}
		require.NotNil(rt, j.Finished, "job %s is open", j.ID)
		assertSound(rt, b, j.ID, procedure.BeforeFinish)
		assertSound(rt, b, j.ID, procedure.BeforeRelease)
		assertCured(rt, b, j)
	}
}

// assertCured demands six hours between threadlocker and release: the metal
// is never recorded in these records, and so counts as slow.
func assertCured(rt *rapid.T, b *procedure.Build, j *procedure.Job) {
	for _, e := range b.Entries() {
		if p, ok := e.Payload.(procedure.PrepDone); ok && e.Job == j.ID && !b.IsWithdrawn(e.ID) && p.Judgement.Counts && p.Step == "tighten" {
			passed := b.Released.Moment.Best().Sub(e.Moment.Best())
			require.GreaterOrEqual(rt, passed, 6*time.Hour, "entry %d had not cured", e.Seq)
		}
	}
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

func assertStep(rt *rapid.T, r record) {
	for _, item := range r.step.Items() {
		r.assertItem(rt, item)
	}
	if r.step.Torque != nil {
		r.assertAfterPrep(rt)
		r.assertNotPastTheLimit(rt)
	}
	if r.step.Torque != nil && r.step.Torque.Closing {
		r.assertClosing(rt)
	}
	if r.step.Hold != nil {
		r.assertSigned(rt)
	}
}

// own lists the entries of the step that were not withdrawn.
func (r record) own() []procedure.Entry {
	var out []procedure.Entry
	for _, e := range r.b.Entries() {
		if e.Job == r.job && procedure.StepOf(e.Payload) == r.step.ID && !r.b.IsWithdrawn(e.ID) {
			out = append(out, e)
		}
	}
	return out
}

// facts lists the counted facts of the step that were not withdrawn.
func (r record) facts() []procedure.Entry {
	return slices.DeleteFunc(r.own(), func(e procedure.Entry) bool {
		return procedure.ItemOf(e.Payload) == "" || !r.judgement(e).Counts
	})
}

// judgement is what the rules say of a fact, by the last tool named for it.
func (r record) judgement(e procedure.Entry) procedure.Judgement {
	jd, _ := procedure.JudgementOf(e.Payload)
	for _, c := range r.b.Entries() {
		if p, ok := c.Payload.(procedure.ToolCorrected); ok && p.Entry == e.ID {
			jd = p.Judgement
		}
	}
	return jd
}

// latest returns the last counted fact of each item.
func (r record) latest() map[string]procedure.Entry {
	out := map[string]procedure.Entry{}
	for _, e := range r.facts() {
		out[procedure.ItemOf(e.Payload)] = e
	}
	return out
}

func (r record) assertItem(rt *rapid.T, item string) {
	last, ok := r.latest()[item]
	require.True(rt, ok, "%s/%s %s is missing", r.job, r.step.ID, item)
	switch jd := r.judgement(last); jd.Verdict {
	case procedure.Conforming:
	case procedure.Undecided:
		require.True(rt, r.step.Risk < procedure.SafetyCritical || r.isAccepted(last), "%s is undecided", item)
	default:
		require.Fail(rt, "nonconforming", "%s/%s %s: %v", r.job, r.step.ID, item, jd.Verdict)
	}
	for _, e := range r.b.Entries()[last.Seq:] {
		require.False(rt, r.isSpoiledBy(e), "%s/%s %s was spoiled by entry %d", r.job, r.step.ID, item, e.Seq)
	}
}

// isAccepted reports whether a foreman took the result as it is now, with the
// tool that it was last corrected to.
func (r record) isAccepted(last procedure.Entry) bool {
	accepted := false
	for _, e := range r.b.Entries() {
		switch p := e.Payload.(type) {
		case procedure.ResultAccepted:
			accepted = accepted || p.Entry == last.ID && p.Rank.MayRelease()
		case procedure.ToolCorrected:
			accepted = accepted && p.Entry != last.ID
		}
	}
	return accepted
}

// isSpoiledBy reports whether the hand of an entry spoils the step: from
// another step that it leans on, or from a job about the same joints.
func (r record) isSpoiledBy(e procedure.Entry) bool {
	if r.b.IsWithdrawn(e.ID) {
		return false
	}
	mine, _ := r.b.Job(r.job)
	here := mine.Plan.Procedure + "/" + r.step.ID
	for _, hand := range r.hands(e) {
		if hand == here && e.Job != r.job || r.reaches(hand, here) {
			return true
		}
	}
	p, isRework := e.Payload.(procedure.ReworkBegun)
	return isRework && e.Job == r.job && r.covers(p)
}

// hands lists the steps that a hand was at.
func (r record) hands(e procedure.Entry) []string {
	j, ok := r.b.Job(e.Job)
	if !ok {
		return nil
	}
	step := procedure.StepOf(e.Payload)
	at := j.Plan.Procedure + "/" + step
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken, procedure.PrepDone, procedure.MeasureTaken:
		return []string{at}
	case procedure.LookTaken:
		if s, ok := j.Plan.Step(step); ok && s.Torque == nil && s.ThreadPrep == nil && s.FacePrep == nil {
			return []string{at}
		}
	case procedure.ReworkBegun:
		var out []string
		for i := range j.Plan.Steps {
			if s := &j.Plan.Steps[i]; (record{r.b, e.Job, s}).covers(p) {
				out = append(out, j.Plan.Procedure+"/"+s.ID)
			}
		}
		return out
	case procedure.PartSwapped:
		var out []string
		for i := range j.Plan.Steps {
			if s := &j.Plan.Steps[i]; slices.Contains(s.Parts, p.Role) {
				out = append(out, j.Plan.Procedure+"/"+s.ID)
			}
		}
		return out
	}
	return nil
}

// covers reports whether a rework of the job went through the step.
func (r record) covers(p procedure.ReworkBegun) bool {
	j, _ := r.b.Job(r.job)
	place := func(id string) int {
		return slices.IndexFunc(j.Plan.Steps, func(s procedure.PlannedStep) bool { return s.ID == id })
	}
	return place(p.From) <= place(r.step.ID) && place(r.step.ID) <= place(p.Step)
}

// reaches reports whether the void maps lead from one step to another.
func (r record) reaches(from, to string) bool {
	seen, queue := map[string]bool{}, []string{from}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, next := range r.edges(at) {
			if next == to {
				return true
			}
			if !seen[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return false
}

func (r record) edges(at string) []string {
	proc, id, _ := strings.Cut(at, "/")
	var out []string
	for _, j := range r.b.Jobs {
		s, ok := j.Plan.Step(id)
		if j.Plan.Procedure != proc || !ok {
			continue
		}
		for _, target := range s.Voids {
			switch other, all := strings.CutSuffix(target, "/*"); {
			case all:
				out = append(out, r.stepsOf(other)...)
			case strings.Contains(target, "/"):
				out = append(out, target)
			default:
				out = append(out, proc+"/"+target)
			}
		}
	}
	return out
}

func (r record) stepsOf(proc string) []string {
	var out []string
	for _, j := range r.b.Jobs {
		for i := range j.Plan.Steps {
			if j.Plan.Procedure == proc {
				out = append(out, proc+"/"+j.Plan.Steps[i].ID)
			}
		}
	}
	return out
}

// assertAfterPrep demands that every bolt was pulled after the joint was last
// prepared.
func (r record) assertAfterPrep(rt *rapid.T) {
	var prepared int64
	for _, e := range r.own() {
		if _, ok := e.Payload.(procedure.PrepDone); ok {
			prepared = e.Seq
		}
	}
	for item, e := range r.latest() {
		if strings.HasPrefix(item, "bolt.") {
			require.Greater(rt, e.Seq, prepared, "%s/%s %s was pulled before the prep", r.job, r.step.ID, item)
		}
	}
}

// assertClosing demands of every bolt a closing reading in which it did not
// turn, after the last pull in which any bolt of the group did.
func (r record) assertClosing(rt *rapid.T) {
	var turned int64
	closing := map[string]int64{}
	for _, e := range r.own() {
		p, ok := e.Payload.(procedure.ReadingTaken)
		if !ok {
			continue
		}
		if p.Turned {
			turned = e.Seq
		}
		if jd := r.judgement(e); jd.Counts && jd.Round > 0 && jd.Verdict != procedure.Nonconforming {
			closing[p.Bolt] = e.Seq
		}
	}
	for _, bolt := range r.step.Torque.Bolts {
		require.Greater(rt, closing[bolt], turned, "%s/%s: bolt %s has no closing reading after a bolt turned", r.job, r.step.ID, bolt)
	}
}

func (r record) assertSigned(rt *rapid.T) {
	var sign procedure.Entry
	for _, e := range r.own() {
		if _, ok := e.Payload.(procedure.HoldSigned); ok {
			sign = e
		}
	}
	require.NotZero(rt, sign.Seq, "%s/%s is not signed", r.job, r.step.ID)
	require.True(rt, sign.Payload.(procedure.HoldSigned).Rank.MaySecond())
	for item, e := range r.latest() {
		require.Less(rt, e.Seq, sign.Seq, "%s was taken after the signature", item)
		require.NotEqual(rt, e.Actor, sign.Actor, "%s was signed by the person who took it", item)
	}
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
			if r.covers(p) {
				clear(past)
			}
		}
	}
	require.Empty(rt, past, "%s/%s was pulled past its limit", r.job, r.step.ID)
}
