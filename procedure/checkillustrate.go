package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// illustrated checks what step i says for its drawings alone.
func (c *checker) illustrated(i int) {
	s, path := &c.def.Steps[i], fmt.Sprintf("steps[%d]", i)
	if s.Torque != nil {
		c.layout(path+".torque.layout", s.Torque)
	}
	for j := range s.Checks {
		c.gap(fmt.Sprintf("%s.checks[%d].gap", path, j), s.Checks[j].Gap)
	}
	c.stack(path, s.Stack)
}

// layout checks that a group's layout says what its names do not.
func (c *checker) layout(path string, rule *TorqueRule) {
	if rule.Layout == 0 {
		return
	}
	switch _, placed := Places(rule.Bolts); {
	case len(rule.Bolts) < 2:
		c.add(path, "one-bolt", "one bolt has no layout: leave it out")
	case placed:
		c.add(path, "both", "the names of the bolts say where they are: leave the layout out")
	case rule.Layout == Square && len(rule.Bolts) != 4:
		c.add(path, "not-four", "a square has four bolts: upper left, upper right, lower left, lower right")
	}
}

// gap checks what a drawing is to show of a gap.
func (c *checker) gap(path string, g *Gap) {
	if g == nil {
		return
	}
	if g.Of == 0 {
		c.add(path+".of", "missing", "say what the gap is of: %s", strings.Join(gapNames[1:], ", "))
	}
	if len(g.At) == 0 {
		c.add(path+".at", "missing", "say where the gap is, such as upper left")
	}
	c.texts(path+".at", g.At, maxShort)
	c.once(path+".at", g.At)
	for _, at := range g.At {
		switch _, placed := sideOf(at); {
		case g.Of == PlateGap && !placed:
			c.add(path+".at", "no-side", "say with upper or lower, closed or open where on the plate %q is", at)
		case g.Of == RimGap && !isHour(at):
			c.add(path+".at", "no-hour", "places on a rim are hours of the clock, 1 to 12, not %q", at)
		}
	}
}

func isHour(text string) bool {
	hour, err := strconv.Atoi(text)
	return err == nil && hour >= 1 && hour <= 12
}

// stack checks what a drawing of a stack is made from.
func (c *checker) stack(path string, rule *StackRule) {
	if rule == nil {
		return
	}
	path += ".stack"
	if _, known := c.vocab.Attribute(rule.CountFrom); !known {
		c.add(path+".count_from", "unknown-attribute", "no part has the attribute %q", rule.CountFrom)
	}
	fit, name, _ := cutLast(rule.Spacer)
	_, _, numbers, _ := FitRuleUses(fit)
	if !slices.Contains(numbers, name) || !slices.Contains(c.def.Fit, fit) {
		c.add(path+".spacer", "unknown-number", "no fit rule of this procedure works out %q", rule.Spacer)
	}
	if check, known := c.def.proud(rule.Proud); !known || check.Kind != Measure || check.Unit != "mm" {
		c.add(path+".proud", "unknown-check", "no step of this procedure measures %q in mm: write step/check", rule.Proud)
	}
}
