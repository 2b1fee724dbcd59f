package teaching

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// A Focus is a step that this shop's findings point to.
type Focus struct {
	Procedure string `json:"procedure"`
	Step      string `json:"step"`
	Title     string `json:"title"`
	// Findings counts them, Why says which.
	Findings int    `json:"findings"`
	Why      string `json:"why"`
}

// faults are the findings of a shop, counted for teaching. What was reworked
// was done wrong all the same and counts.
type faults struct {
	// steps and rules count by step, and by step and rule.
	steps map[procedure.StepRef]int
	rules map[procedure.StepRef]map[string]int
	// procedures counts by procedure and rule.
	procedures map[string]map[string]int
	// kinds counts what each kind of question would have helped with: by step,
	// by procedure, and in all.
	byStep      map[procedure.StepRef]map[Kind]int
	byProcedure map[string]map[Kind]int
	all         map[Kind]int
	topics      map[Kind][]string
}

// countFaults leaves notes aside, and findings about procedures that are not
// taught here.
func countFaults(m *maker, findings []audit.Finding) *faults {
	f := &faults{steps: map[procedure.StepRef]int{}, rules: map[procedure.StepRef]map[string]int{},
		procedures: map[string]map[string]int{}, byStep: map[procedure.StepRef]map[Kind]int{},
		byProcedure: map[string]map[Kind]int{}, all: map[Kind]int{}, topics: kindTopics()}
	for i := range findings {
		if x := &findings[i]; !x.Note && m.byID[x.Procedure] != nil {
			f.count(x)
		}
	}
	return f
}

// count files one finding under its step, its procedure and what would have
// helped.
func (f *faults) count(x *audit.Finding) {
	at := procedure.StepRef{Procedure: x.Procedure, Step: x.Step}
	add(f.procedures, x.Procedure, x.Rule)
	if x.Step != "" {
		f.steps[at]++
		add(f.rules, at, x.Rule)
	}
	for _, k := range kindsFor(x) {
		add(f.byStep, at, k)
		add(f.byProcedure, x.Procedure, k)
		f.all[k]++
	}
}

// add counts one up in a table of tables.
func add[K, V comparable](counts map[K]map[V]int, at K, what V) {
	if counts[at] == nil {
		counts[at] = map[V]int{}
	}
	counts[at][what]++
}

// concerns reports whether findings point to a skill: one that a procedure with
// findings ends in, or one that a kind of question which would have helped is
// about.
func (f *faults) concerns(s *skill) bool {
	for _, p := range s.own {
		if len(f.procedures[p.ID]) > 0 {
			return true
		}
	}
	for kind := range f.all {
		if slices.Contains(f.topics[kind], s.ID) {
			return true
		}
	}
	return false
}

// why says which findings point to a skill.
func (f *faults) why(s *skill) []string {
	var out []string
	for _, p := range s.own {
		if rules := f.procedures[p.ID]; len(rules) > 0 {
			out = append(out, fmt.Sprintf("this shop, %s: %s", p.Title, ruleWords(rules)))
		}
	}
	for _, kind := range Kinds() {
		if n := f.all[kind.Kind]; n > 0 && slices.Contains(kind.Topics, s.ID) {
			out = append(out, fmt.Sprintf("this shop: %s that this helps with (%s)", counted(n, "finding"), kind.Asks))
		}
	}
	return out
}

// ruleWords lists rules with their counts, in the order of the audit's rules.
func ruleWords(rules map[string]int) string {
	text := ""
	for _, r := range audit.Rules() {
		if n := rules[r.Code]; n > 0 {
			if text != "" {
				text += ", "
			}
			text += fmt.Sprintf("%s (%d)", plain(r.Code), n)
		}
	}
	return text
}

// focus lists the steps with findings, most first, ties in the order of work.
func (f *faults) focus(steps []place) []Focus {
	var out []Focus
	for _, p := range steps {
		if n := f.steps[p.ref()]; n > 0 {
			out = append(out, Focus{p.of.ID, p.step.ID, p.step.Title, n, ruleWords(f.rules[p.ref()])})
		}
	}
	slices.SortStableFunc(out, func(a, b Focus) int { return cmp.Compare(b.Findings, a.Findings) })
	return out
}

// kindsFor lists the kinds of question that go to the root of a finding.
func kindsFor(x *audit.Finding) []Kind {
	switch x.Rule {
	case audit.RulePassesIncomplete:
		return []Kind{Pulls, BoltOrder}
	case audit.RuleOutOfOrder:
		return kindsForOrder(x.Because)
	case audit.RuleVoid, audit.RuleVoidSinceFinished:
		return []Kind{VoidMap}
	case audit.RuleNonconforming, audit.RuleUndecided, audit.RuleOverWithdrawn:
		if x.Tool == "" {
			return []Kind{MeasureVerdict}
		}
		return []Kind{SettingRange, LowestGoverns, ConvertWindow}
	case audit.RulePrep:
		return []Kind{PrepChoice}
	case audit.RuleHoldUnsigned, audit.RuleOwnWork, audit.RuleRank, audit.RuleSignedUnskilled, audit.RuleSignedLate, audit.RuleSignedInSeconds:
		return []Kind{HoldSigner}
	case audit.RuleWait:
		return []Kind{ReleaseTime}
	case audit.RuleToolRange:
		return []Kind{LowestSetting, ToolChoice}
	case audit.RuleToolUnknown, audit.RuleToolUncalibrated, audit.RuleToolOverdue, audit.RuleToolQuarantined, audit.RuleToolAway, audit.RuleToolHand:
		return []Kind{ToolChoice}
	case audit.RuleOutOfTolerance:
		return []Kind{WorstCase, Deviation, DeliveredRange}
	}
	return nil
}

// kindsForOrder goes by the reason that the record gave.
func kindsForOrder(because string) []Kind {
	switch because {
	case procedure.RuleBoltOrder:
		return []Kind{BoltOrder, Pulls}
	case procedure.RulePassSetting:
		return []Kind{PassSetting}
	case procedure.RulePrepMissing:
		return []Kind{PrepChoice}
	case procedure.RuleHoldUnsigned:
		return []Kind{HoldSigner}
	case procedure.RuleGroupDisturbed, procedure.RuleEarlierStep:
		return []Kind{VoidMap, Pulls}
	}
	return nil
}
