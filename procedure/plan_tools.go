package procedure

import (
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// A plannedTool is a tool of the rack, ready to be asked for settings.
type plannedTool struct {
	*Tool
	wrench *wrench.Wrench
	err    error
}

// ready prepares the rack once for all steps.
func (p *planner) ready(tools []Tool) {
	p.tools = slices.Grow(p.tools, len(tools))
	for i := range tools {
		w, err := tools[i].wrenchAt(p.at)
		p.tools = append(p.tools, plannedTool{Tool: &tools[i], wrench: w, err: err})
	}
}

// choices works out a setting for every tool on the rack, or says why not.
func (p *planner) choices(step string, out *PlannedStep, pt *PlannedTorque) {
	able := false
	pt.Choices = slices.Grow(pt.Choices, len(p.tools))
	for _, t := range p.tools {
		c := p.choice(t, out, pt)
		able = able || c.Can()
		pt.Choices = append(pt.Choices, c)
	}
	pt.Aim = reachable(pt.Aim, pt.Choices)
	if !able {
		p.find(PlanFinding{Rule: FindingNoTool, Step: step, About: pt.Joint,
			Text: fmt.Sprintf("no tool on the rack can vouch for %v on %s: see the reasons beside each tool", pt.Aim, pt.Title)})
	}
}

// reachable moves an aim that no able tool of the rack may be set to, because
// its deviation comes off the window, to the nearest setting of one: a mechanic
// who reads two targets takes the wrong one.
func reachable(aim torque.Torque, choices []ToolChoice) torque.Torque {
	nearest, found := aim, false
	for _, c := range choices {
		if !c.Can() || c.Setting == nil {
			continue
		}
		if c.Settings.Contains(aim) {
			return aim
		}
		set, err := c.Setting.Torque()
		if err == nil && (!found || max(set-aim, aim-set) < max(nearest-aim, aim-nearest)) {
			nearest, found = set, true
		}
	}
	return nearest
}

// choice works out what one tool is set to. A setting beside a tool that cannot
// do the step would be used, so there is none then.
func (p *planner) choice(t plannedTool, out *PlannedStep, pt *PlannedTorque) ToolChoice {
	c := ToolChoice{Tool: t.ID, Kind: t.Kind, Faults: t.absences(p.at)}
	if t.err != nil {
		c.Faults = append(c.Faults, *faultOf(t.err))
		return c
	}
	value := pt.Aim
	chosen, err := t.wrench.Choose(pt.Window, pt.Aim, wrench.Allowance(p.res.Definition.Allowance))
	if err == nil {
		value = chosen.Setting
	}
	for _, e := range t.wrench.Faults(value, out.Hand, p.at) {
		c.Faults = append(c.Faults, ToolFault{Rule: e.Rule, Text: e.Error()})
	}
	if err != nil && !hasRule(c.Faults, ruleOf(err)) {
		c.Faults = append(c.Faults, *faultOf(err))
	}
	if c.Can() {
		p.set(&c, t.wrench, pt, chosen)
	}
	return c
}

// set puts the setting of a tool that can do the step on its choice, with the
// mark of each pass and the readings that count.
func (p *planner) set(c *ToolChoice, w *wrench.Wrench, pt *PlannedTorque, chosen wrench.Choice) {
	passes, err := w.PassMarks(chosen.Mark, pt.Passes)
	if err != nil {
		c.Faults = append(c.Faults, ToolFault{Rule: RuleToolOffScale, Text: fmt.Sprintf("%s cannot be set to less for the early passes: take one that can", c.Tool)})
		return
	}
	c.Setting, c.Passes, c.Settings = &chosen.Mark, passes, &chosen.Settings
	c.Accept, c.Possible = p.acceptance(pt.judgedBy(true), chosen.Deviation)
}

func hasRule(faults []ToolFault, rule string) bool {
	return slices.ContainsFunc(faults, func(f ToolFault) bool { return f.Rule == rule })
}

// acceptanceKey is what the limits of a reading depend on.
type acceptanceKey struct {
	window    torque.Window
	deviation wrench.Deviation
}

// acceptance returns the readings that conform, and those that are not
// nonconforming, at the plan's probability: a tablet compares and needs no
// mathematics of its own. Several tools share a deviation, several steps a
// window.
func (p *planner) acceptance(w torque.Window, d wrench.Deviation) (conforming, possible *torque.Window) {
	key := acceptanceKey{w, d}
	a, ok := p.accepts[key]
	if !ok {
		var err error
		if a, err = p.level.Acceptance(w, d.Uncertainty()); err != nil {
			return nil, nil
		}
		p.accepts[key] = a
	}
	if a.HasConforming {
		conforming = &a.Conforming
	}
	if a.HasPossible {
		possible = &a.Possible
	}
	return conforming, possible
}
