package audit

import "github.com/tightwright/tightwright/procedure"

// A Summary counts findings. The zero Summary counts none.
type Summary struct {
	// Total counts what has or had to be mended; Open and Reworked are its
	// parts. Notes are counted apart.
	Total    int `json:"total"`
	Open     int `json:"open"`
	Reworked int `json:"reworked"`
	Notes    int `json:"notes"`
	// ByRisk has a line for each class, the worst first, ByRule one for each
	// rule that found something, in the order of Rules.
	ByRisk []RiskCount `json:"by_risk"`
	ByRule []RuleCount `json:"by_rule"`
}

// RiskCount counts the findings of a class, notes left out.
type RiskCount struct {
	Risk     procedure.Risk `json:"risk"`
	Open     int            `json:"open"`
	Reworked int            `json:"reworked"`
}

// RuleCount counts the findings of a rule, notes left out.
type RuleCount struct {
	Rule     string `json:"rule"`
	Open     int    `json:"open"`
	Reworked int    `json:"reworked"`
}

// Summarize counts findings by class and rule.
func Summarize(findings []Finding) Summary {
	var s Summary
	for _, risk := range []procedure.Risk{procedure.SafetyCritical, procedure.FunctionCritical, procedure.RiskOther} {
		open, reworked := count(findings, func(f Finding) bool { return f.Risk == risk })
		s.ByRisk = append(s.ByRisk, RiskCount{risk, open, reworked})
	}
	for _, r := range Rules() {
		open, reworked := count(findings, func(f Finding) bool { return f.Rule == r.Code })
		if open+reworked > 0 {
			s.ByRule = append(s.ByRule, RuleCount{r.Code, open, reworked})
		}
	}
	s.Open, s.Reworked = count(findings, func(Finding) bool { return true })
	s.Total = s.Open + s.Reworked
	for _, f := range findings {
		if f.Note {
			s.Notes++
		}
	}
	return s
}

// count counts the findings that are in, notes left out.
func count(findings []Finding, in func(Finding) bool) (open, reworked int) {
	for _, f := range findings {
		switch {
		case f.Note || !in(f):
		case f.Status == Reworked:
			reworked++
		default:
			open++
		}
	}
	return open, reworked
}
