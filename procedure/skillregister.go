package procedure

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// A HeldSkill is one proof of a skill: the day from which a person has shown
// it, and the day from which that no longer counts.
type HeldSkill struct {
	// Skill is the id of a skill of the catalogue.
	Skill string `json:"skill"`
	// Proven is the first moment at which the skill is held, Lapses the first
	// at which this proof no longer counts; a zero Lapses never comes.
	Proven time.Time `json:"proven"`
	Lapses time.Time `json:"lapses,omitzero"`
}

// A SkillRegister is what a person has shown to be able to do. A nil register
// is kept by nobody: the shop does not ask what the person can do. One without
// lines is kept, and the person holds nothing yet.
type SkillRegister struct {
	// Held may list a skill several times, a line for each proof: older proofs
	// say who could do what in the past.
	Held []HeldSkill `json:"held"`
}

// mostHeld bounds the lines of a register.
const mostHeld = 200

// Check reports every line that cannot be, by field. known lists the ids of
// skills that there are.
func (r *SkillRegister) Check(known []string) error {
	if r == nil {
		return nil
	}
	var p problems
	if len(r.Held) > mostHeld {
		p.add("held", "too-many", "at most %d lines", mostHeld)
		return p.err()
	}
	seen := map[HeldSkill]bool{}
	for i, h := range r.Held {
		at := fmt.Sprintf("held[%d]", i)
		if !slices.Contains(known, h.Skill) {
			p.add(at+".skill", "unknown-skill", "there is no skill %q%s", h.Skill, meant(h.Skill, known))
		}
		if h.Proven.IsZero() {
			p.add(at+".proven", "missing", "say on which day the skill was shown")
		}
		if !h.Lapses.IsZero() && !h.Lapses.After(h.Proven) {
			p.add(at+".lapses", "reversed-dates", "the skill lapses after the day on which it was shown, %s", h.Proven.Format(time.DateOnly))
		}
		proof := HeldSkill{Skill: h.Skill, Proven: h.Proven.UTC()}
		if seen[proof] {
			p.add(at, "duplicate", "the skill %s shown on that day stands here already", words(h.Skill))
		}
		seen[proof] = true
	}
	return p.err()
}

// Lacks says which of the skills the person cannot show at a moment: those
// that were never shown by then, and those whose every proof had lapsed. Of a
// nil register it knows nothing, so nothing is lacking.
func (r *SkillRegister) Lacks(skills []string, at time.Time) (missing, lapsed []string) {
	if r == nil {
		return nil, nil
	}
	for _, skill := range skills {
		last, held := r.last(skill, at)
		switch {
		case held:
		case last.Skill == "":
			missing = append(missing, skill)
		default:
			lapsed = append(lapsed, skill)
		}
	}
	return missing, lapsed
}

// last finds a proof that holds at a moment, else the one that lapsed last.
func (r *SkillRegister) last(skill string, at time.Time) (last HeldSkill, held bool) {
	for _, h := range r.Held {
		switch {
		case h.Skill != skill || at.Before(h.Proven):
		case h.Lapses.IsZero() || at.Before(h.Lapses):
			return h, true
		case h.Lapses.After(last.Lapses):
			last = h
		}
	}
	return last, false
}

// cannot says why a person may not do what takes the skills; rule is empty
// when nothing is in the way. who is "you" or another person in words, has the
// verb that goes with it.
func (r *SkillRegister) cannot(skills []string, at time.Time, who, has string) (rule, text string) {
	missing, lapsed := r.Lacks(skills, at)
	switch {
	case len(missing) > 0:
		return RuleSkillMissing, fmt.Sprintf("%s %s not shown %s yet", who, has, skillWords(missing))
	case len(lapsed) > 0:
		last, _ := r.last(lapsed[0], at)
		return RuleSkillLapsed, fmt.Sprintf("%s that %s %s shown lapsed on %s", skillWords(lapsed[:1]), who, has, last.Lapses.UTC().Format(time.DateOnly))
	}
	return "", ""
}

// skillWords names skills for a person.
func skillWords(ids []string) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		names = append(names, words(id))
	}
	if len(names) == 1 {
		return "the skill " + names[0]
	}
	return "the skills " + strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// Takes lists the skills that the procedure asks of who does it, in the order
// of Skills: those that no other of its skills builds on. What these need in
// turn was shown on the way to them, and may have lapsed since.
func (d *Definition) Takes() []string {
	var out []string
	for _, s := range d.Skills {
		if !slices.ContainsFunc(d.Skills, func(o Skill) bool { return slices.Contains(o.Needs, s.ID) }) {
			out = append(out, s.ID)
		}
	}
	return out
}
