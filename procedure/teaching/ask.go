package teaching

import (
	"cmp"
	"fmt"
)

// ask gives each module its questions. Modules that end procedures choose
// first, so that a question about a step is asked where the step is taught; no
// question is asked twice.
func (m *maker) ask(modules []Module) {
	used := map[string]bool{}
	for _, own := range []bool{true, false} {
		for i := range modules {
			skills := m.skillsOf(&modules[i])
			if (len(owned(skills)) > 0) == own {
				modules[i].Questions = m.choose(skills, used)
			}
		}
	}
}

// skillsOf finds the skills of a module again.
func (m *maker) skillsOf(mod *Module) []*skill {
	var out []*skill
	for _, s := range mod.Skills {
		out = append(out, m.bySkill[s.ID])
	}
	return out
}

// choose picks questions one by one: what the findings point to first, then
// what is left; in both, kinds that were asked less in this module, and then by
// the dice.
func (m *maker) choose(skills []*skill, used map[string]bool) []Question {
	asked := map[Kind]*int{}
	for _, info := range Kinds() {
		asked[info.Kind] = new(int)
	}
	var pool []weighed
	for _, c := range m.pool.fitting(skills) {
		if !used[c.id] {
			w := m.weigh(c)
			w.asked = asked[c.kind]
			pool = append(pool, w)
		}
	}
	var out []Question
	for len(out) < m.options.Questions && len(pool) > 0 {
		i := lightest(pool)
		w := pool[i]
		pool[i] = pool[len(pool)-1]
		pool = pool[:len(pool)-1]
		q, ok := w.question(m.options.Seed)
		if !ok {
			continue
		}
		if used[q.Stem] {
			continue // as of the other wheel
		}
		q.Why = m.faults.whyAsk(w.candidate)
		used[w.id], used[q.Stem] = true, true
		*w.asked++
		out = append(out, q)
	}
	return out
}

// A weighed candidate has what decides its turn.
type weighed struct {
	*candidate
	rank int
	dice uint64
	// asked counts the questions of its kind in the module.
	asked *int
}

// weigh gives a candidate its turn.
func (m *maker) weigh(c *candidate) weighed {
	return weighed{candidate: c, rank: m.faults.rank(c), dice: newDice(m.options.Seed, "ask/"+c.id).next()}
}

// lightest returns the place of the next candidate to ask.
func lightest(pool []weighed) int {
	best := 0
	for i := 1; i < len(pool); i++ {
		if pool[i].isBefore(&pool[best]) {
			best = i
		}
	}
	return best
}

// isBefore reports whether a candidate is asked before another.
func (w *weighed) isBefore(other *weighed) bool {
	if mine, its := w.rank > 1, other.rank > 1; mine != its {
		return its
	}
	return cmp.Or(cmp.Compare(*w.asked, *other.asked), cmp.Compare(w.rank, other.rank), cmp.Compare(w.dice, other.dice)) < 0
}

// rank is 0 for a question about a step that findings of its kind point to, 1
// for one about such a procedure, 2 for its kind anywhere, and 3 for others.
func (f *faults) rank(c *candidate) int {
	switch {
	case c.step != "" && f.byStep[c.StepRef()][c.kind] > 0:
		return 0
	case f.byProcedure[c.procedure][c.kind] > 0:
		return 1
	case f.all[c.kind] > 0 && c.procedure == "":
		return 2
	}
	return 3
}

// whyAsk says which findings made a question be asked.
func (f *faults) whyAsk(c *candidate) string {
	switch f.rank(c) {
	case 0:
		return fmt.Sprintf("%s of this shop in this step: %s", counted(f.byStep[c.StepRef()][c.kind], "finding"), ruleWords(f.rules[c.StepRef()]))
	case 1:
		return fmt.Sprintf("%s of this shop in this procedure: %s", counted(f.byProcedure[c.procedure][c.kind], "finding"), ruleWords(f.procedures[c.procedure]))
	case 2:
		return fmt.Sprintf("%s of this shop that this helps with", counted(f.all[c.kind], "finding"))
	}
	return ""
}
