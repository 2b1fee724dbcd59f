package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// torque checks what step i tightens.
func (c *checker) torque(path string, i int) {
	rule := c.def.Steps[i].Torque
	if rule == nil {
		return
	}
	path += ".torque"
	if len(rule.Joints) == 0 {
		c.add(path+".joints", "missing", "name a row of the joint table")
	}
	var conditions []Condition
	for j, choice := range rule.Joints {
		at := fmt.Sprintf("%s.joints[%d]", path, j)
		conditions = append(conditions, choice.When)
		c.condition(at+".when", choice.When)
		c.possible(at+".when", c.around(&c.def.Steps[i]), choice.When)
		row, ok := c.joints[choice.Joint]
		if !ok {
			c.add(at+".joint", "unknown-joint", "the joint table has no row %q%s", choice.Joint, meant(choice.Joint, keysOf(c.joints)))
			continue
		}
		if !c.isPrepared(i, choice, row) {
			c.add(at, "no-prep", "nothing says what goes on the thread of %s: state it in this step, or in an earlier one with this thread", row.ID)
		}
		c.pinnedHand(at, choice, row)
		if row.ThreadFrom != "" {
			c.threadFrom(at+".joint", row.ThreadFrom, c.def.handled())
		}
	}
	c.reachable(path+".joints", c.around(&c.def.Steps[i]), conditions)
	c.group(path, rule)
}

// group checks bolts, order, passes and closing rounds.
func (c *checker) group(path string, rule *TorqueRule) {
	if len(rule.Bolts) == 0 {
		c.add(path+".bolts", "missing", "name the bolts as on the drawing, such as A and B")
	}
	c.texts(path+".bolts", rule.Bolts, maxShort)
	c.once(path+".bolts", rule.Bolts)
	if len(rule.Order) > 0 {
		bolts, order := slices.Sorted(slices.Values(rule.Bolts)), slices.Sorted(slices.Values(rule.Order))
		if !slices.Equal(bolts, order) {
			c.add(path+".order", "not-the-bolts", "the order names each bolt once: %s", strings.Join(rule.Bolts, ", "))
		}
	}
	rising := len(rule.Passes) > 0
	for j, percent := range rule.Passes {
		rising = rising && percent >= 1 && percent <= 100 && (j == 0 || percent > rule.Passes[j-1])
	}
	if !rising || rule.Passes[len(rule.Passes)-1] != 100 {
		c.add(path+".passes", "not-rising-to-100", "passes are percentages that rise and end at 100, such as [50, 75, 100]")
	}
	if len(rule.Bolts) > 1 && !rule.Closing {
		c.add(path+".closing", "no-closing-round", "bolts of a group relax each other, and only a closing round is evidence: write closing: true")
	}
	switch {
	case rule.ClosingLimit != 0 && !rule.Closing:
		c.add(path+".closing_limit", "no-closing-round", "a limit needs closing: true")
	case rule.ClosingLimit < 0 || rule.ClosingLimit > 10:
		c.add(path+".closing_limit", "out-of-range", "stop after 1 to 10 closing rounds")
	}
}

// isPrepared reports whether step i or one before it states the prep of the
// thread that is tightened under this choice.
func (c *checker) isPrepared(i int, choice JointChoice, row *JointRow) bool {
	if p := c.def.Steps[i].Prep; p != nil && len(p.Thread) > 0 {
		return true
	}
	for k := range i {
		s := &c.def.Steps[k]
		if s.Prep == nil || len(s.Prep.Thread) == 0 {
			continue
		}
		for _, t := range s.Threads {
			if sameThread(t, choice, row) {
				return true
			}
		}
	}
	return false
}

// sameThread reports whether a step's thread is the joint's: both the same
// thread, both from the same attribute, or the step's from the attribute that
// the choice of the joint pins to the joint's thread.
func sameThread(t ThreadChoice, choice JointChoice, row *JointRow) bool {
	switch {
	case row.Thread != "" && t.Thread == row.Thread:
		return true
	case row.ThreadFrom != "" && t.ThreadFrom == row.ThreadFrom:
		return true
	}
	pinned := choice.When[t.ThreadFrom]
	return t.ThreadFrom != "" && row.Thread != "" && len(pinned) == 1 && pinned[0] == row.Thread
}
