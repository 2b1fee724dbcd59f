package teaching

import "slices"

// order puts the skills in teaching order: first what the findings point to and
// safety-critical joints take, each with what it builds on, then the rest. Each
// stretch begins in the context that the one before ended in.
func (m *maker) order() []*skill {
	var out []*skill
	taken := map[string]bool{}
	from := ""
	for _, wanted := range []func(*skill) bool{m.faults.concerns, isSafetyCritical, func(*skill) bool { return true }} {
		stretch := m.stretch(wanted, taken)
		if len(stretch) == 0 {
			continue
		}
		for _, i := range orderFrom(stretch, from) {
			s := m.bySkill[stretch[i].ID]
			taken[s.ID] = true
			out = append(out, s)
		}
		from = out[len(out)-1].context
	}
	return out
}

// isSafetyCritical reports whether a procedure of the worst class ends in the
// skill.
func isSafetyCritical(s *skill) bool { return s.risk() == worstRisk }

// stretch lists the lessons that are wanted, and what they build on, as far as
// they are not taken yet.
func (m *maker) stretch(wanted func(*skill) bool, taken map[string]bool) []Lesson {
	in := map[string]bool{}
	var add func(id string)
	add = func(id string) {
		s := m.bySkill[id]
		if s == nil || in[id] || taken[id] || slices.Contains(m.options.Held, id) {
			return
		}
		in[id] = true
		for _, need := range s.Needs {
			add(need)
		}
	}
	for _, s := range m.skills {
		if wanted(s) {
			add(s.ID)
		}
	}
	return slices.DeleteFunc(m.lessons(), func(l Lesson) bool { return !in[l.ID] })
}

// orderFrom orders lessons when one comes from a context, "" meaning from
// nowhere.
func orderFrom(lessons []Lesson, from string) []int {
	g := newGraph(lessons)
	if from == "" {
		return g.order(noContext)
	}
	if i := slices.IndexFunc(lessons, func(l Lesson) bool { return l.Context == from }); i >= 0 {
		return g.order(g.context[i])
	}
	return g.order(noContext) // the first change cannot be avoided
}

// changes counts how often the context changes from skill to skill.
func (m *maker) changes(order []*skill) int {
	n := 0
	for i := 1; i < len(order); i++ {
		if order[i].context != order[i-1].context {
			n++
		}
	}
	return n
}
