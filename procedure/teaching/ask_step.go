package teaching

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// askAboutStep makes the questions that belong to one step.
func (m *maker) askAboutStep(at place) []candidate {
	var out []candidate
	out = append(out, askThreads(at)...)
	out = append(out, askPreps(at)...)
	out = append(out, m.askGroup(at)...)
	if len(at.step.Voids) > 0 {
		out = append(out, at.candidate(VoidMap, "", func(*dice) (Question, bool) { return m.voidMap(at) }))
	}
	if at.step.Hold != nil {
		out = append(out, at.candidate(HoldSigner, "", func(d *dice) (Question, bool) { return holdSigner(at, d) }))
	}
	for i := range at.step.Waits {
		wait := &at.step.Waits[i]
		out = append(out, at.candidate(ReleaseTime, fmt.Sprint(i+1), func(d *dice) (Question, bool) { return releaseTime(at, wait, d) }))
	}
	for i := range at.step.Checks {
		check := &at.step.Checks[i]
		if check.Kind == procedure.Measure && check.Expect == "" && check.Error != "" {
			out = append(out, at.candidate(MeasureVerdict, check.ID, func(d *dice) (Question, bool) { return measureVerdict(at, check, d) }))
		}
	}
	return out
}

// askThreads asks which way the threads of a step turn: those that the step
// names and those of its joints.
func askThreads(at place) []candidate {
	var out []candidate
	seen := map[string]bool{}
	ask := func(text, what string) {
		t, err := joint.ParseThread(text)
		if err != nil || seen[text] {
			return
		}
		seen[text] = true
		out = append(out, at.candidate(ThreadDirection, fmt.Sprint(len(seen)), func(*dice) (Question, bool) { return threadDirection(at, t, what) }))
	}
	if at.step.Torque != nil {
		for _, c := range at.step.Torque.Joints {
			if row, ok := at.of.Joint(c.Joint); ok {
				ask(row.Thread, "the "+row.Title)
			}
		}
	}
	for _, c := range at.step.Threads {
		ask(c.Thread, "what is started here")
	}
	return out
}

// threadDirection asks which way a thread is tightened.
func threadDirection(at place, t joint.Thread, what string) (Question, bool) {
	turn := map[joint.Hand]string{joint.RightHand: "clockwise", joint.LeftHand: "counterclockwise"}
	other := joint.LeftHand
	if t.Hand() == joint.LeftHand {
		other = joint.RightHand
	}
	q := Question{
		Stem:     fmt.Sprintf("In %q, %s has the thread %v. Looking at its head, from the side it goes in, which way do you turn to tighten it?", at.step.Title, what, t),
		Answer:   turn[t.Hand()],
		Solution: fmt.Sprintf("%v is a %v thread. LH is written on left-hand threads only; without it a thread is right-hand.", t, t.Hand()),
		Source:   at.source(), Caution: "Look at the lean of the thread itself before you turn it.",
	}
	q.give("thread", t.String())
	q.wrong(turn[other], "turns every thread the same way")
	return q, true
}

// voidMap asks what leans on a step.
func (m *maker) voidMap(at place) (Question, bool) {
	leans := procedure.LeanOn(m.procedures, at.ref())
	if len(leans) == 0 {
		return Question{}, false
	}
	q := Question{
		Stem:     fmt.Sprintf("On a bike that has all these steps, everything is done. Now you take %q apart again. Which other results are void?", at.step.Title),
		Answer:   m.titles(at, leans),
		Solution: "Follow the steps that it spoils, and the steps that these spoil: " + m.titles(at, leans) + ".",
		Source:   at.source(), Caution: BenchFirst,
	}
	q.give("step", at.of.ID+"/"+at.step.ID)
	for _, edge := range at.step.Voids {
		q.give("voids", edge)
	}
	q.wrong("none", "takes a result for true for ever")
	q.wrong(m.titles(at, m.direct(at)), "does not follow what the spoiled steps spoil in turn")
	q.wrong(m.titles(at, later(at)), "takes everything that comes later for void, and only in this job")
	q.wrong(m.titles(at, leans[:len(leans)-1]), "forgets the last one")
	return q, true
}

