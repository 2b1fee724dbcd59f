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
	out = append(out, m.askVoids(at)...)
	if at.step.Hold != nil {
		out = append(out, at.candidate(HoldSigner, "", func(d *dice) (Question, bool) { return holdSigner(at, d) }))
	}
	for i := range at.step.Waits {
		wait := &at.step.Waits[i]
		out = append(out, at.candidate(ReleaseTime, fmt.Sprint(i+1), func(d *dice) (Question, bool) { return m.releaseTime(at, wait, d) }))
	}
	for i := range at.step.Checks {
		check := &at.step.Checks[i]
		if check.Kind == procedure.Measure && check.Expect == "" && check.Error != "" {
			out = append(out, at.candidate(MeasureVerdict, check.ID, func(d *dice) (Question, bool) { return measureVerdict(at, check, d) }))
		}
	}
	return out
}

// askThreads asks which way the threads of a step turn: those of its joints, and
// those that it starts where no step tightens them. Each thread of a procedure
// is asked about once.
func askThreads(at place) []candidate {
	var out []candidate
	seen := map[string]bool{}
	_, n, _ := at.of.Step(at.step.ID)
	for i := range at.of.Steps[:n] {
		for _, text := range tightened(place{at.of, &at.of.Steps[i]}) {
			seen[text.thread] = true
		}
	}
	for _, text := range append(tightened(at), started(at)...) {
		t, err := joint.ParseThread(text.thread)
		if err != nil || seen[text.thread] {
			continue
		}
		seen[text.thread] = true
		out = append(out, at.candidate(ThreadDirection, strings.ReplaceAll(text.thread, " ", "-"), func(*dice) (Question, bool) { return threadDirection(at, t, text.of) }))
	}
	return out
}

// A namedThread is a thread as written, with what it is of.
type namedThread struct{ thread, of string }

// tightened lists the threads of the joints of a step.
func tightened(at place) []namedThread {
	if at.step.Torque == nil {
		return nil
	}
	var out []namedThread
	for _, c := range at.step.Torque.Joints {
		if row, ok := at.of.Joint(c.Joint); ok {
			out = append(out, namedThread{row.Thread, " (" + row.Title + ")"})
		}
	}
	return out
}

// started lists the threads that a step starts or prepares and that no step of
// its procedure tightens.
func started(at place) []namedThread {
	var out []namedThread
	for _, c := range at.step.Threads {
		if !slices.ContainsFunc(at.of.Joints, func(row procedure.JointRow) bool { return row.Thread == c.Thread }) {
			out = append(out, namedThread{thread: c.Thread})
		}
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
		Stem:     fmt.Sprintf("%q: the thread is %v%s. You look at it from the side that it is turned from. Which way does it tighten?", at.step.Title, t, what),
		Answer:   turn[t.Hand()],
		Solution: fmt.Sprintf("%v is a %v thread. LH is written on left-hand threads only; without it a thread is right-hand.", t, t.Hand()),
		Source:   at.source(), Caution: "Look at the lean of the thread itself before you turn it.",
	}
	q.give("thread", t.String())
	q.wrong(turn[other], "turns every thread the same way")
	return q, true
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
		Stem:     fmt.Sprintf("%q has a hold point for the %s. In the shop are %s, and all of them have shown the skills of the job. Who may sign?", at.step.Title, plain(by.String()), crew(people)),
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
