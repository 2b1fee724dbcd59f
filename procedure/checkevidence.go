package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// measureUnits are the units that a measure is asked for in.
func measureUnits() []string {
	return []string{"mm", "turns", "deg", "teeth", "count", "degC", "N", "percent", "bar", "km", "kg", "min", "s"}
}

// checks wants every step to leave evidence, and every piece of it to be
// something that a person can answer.
func (c *checker) checks(path string, s *Step) {
	seen := map[string]bool{}
	for j := range s.Checks {
		check, at := &s.Checks[j], fmt.Sprintf("%s.checks[%d]", path, j)
		c.id(at+".id", check.ID)
		if seen[check.ID] {
			c.add(at+".id", "duplicate-id", "the step asks for %q twice", check.ID)
		}
		seen[check.ID] = true
		c.text(at+".ask", check.Ask, maxSentence)
		c.condition(at+".when", check.When)
		c.possible(at+".when", c.around(s), check.When)
		if check.Source != nil {
			c.source(at+".source", check.Source)
		}
		switch check.Kind {
		case Measure:
			c.measure(at, check)
		case Look, Photo:
			if check.Unit+check.Min+check.Max+check.Expect+check.Within+check.Instrument+check.Error != "" {
				c.add(at, "not-a-measure", "unit, limits and instrument belong to a measure: write kind: measure or leave them out")
			}
		default:
			c.add(at+".kind", "missing", "say what is asked for: %s", strings.Join(checkNames[1:], ", "))
		}
	}
	if len(s.Checks) == 0 && s.Torque == nil && s.Prep == nil {
		c.add(path+".checks", "no-evidence", "the step leaves no evidence: ask for a look, a measure or a photo")
	}
}

// measure wants a figure to have unit, limits, instrument and error: without
// these nobody can say later whether it was good.
func (c *checker) measure(path string, check *Check) {
	if !slices.Contains(measureUnits(), check.Unit) {
		c.add(path+".unit", "unknown-unit", "give the unit: one of %s, not %q", strings.Join(measureUnits(), ", "), check.Unit)
	}
	if check.Instrument == "" {
		c.add(path+".instrument", "missing", "say what to measure with")
	}
	c.optional(path+".instrument", check.Instrument, maxShort)
	if check.Error == "" {
		c.add(path+".error", "missing", "give the instrument's error in %s; 0 for what is counted", check.Unit)
	} else {
		c.decimal(path+".error", check.Error)
	}
	if check.Expect != "" {
		c.expected(path, check)
		return
	}
	c.limits(path, check)
}

// limits checks a measure whose limits are written out. A range narrower than
// the instrument's error both ways proves nothing.
func (c *checker) limits(path string, check *Check) {
	if check.Within != "" {
		c.add(path+".within", "no-number", "within belongs to expect: say which number of a fit rule is expected")
	}
	if check.Min == "" && check.Max == "" {
		c.add(path+".min", "missing", "a measure has a least value, a largest one or both")
		return
	}
	low, errLow := parseDecimal(check.Min)
	high, errHigh := parseDecimal(check.Max)
	if check.Min != "" && errLow != nil {
		c.add(path+".min", "malformed", "%s", errLow)
	}
	if check.Max != "" && errHigh != nil {
		c.add(path+".max", "malformed", "%s", errHigh)
	}
	if errLow != nil || errHigh != nil {
		return
	}
	room := ratSub(high, low)
	if room.Sign() < 0 {
		c.add(path+".max", "reversed-range", "the largest value is below the least")
		return
	}
	if e, err := parseDecimal(check.Error); err == nil && ratAdd(e, e).Cmp(room) > 0 {
		c.add(path+".error", "too-coarse", "this instrument cannot tell inside from outside: its error both ways is more than the range")
	}
}

// expected checks a measure whose limits come from a number that a fit rule
// of this job works out for the bike.
func (c *checker) expected(path string, check *Check) {
	if check.Min != "" || check.Max != "" {
		c.add(path+".expect", "both", "give limits or the expected number, not both")
	}
	rule, name, _ := cutLast(check.Expect)
	_, _, numbers, _ := FitRuleUses(rule)
	switch {
	case !slices.Contains(c.def.Fit, rule):
		c.add(path+".expect", "unknown-fit-rule", "the job does not run the fit rule %q%s: list it under fit", rule, meant(rule, c.def.Fit))
	case !slices.Contains(numbers, name):
		c.add(path+".expect", "unknown-number", "the fit rule %s works out no number %q%s", rule, name, meant(name, numbers))
	}
	within, err := parseDecimal(check.Within)
	if err != nil || within.Sign() <= 0 {
		c.add(path+".within", "missing", "say how far it may be off, such as 0.1")
		return
	}
	if e, err := parseDecimal(check.Error); err == nil && e.Cmp(within) > 0 {
		c.add(path+".error", "too-coarse", "this instrument cannot tell inside from outside: its error is more than %s", check.Within)
	}
}
