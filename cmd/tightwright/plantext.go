package main

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// Columns of a plan: where paragraphs begin beside their labels.
const (
	topColumn  = 14
	stepColumn = 16
)

// planText writes a plan for the mechanic who will work from it. hasRack says
// that tools were given.
func planText(plan *procedure.Plan, hasRack bool) string {
	t := planPage{plan: plan, hasRack: hasRack}
	t.head()
	t.findings()
	t.fit()
	t.layOut()
	for i := range plan.Steps {
		t.step(i+1, &plan.Steps[i])
	}
	t.skipped()
	return t.String()
}

type planPage struct {
	page
	plan    *procedure.Plan
	hasRack bool
}

func (t *planPage) head() {
	p := t.plan
	t.line("%s", p.Title)
	t.hang("bike", topColumn, bikeText(p.Label, p.Build))
	t.hang("procedure", topColumn, fmt.Sprintf("%s, edition %d, revision %s", p.Procedure, p.Edition, short(p.Revision)))
	t.hang("planned for", topColumn, p.At.Format("2 January 2006, 15:04 UTC"))
	t.hang("risk", topColumn, p.Risk.String())
	t.hang("time", topColumn, fmt.Sprintf("about %d minutes, never under %d", p.Minutes, p.Least))
	if !t.hasRack {
		t.hang("tools", topColumn, "no rack was given, so no settings are worked out")
	}
}

func (t *planPage) findings() {
	var stops, notes []procedure.PlanFinding
	for _, f := range t.plan.Findings {
		switch {
		case f.Blocks:
			stops = append(stops, f)
		case f.Rule != procedure.FindingNoTool || t.hasRack:
			notes = append(notes, f)
		}
	}
	if len(stops) > 0 {
		t.heading("STOP: mend this before a tool is touched")
		for _, f := range stops {
			t.hang("  -", 4, t.findingText(f))
		}
	}
	if len(notes) > 0 {
		t.heading("Look out for")
		for _, f := range notes {
			t.hang("  -", 4, t.findingText(f))
		}
	}
}

func (t *planPage) findingText(f procedure.PlanFinding) string {
	if f.Step == "" {
		return f.Text
	}
	return fmt.Sprintf("%s (%s)", f.Text, t.title(f.Step))
}

// title names a step by number and title.
func (t *planPage) title(step string) string {
	for i, s := range t.plan.Steps {
		if s.ID == step {
			return fmt.Sprintf("step %d, %s", i+1, lowerFirst(s.Title))
		}
	}
	return spelled(step)
}

func (t *planPage) fit() {
	if len(t.plan.Fit) == 0 {
		return
	}
	t.heading("Do the parts fit")
	for _, f := range t.plan.Fit {
		name := spelled(f.Rule)
		if f.Check != "" {
			name += ", " + spelled(f.Check)
		}
		t.hang("  -", 4, strings.Join(nonEmpty(name+": "+fitVerdict(f), f.Why), ". "))
		t.hang("", 4, fitFigures(f))
	}
}

func fitVerdict(f procedure.PlannedFit) string {
	verdict := spelled(f.Verdict)
	if len(f.Needs) > 0 {
		verdict += " " + strings.Join(f.Needs, " and ")
	}
	return verdict
}

func fitFigures(f procedure.PlannedFit) string {
	var out []string
	add := func(name, text string) {
		if text != "" {
			out = append(out, name+" "+text)
		}
	}
	add("found", f.Measured)
	add("with", f.Instrument)
	add("against", f.Limit)
	add("margin", f.Margin)
	add("source:", f.Source)
	return strings.Join(out, "; ")
}

func (t *planPage) layOut() {
	p := t.plan
	t.heading("Lay out")
	t.hang("  tools", topColumn, strings.Join(p.Tools, "; "))
	t.hang("  stock", topColumn, strings.Join(p.Consumables, "; "))
	for _, c := range p.Cautions {
		t.hang("  caution", topColumn, c)
	}
}

func (t *planPage) step(number int, s *procedure.PlannedStep) {
	t.heading("%d. %s", number, s.Title)
	if s.Risk == procedure.SafetyCritical {
		t.hang("   risk", stepColumn, s.Risk.String())
	}
	if s.Due == procedure.BeforeRelease {
		t.hang("   when", stepColumn, "after the test ride, before the bike leaves")
	}
	for _, c := range s.Cautions {
		t.hang("   caution", stepColumn, c)
	}
	t.hang("   do", stepColumn, s.Do)
	t.hang("   why", stepColumn, s.Why)
	t.hang("   tools", stepColumn, strings.Join(s.Tools, "; "))
	t.hang("   thread", stepColumn, threadText(s))
	t.prep("   on thread", "", s.ThreadPrep)
	t.prep("   on face", s.FaceWhere, s.FacePrep)
	if s.Torque != nil {
		t.torque(s.Torque)
	}
	for _, c := range s.Checks {
		t.hang("   check", stepColumn, checkText(c))
	}
	t.hang("   good when", stepColumn, s.Accept)
	t.hang("   mistake", stepColumn, s.Mistake)
	if s.Hold != nil {
		t.hang("   hold", stepColumn, holdText(s.Hold))
	}
	for _, w := range s.Waits {
		t.hang("   wait", stepColumn, waitText(w, t.title))
	}
	t.voids(s.Voids)
	for _, r := range s.Rework {
		t.hang("   if", stepColumn, reworkText(r, t.title))
	}
}

func (t *planPage) voids(voids []string) {
	if len(voids) == 0 {
		return
	}
	var out []string
	for _, v := range voids {
		proc, step, other := strings.Cut(v, "/")
		switch {
		case !other:
			if _, planned := t.plan.Step(v); planned {
				out = append(out, t.title(v))
			}
		case step == "*":
			out = append(out, "all of "+spelled(proc))
		default:
			out = append(out, spelled(step)+" of "+spelled(proc))
		}
	}
	if len(out) > 0 {
		t.hang("   spoils", stepColumn, "results already taken here must be taken again: "+strings.Join(out, "; "))
	}
}

func (t *planPage) skipped() {
	if len(t.plan.Skipped) == 0 {
		return
	}
	t.heading("Left out on this bike")
	for _, s := range t.plan.Skipped {
		t.hang("  -", 4, s.Title+": "+s.Reason)
	}
}

func bikeText(label, build string) string {
	if label == "" || build == "" {
		return label + build
	}
	return fmt.Sprintf("%s (%s)", label, build)
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, strings.TrimSuffix(t, "."))
		}
	}
	return out
}

func short(revision string) string { return revision[:min(12, len(revision))] }

func lowerFirst(text string) string {
	if len(text) > 1 && text[1] >= 'a' && text[1] <= 'z' {
		return strings.ToLower(text[:1]) + text[1:]
	}
	return text
}