// direct lists the steps of the same procedure that a step names itself.
func (m *maker) direct(at place) []procedure.StepRef {
	return slices.DeleteFunc(later(at), func(r procedure.StepRef) bool {
		return !slices.Contains(at.step.Voids, r.Step)
	})
}

// later lists the steps after one in its procedure.
func later(at place) []procedure.StepRef {
	var out []procedure.StepRef
	_, i, _ := at.of.Step(at.step.ID)
	for k := i + 1; k < len(at.of.Steps); k++ {
		out = append(out, procedure.StepRef{Procedure: at.of.ID, Step: at.of.Steps[k].ID})
	}
	return out
}

// titles writes steps by their titles, those of other procedures with the
// procedure's.
func (m *maker) titles(at place, refs []procedure.StepRef) string {
	if len(refs) == 0 {
		return ""
	}
	var out []string
	for _, r := range refs {
		p := m.byID[r.Procedure]
		s, _, ok := p.Step(r.Step)
		switch {
		case !ok:
		case p.ID == at.of.ID:
			out = append(out, s.Title)
		default:
			out = append(out, s.Title+" ("+p.Title+")")
		}
	}
	return strings.Join(out, "; ")
}

// holdSigner asks who of five people may sign a hold point.
func holdSigner(at place, d *dice) (Question, bool) {
	people := []signer{
		{procedure.SeniorBuilder, true}, {procedure.Foreman, false}, {procedure.SeniorBuilder, false},
		{procedure.Builder, false}, {procedure.Helper, false},
	}
	shuffle(d, people)
	by := at.step.Hold.By
	q := Question{
		Stem:     fmt.Sprintf("%q has a hold point for the %s. In the shop are %s. Who may sign?", at.step.Title, plain(by.String()), crew(people)),
		Answer:   who(people, func(s signer) bool { return s.may(by) }),
		Solution: "A second person is a senior builder or a foreman, a foreman's hold takes a foreman; nobody signs for own work, and the signature comes before the next step.",
		Source:   at.source(), Caution: BenchFirst,
	}
	q.give("hold", by.String())
	for i, s := range people {
		q.give(letter(i), s.String())
	}
	q.wrong(who(people, func(s signer) bool { return s.rank.MaySecond() }), "lets people sign for their own work")
	q.wrong(who(people, func(s signer) bool { return !s.didIt && s.rank >= procedure.Builder }), "lets every builder sign")
	q.wrong(who(people, func(s signer) bool { return s.rank.MayRelease() }), "calls the foreman for everything")
	q.wrong(who(people, func(s signer) bool { return s.rank.MaySecond() && !s.didIt }), "takes a second person where the foreman is needed")
	q.wrong(who(people, func(s signer) bool { return s.didIt }), "lets the builder come back later and sign alone")
	return q, true
}

// A signer is somebody in the shop.
type signer struct {
	rank  procedure.Rank
	didIt bool
}

// may reports whether the person may sign a hold, by the rules of the bench.
func (s signer) may(by procedure.Signer) bool {
	if s.didIt {
		return false
	}
	if by == procedure.ForemanSigns {
		return s.rank.MayRelease()
	}
	return s.rank.MaySecond()
}

// String describes the person.
func (s signer) String() string {
	if s.didIt {
		return plain(s.rank.String()) + ", did the work"
	}
	return plain(s.rank.String())
}

// letter names the people of a question: A, B, C.
func letter(i int) string { return string(rune('A' + i)) }

// crew introduces them.
func crew(people []signer) string {
	var out []string
	for i, s := range people {
		out = append(out, fmt.Sprintf("%s (%s)", letter(i), s))
	}
	return strings.Join(out, ", ")
}

// who lists those that may.
func who(people []signer, may func(signer) bool) string {
	var out []string
	for i, s := range people {
		if may(s) {
			out = append(out, letter(i))
		}
	}
	return strings.Join(out, ", ")
}
