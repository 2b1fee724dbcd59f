package teaching

import (
	"errors"
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/procedure"
)

// A skill is one to teach, with what it is for.
type skill struct {
	procedure.Skill
	// in lists the procedures that carry it, own those whose last skill it is:
	// nothing else of theirs builds on it.
	in, own []*procedure.Resolved
	// carriedBy holds the ids of in.
	carriedBy map[string]bool
	context   string
}

// gather brings the skills of all procedures together, those held left out, and
// finds what each is for.
func (m *maker) gather() error {
	m.bySkill = map[string]*skill{}
	var errs []error
	for i, p := range m.procedures {
		for k, s := range skillsOf(p) {
			errs = append(errs, m.take(fmt.Sprintf("procedures[%d].skills[%d]", i, k), s, p))
		}
	}
	for k, s := range m.options.Also {
		errs = append(errs, m.take(fmt.Sprintf("also[%d]", k), s, nil))
	}
	for i, id := range m.options.Held {
		if m.bySkill[id] == nil {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("held[%d]", i), Rule: "unknown-skill",
				Text: fmt.Sprintf("no procedure here takes a skill %q", id)})
		}
	}
	errs = append(errs, checkLessons(m.lessons()))
	if err := errors.Join(errs...); err != nil {
		return err
	}
	for _, s := range m.skills {
		s.context = m.contextOf(s)
	}
	m.skills = slices.DeleteFunc(m.skills, func(s *skill) bool { return slices.Contains(m.options.Held, s.ID) })
	return nil
}

// skillsOf lists a procedure's skills. A procedure that names none is taught as
// one skill of its own name.
func skillsOf(p *procedure.Resolved) []procedure.Skill {
	if len(p.Skills) > 0 {
		return p.Skills
	}
	return []procedure.Skill{{ID: p.ID, Title: p.Title}}
}

// take adds a skill, or joins it with the same one of another procedure. What
// one of them leaves out the other may say; what both say must be the same.
func (m *maker) take(path string, s procedure.Skill, of *procedure.Resolved) error {
	have := m.bySkill[s.ID]
	if have == nil {
		have = &skill{Skill: procedure.Skill{ID: s.ID}, carriedBy: map[string]bool{}}
		m.bySkill[s.ID] = have
		m.skills = append(m.skills, have)
	}
	var errs []error
	for _, f := range []struct {
		name string
		old  *string
		now  string
	}{{"title", &have.Title, s.Title}, {"hours", &have.Hours, s.Hours}, {"test", &have.Test, s.Test}} {
		switch {
		case *f.old == "":
			*f.old = f.now
		case f.now != "" && f.now != *f.old:
			errs = append(errs, &procedure.FieldError{Path: path + "." + f.name, Rule: "skill-differs",
				Text: fmt.Sprintf("the skill %q has another %s elsewhere: %q and %q", s.ID, f.name, *f.old, f.now)})
		}
	}
	for _, need := range s.Needs {
		if !slices.Contains(have.Needs, need) {
			have.Needs = append(have.Needs, need)
		}
	}
	if of != nil {
		have.in = append(have.in, of)
		have.carriedBy[of.ID] = true
		if isLast(of, s.ID) {
			have.own = append(have.own, of)
		}
	}
	return errors.Join(errs...)
}

// isLast reports whether no other skill of the procedure builds on this one.
func isLast(p *procedure.Resolved, id string) bool {
	return !slices.ContainsFunc(p.Skills, func(s procedure.Skill) bool { return slices.Contains(s.Needs, id) })
}

// contextOf is the skill itself where a procedure ends in it, the one that a
// procedure ends in where all that carry this skill end in the same, and the
// bench otherwise.
func (m *maker) contextOf(s *skill) string {
	if len(s.own) > 0 {
		return s.ID
	}
	context := ""
	for _, p := range s.in {
		for _, last := range skillsOf(p) {
			switch {
			case !isLast(p, last.ID) || last.ID == context:
			case context == "":
				context = last.ID
			default:
				return Bench
			}
		}
	}
	if context == "" {
		return Bench
	}
	return context
}

// lessons are the skills as something to put in order.
func (m *maker) lessons() []Lesson {
	out := make([]Lesson, 0, len(m.skills))
	for _, s := range m.skills {
		out = append(out, Lesson{ID: s.ID, Context: s.context, Needs: s.Needs})
	}
	return out
}

// risk is the worst class of the procedures that end in the skill.
func (s *skill) risk() procedure.Risk {
	var worst procedure.Risk
	for _, p := range s.own {
		worst = max(worst, p.Risk)
	}
	return worst
}

// practicedOn lists the procedures a skill is practiced on: its own, else all
// that carry it.
func (s *skill) practicedOn() []*procedure.Resolved {
	if len(s.own) > 0 {
		return s.own
	}
	return s.in
}
