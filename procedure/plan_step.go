package procedure

import (
	"fmt"
)

func (p *planner) step(s *Step) {
	if !p.holds(s.When, s.ID) {
		p.plan.Skipped = append(p.plan.Skipped, SkippedStep{ID: s.ID, Title: s.Title,
			Reason: "only when " + s.When.Words()})
		return
	}
	out := PlannedStep{
		ID: s.ID, Title: s.Title, Do: s.Do, Why: s.Why, Accept: s.Accept, Mistake: s.Mistake,
		Risk: s.Risk, Hands: s.Hands, Parts: s.Parts, Tools: s.Tools, Cautions: s.Cautions, Voids: s.Voids, Rework: s.Rework, Due: s.Due,
		Waits: s.Waits, Source: p.res.Definition.Source,
	}
	if s.Source != nil {
		out.Source = *s.Source
	}
	if out.Risk == 0 {
		out.Risk = p.res.Definition.Risk
	}
	p.thread(s, &out)
	p.prep(s, &out)
	if s.Torque != nil {
		p.torque(s, &out)
	}
	p.checks(s, &out)
	p.stack(s, &out)
	if s.Hold != nil && p.holds(s.Hold.When, s.ID) {
		hold := *s.Hold
		hold.When = nil
		out.Hold = &hold
	}
	p.gloves(s, &out)
	if p.plan.Steps == nil {
		p.plan.Steps = make([]PlannedStep, 0, len(p.res.Definition.Steps))
	}
	p.plan.Steps = append(p.plan.Steps, out)
}

func (p *planner) thread(s *Step, out *PlannedStep) {
	for _, c := range s.Threads {
		if !p.holds(c.When, s.ID) {
			continue
		}
		p.threadOr(c.Thread, c.ThreadFrom, out)
		return
	}
}

// threadOr takes the thread as written, else from the attribute that holds it.
func (p *planner) threadOr(text, from string, out *PlannedStep) {
	if text == "" && from != "" {
		var known bool
		if text, known = p.sheet.Attribute(from); !known {
			p.missing(from, out.ID)
			return
		}
	}
	p.setThread(text, out)
}

// setThread puts a thread and its hand on the step. A thread that cannot be
// read stops the plan: nobody knows which way it tightens.
func (p *planner) setThread(text string, out *PlannedStep) {
	out.Thread = text
	t, err := p.readThread(text)
	if err != nil {
		p.find(PlanFinding{Rule: FindingThreadUnread, Step: out.ID, About: text, Blocks: true,
			Text: fmt.Sprintf("the thread %q cannot be read, so which way it tightens is not known: %v", text, err)})
		return
	}
	out.Hand = t.Hand()
}

func (p *planner) prep(s *Step, out *PlannedStep) {
	if s.Prep == nil {
		return
	}
	out.ThreadPrep = p.choosePrep(s.Prep.Thread, s.ID, "thread")
	out.FacePrep = p.choosePrep(s.Prep.Face, s.ID, "contact face")
	out.FaceWhere, out.FaceZone = s.Prep.Where, s.Prep.Zone
}

func (p *planner) choosePrep(choices []PrepChoice, step, surface string) *PlannedPrep {
	if len(choices) == 0 {
		return nil
	}
	for _, c := range choices {
		if p.holds(c.When, step) {
			return &PlannedPrep{Use: c.Use, Never: c.Never, Why: c.Why}
		}
	}
	p.find(PlanFinding{Rule: FindingNoPrep, Step: step, About: surface, Blocks: true,
		Text: fmt.Sprintf("no prep is known for the %s with these materials: ask the foreman, do not assume", surface)})
	return nil
}

func (p *planner) checks(s *Step, out *PlannedStep) {
	for _, c := range s.Checks {
		if !p.holds(c.When, s.ID) {
			continue
		}
		pc := PlannedCheck{ID: c.ID, Kind: c.Kind, Ask: c.Ask, Unit: c.Unit, Min: c.Min, Max: c.Max,
			Instrument: c.Instrument, Error: c.Error, Gap: c.Gap}
		if c.Expect != "" && !p.expect(c, &pc) {
			p.find(PlanFinding{Rule: FindingAttributeMissing, Step: s.ID, About: c.Expect, Blocks: true,
				Text: fmt.Sprintf("the fit rule did not work out %s: mend the fit findings first", words(c.Expect))})
		}
		if out.Checks == nil {
			out.Checks = make([]PlannedCheck, 0, len(s.Checks))
		}
		out.Checks = append(out.Checks, pc)
	}
}

// expect takes a check's limits from a number that a fit rule worked out.
func (p *planner) expect(c Check, out *PlannedCheck) bool {
	rule, name, _ := cutLast(c.Expect)
	for _, f := range p.plan.Fit {
		if f.Rule != rule {
			continue
		}
		v, err := parseDecimal(f.Numbers[name])
		within, errWithin := parseDecimal(c.Within)
		if err != nil || errWithin != nil {
			return false
		}
		out.Min = formatRat(ratSub(v, within), 9)
		out.Max = formatRat(ratAdd(v, within), 9)
		return true
	}
	return false
}
