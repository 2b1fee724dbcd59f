package teaching

import (
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// LayOut lists what lies on the bench before a module begins.
type LayOut struct {
	Tools       []string `json:"tools,omitempty"`
	Consumables []string `json:"consumables,omitempty"`
	Parts       []string `json:"parts,omitempty"`
}

// layOut collects what steps need, and what whole procedures ask for.
func layOut(steps []place, whole []*procedure.Resolved) LayOut {
	var l LayOut
	for _, p := range whole {
		l.Tools = union(l.Tools, p.Tools)
		l.Consumables = union(l.Consumables, p.Consumables)
		l.Parts = union(l.Parts, words(p.Roles))
	}
	for _, p := range steps {
		l.Tools = union(l.Tools, p.step.Tools)
		l.Parts = union(l.Parts, words(p.step.Parts))
		if p.step.Torque != nil {
			l.Tools = union(l.Tools, []string{"torque wrench whose scale holds the value"})
		}
		if p.step.Prep != nil {
			l.Consumables = union(l.Consumables, preps(p.step.Prep))
		}
	}
	return l
}

// fitParts lists the parts that the fit rules of the skills' procedures compare.
func fitParts(skills []*skill) []string {
	var out []string
	for _, s := range skills {
		for _, p := range s.in {
			for _, rule := range p.Fit {
				needs, _, _, _ := procedure.FitRuleUses(rule)
				for _, key := range needs {
					role, _, _ := strings.Cut(key, ".")
					out = union(out, words([]string{role}))
				}
			}
		}
	}
	return out
}

// preps lists what a prep rule may put on, what is dry or comes with the part
// left out.
func preps(rule *procedure.PrepRule) []string {
	var out []string
	for _, choices := range [][]procedure.PrepChoice{rule.Thread, rule.Face} {
		for _, c := range choices {
			if c.Use != procedure.Dry && c.Use != procedure.PreApplied {
				out = union(out, []string{c.Use.Words()})
			}
		}
	}
	return out
}

// union adds what is not in a list yet, in order.
func union(list, more []string) []string {
	for _, v := range more {
		if !slices.Contains(list, v) {
			list = append(list, v)
		}
	}
	return list
}

// words turns names of parts into words.
func words(ids []string) []string {
	out := make([]string, 0, len(ids))
	for _, id := range ids {
		out = append(out, roleWords(id))
	}
	return out
}
