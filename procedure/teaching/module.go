package teaching

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

const worstRisk = procedure.SafetyCritical

// modules cuts the order of skills where the context changes or a module would
// become too long, so that the order of the modules is as valid as that of the
// skills.
func (m *maker) modules(order []*skill) []Module {
	var out []Module
	limit := big.NewRat(int64(m.options.ModuleHours), 1)
	for i := 0; i < len(order); {
		n, hours := 1, decimal(order[i].Hours)
		for i+n < len(order) && order[i+n].context == order[i].context {
			more := new(big.Rat).Add(hours, decimal(order[i+n].Hours))
			if more.Cmp(limit) > 0 {
				break
			}
			hours = more
			n++
		}
		out = append(out, m.module(order[i:i+n], len(out)+1, hours))
		i += n
	}
	m.ask(out)
	for i := range out {
		m.furnish(&out[i])
	}
	return out
}

// furnish adds what depends on the steps that a module is practiced on: every
// step of the procedures that it ends, else the steps that its questions are
// about.
func (m *maker) furnish(mod *Module) {
	skills := m.skillsOf(mod)
	steps := m.stepsOf(skills, mod.Questions)
	mod.Focus = m.faults.focus(steps)
	mod.LayOut = layOut(steps, owned(skills))
	if len(steps) == 0 {
		mod.LayOut.Parts = fitParts(skills)
	}
	mod.Fault = m.plant(mod.ID, steps)
}

// module makes a module of skills in one context, without what furnish adds.
func (m *maker) module(skills []*skill, number int, hours *big.Rat) Module {
	mod := Module{ID: skills[0].ID, Number: number, Context: skills[0].context, Hours: decimalText(hours)}
	var titles []string
	for _, s := range skills {
		mod.Skills = append(mod.Skills, s.Skill)
		titles = append(titles, s.Title)
		mod.Risk = max(mod.Risk, s.risk())
		for _, p := range s.practicedOn() {
			if !slices.Contains(mod.Procedures, p.ID) {
				mod.Procedures = append(mod.Procedures, p.ID)
			}
		}
	}
	mod.Title = strings.Join(titles, "; ")
	mod.Why = m.why(skills)
	mod.Test = benchTest(skills)
	return mod
}

// owned lists the procedures that end in one of the skills.
func owned(skills []*skill) []*procedure.Resolved {
	var out []*procedure.Resolved
	for _, s := range skills {
		out = append(out, s.own...)
	}
	return out
}

// why says what put the skills where they are.
func (m *maker) why(skills []*skill) []string {
	var out []string
	for _, s := range skills {
		out = append(out, m.faults.why(s)...)
	}
	for _, s := range skills {
		if isSafetyCritical(s) {
			out = append(out, fmt.Sprintf("%s: safety-critical joints depend on it", s.Title))
		}
	}
	for _, s := range skills {
		if on := m.buildsOn(s); len(on) > 0 {
			out = append(out, fmt.Sprintf("%s: comes before %s", s.Title, strings.Join(on, ", ")))
		}
	}
	return out
}

// buildsOn lists the titles of skills that need s directly.
func (m *maker) buildsOn(s *skill) []string {
	var out []string
	for _, other := range m.skills {
		if slices.Contains(other.Needs, s.ID) {
			out = append(out, other.Title)
		}
	}
	return out
}

// A place is a step of a procedure.
type place struct {
	of   *procedure.Resolved
	step *procedure.Step
}

// ref names the place.
func (p place) ref() procedure.StepRef {
	return procedure.StepRef{Procedure: p.of.ID, Step: p.step.ID}
}

// source is the step's own, else the procedure's.
func (p place) source() procedure.Source {
	if p.step.Source != nil {
		return *p.step.Source
	}
	return p.of.Source
}

// risk is the class of the step.
func (p place) risk() procedure.Risk {
	if p.step.Risk != 0 {
		return p.step.Risk
	}
	return p.of.Risk
}

// stepsOf lists the steps that a module is practiced on, each once.
func (m *maker) stepsOf(skills []*skill, questions []Question) []place {
	var out []place
	if own := owned(skills); len(own) > 0 {
		for _, p := range own {
			for i := range p.Steps {
				out = append(out, place{p, &p.Steps[i]})
			}
		}
		return out
	}
	seen := map[procedure.StepRef]bool{}
	for i := range questions {
		ref := procedure.StepRef{Procedure: questions[i].Procedure, Step: questions[i].Step}
		if ref.Step == "" || seen[ref] {
			continue
		}
		seen[ref] = true
		p := m.byID[ref.Procedure]
		if s, _, ok := p.Step(ref.Step); ok {
			out = append(out, place{p, s})
		}
	}
	return out
}

// decimalText writes a number with at most three decimals.
func decimalText(r *big.Rat) string {
	s := r.FloatString(3)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
