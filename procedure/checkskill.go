package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// CheckSkills looks for what is wrong with a list of skills that stands by
// itself: ids twice, needs that the list does not have or that go in a circle.
func CheckSkills(list []Skill) error {
	c := &checker{References: &References{}}
	c.skillList("", list, skillIDs(list))
	return c.err()
}

// skills checks a procedure's skills, which are complete: what they need is
// among them or in another procedure.
func (c *checker) skills() {
	if len(c.def.Skills) == 0 {
		c.add("skills", "missing", "say what a builder must be able to do")
	}
	c.skillList("skills", c.def.Skills, c.skillIDs)
}

func skillIDs(lists ...[]Skill) map[string]bool {
	ids := map[string]bool{}
	for _, list := range lists {
		for _, s := range list {
			ids[s.ID] = true
		}
	}
	return ids
}

// skillList checks a list of skills against the ids known.
func (c *checker) skillList(path string, list []Skill, ids map[string]bool) {
	needs := map[string][]string{}
	for i, s := range list {
		at := fmt.Sprintf("%s[%d]", path, i)
		c.id(at+".id", s.ID)
		c.text(at+".title", s.Title, maxTitle)
		c.optional(at+".test", s.Test, maxSentence)
		if s.Hours != "" {
			c.decimal(at+".hours", s.Hours)
		}
		if _, twice := needs[s.ID]; twice {
			c.add(at+".id", "duplicate-id", "the skill %q stands here twice", s.ID)
		}
		needs[s.ID] = s.Needs
		for j, need := range s.Needs {
			if !ids[need] {
				c.add(fmt.Sprintf("%s.needs[%d]", at, j), "unknown-skill", "there is no skill %q%s", need, meant(need, keysOf(ids)))
			}
		}
	}
	if circle := findCircle(keysOf(needs), func(id string) []string { return needs[id] }); circle != nil {
		c.add(path, "circular-needs", "these skills need each other: %s", strings.Join(circle, " → "))
	}
}

// TakeSkills completes the skills that a definition names by id alone from a
// list, together with all that these build on, in the order of the list. A
// skill that is written out in the definition stays as it is. An id that is in
// neither is reported.
func (d *Definition) TakeSkills(list []Skill) error {
	var p problems
	byID := map[string]Skill{}
	for _, s := range list {
		byID[s.ID] = s
	}
	wanted := map[string]bool{}
	var own []Skill
	for i, s := range d.Skills {
		_, known := byID[s.ID]
		switch {
		case s.Title != "":
			own = append(own, s)
		case !known:
			p.add(fmt.Sprintf("skills[%d].id", i), "unknown-skill", "there is no skill %q%s", s.ID, meant(s.ID, keysOf(byID)))
		default:
			wanted[s.ID] = true
		}
	}
	if err := p.err(); err != nil {
		return err
	}
	for _, s := range own {
		addNeeds(wanted, byID, s.Needs)
	}
	for _, id := range keysOf(wanted) {
		addNeeds(wanted, byID, byID[id].Needs)
	}
	d.Skills = nil
	for _, s := range list {
		if wanted[s.ID] && !slices.ContainsFunc(own, func(o Skill) bool { return o.ID == s.ID }) {
			d.Skills = append(d.Skills, s)
		}
	}
	d.Skills = append(d.Skills, own...)
	return nil
}

// addNeeds adds the skills needed and what these need in turn.
func addNeeds(wanted map[string]bool, byID map[string]Skill, needs []string) {
	for _, need := range needs {
		if s, known := byID[need]; known && !wanted[need] {
			wanted[need] = true
			addNeeds(wanted, byID, s.Needs)
		}
	}
}
