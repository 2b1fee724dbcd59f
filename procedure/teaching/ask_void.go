package teaching

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// mostVoids is the number of steps or jobs up to which a list of what is void is
// still a question, and not an exercise in reading.
const mostVoids = 8

// askVoids makes the questions about what leans on a step: within its own job,
// and in others.
func (m *maker) askVoids(at place) []candidate {
	if len(at.step.Voids) == 0 {
		return nil
	}
	return []candidate{
		at.candidate(VoidMap, "", func(*dice) (Question, bool) { return m.voidsHere(at) }),
		at.candidate(VoidMap, "jobs", func(*dice) (Question, bool) { return m.voidsElsewhere(at) }),
	}
}

// voidsHere asks which other steps of the same job lean on a step.
func (m *maker) voidsHere(at place) (Question, bool) {
	leans := slices.DeleteFunc(m.leanOn(at.ref()), func(r procedure.StepRef) bool { return r.Procedure != at.of.ID })
	if len(leans) == 0 || len(leans) > mostVoids {
		return Question{}, false
	}
	q := Question{
		Stem:   fmt.Sprintf("On a bike that needs every step of %q, the job is done. Now %q has to be done again. Which other results of this job are void?", at.of.Title, at.step.Title),
		Answer: titles(at.of, leans),
		Source: at.source(), Caution: BenchFirst,
	}
	q.Solution = "Follow the steps that it spoils, and the steps that these spoil: " + q.Answer + "."
	q.give("step", at.of.ID+"/"+at.step.ID)
	for _, edge := range at.step.Voids {
		q.give("voids", edge)
	}
	q.wrong("none", "takes a result for true for ever")
	q.wrong(titles(at.of, m.direct(at)), "does not follow what the spoiled steps spoil in turn")
	q.wrong(titles(at.of, later(at)), "takes everything that comes later for void")
	q.wrong(titles(at.of, leans[:len(leans)-1]), "forgets the last one")
	q.wrong(titles(at.of, leans[1:]), "forgets the first one")
	return q, true
}

// voidsElsewhere asks in which other jobs something leans on a step. Where there
// is no other, that is the answer.
func (m *maker) voidsElsewhere(at place) (Question, bool) {
	void := m.jobsOf(at, m.leanOn(at.ref()))
	if len(void) > mostVoids {
		return Question{}, false
	}
	q := Question{
		Stem:   fmt.Sprintf("A bike is done. Now %q of the job %q has to be done again. In which other jobs, where the bike has them, are results void?", at.step.Title, at.of.Title),
		Answer: jobs(void),
		Source: at.source(), Caution: BenchFirst,
	}
	q.Solution = "Follow the steps that it spoils, and the steps that these spoil: " + q.Answer + "."
	q.give("step", at.of.ID+"/"+at.step.ID)
	q.give("asked", "jobs")
	q.wrong(jobs(nil), "takes a result for true for ever")
	q.wrong(jobs(m.jobsOf(at, m.directElsewhere(at))), "does not follow what the spoiled steps spoil in turn")
	if len(void) > 0 {
		q.wrong(jobs(void[:len(void)-1]), "forgets the last one")
		q.wrong(jobs(void[1:]), "forgets the first one")
	}
	q.wrong(jobs(m.jobsAfter(at)), "takes every job that comes later for void")
	return q, len(q.Wrong) > 0
}

// jobsOf lists the other procedures that steps belong to, in order, each once.
func (m *maker) jobsOf(at place, refs []procedure.StepRef) []*procedure.Resolved {
	var out []*procedure.Resolved
	for _, r := range refs {
		if p := m.byID[r.Procedure]; p != nil && p != at.of && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b *procedure.Resolved) int { return cmp.Compare(m.place[a.ID], m.place[b.ID]) })
	return out
}

// jobsAfter lists up to mostVoids procedures that name this one as coming first.
func (m *maker) jobsAfter(at place) []*procedure.Resolved {
	var out []*procedure.Resolved
	for _, p := range m.procedures {
		if len(out) < mostVoids && slices.Contains(p.After, at.of.ID) {
			out = append(out, p)
		}
	}
	return out
}

// directElsewhere lists the steps of other procedures that a step names itself.
func (m *maker) directElsewhere(at place) []procedure.StepRef {
	var out []procedure.StepRef
	for _, edge := range at.step.Voids {
		if id, step, other := strings.Cut(edge, "/"); other {
			out = append(out, procedure.StepRef{Procedure: id, Step: step})
		}
	}
	return out
}

// direct lists the later steps of the same procedure that a step names itself.
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

// titles writes steps of a procedure by their titles, and nothing where there
// are none, or more than can be read.
func titles(of *procedure.Resolved, refs []procedure.StepRef) string {
	if len(refs) > 2*mostVoids {
		return ""
	}
	var out []string
	for _, r := range refs {
		if s, _, ok := of.Step(r.Step); ok {
			out = append(out, s.Title)
		}
	}
	return strings.Join(out, "; ")
}

// jobs writes procedures by their titles.
func jobs(of []*procedure.Resolved) string {
	if len(of) == 0 {
		return "in none"
	}
	var out []string
	for _, p := range of {
		out = append(out, p.Title)
	}
	return strings.Join(out, "; ")
}
