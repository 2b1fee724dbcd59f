package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
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

func threadText(s *procedure.PlannedStep) string {
	if s.Thread == "" {
		return ""
	}
	if s.Hand == joint.LeftHand {
		return s.Thread + ", left-hand: tightens counterclockwise"
	}
	return s.Thread + ", right-hand: tightens clockwise"
}

func (t *planPage) prep(label, where string, p *procedure.PlannedPrep) {
	if p == nil {
		return
	}
	text := p.Use.Words()
	if where != "" {
		text += " on " + where
	}
	t.hang(label, stepColumn, text+". "+p.Why)
}

func (t *planPage) torque(p *procedure.PlannedTorque) {
	where := ""
	if p.Location != "" {
		where = " (" + p.Location + ")"
	}
	t.hang("   joint", stepColumn, p.Title+where)
	if p.Window.IsZero() {
		t.hang("   torque", stepColumn, "not known: see above")
		return
	}
	t.hang("   torque", stepColumn, fmt.Sprintf("%v, aim for %v", p.Window, p.Aim))
	t.hang("   because", stepColumn, p.Governs)
	for _, l := range p.Limits {
		if l.Where != "" {
			t.hang("   read", stepColumn, limitText(l))
		}
	}
	if p.Confidence == procedure.FromMemory {
		t.hang("   how sure", stepColumn, "from memory only: a figure printed on the part or in its manual comes first")
	}
	if p.AcceptedBy != "" {
		t.hang("   answered by", stepColumn, p.AcceptedBy+", for a window that is only known from memory")
	}
	t.hang("   bolts", stepColumn, boltsText(p))
	if p.ByFeel {
		t.hang("   by feel", stepColumn, "this joint is found by feel; the window is only a limit")
	}
	for _, c := range p.Choices {
		t.hang("   tool "+c.Tool, stepColumn, toolText(c, p.Passes))
	}
}

func limitText(l procedure.WindowLimit) string {
	end := "at most"
	if l.End == "min" {
		end = "at least"
	}
	return fmt.Sprintf("%s %v: %q on the %s, %s (%s)", end, l.Value, l.AsWritten, spelled(l.From), l.Where, seenWords(l.Confidence))
}

// seenWords says where a figure was read.
func seenWords(c procedure.Confidence) string {
	if c == procedure.Manual {
		return "read in its manual"
	}
	return "read on the part"
}

func boltsText(p *procedure.PlannedTorque) string {
	if len(p.Bolts) < 2 && len(p.Passes) < 2 && !p.Closing {
		return ""
	}
	text := "in the order " + strings.Join(p.Order, ", ")
	if len(p.Bolts) < 2 {
		text = strings.Join(p.Bolts, ", ")
	}
	if len(p.Passes) > 1 {
		var passes []string
		for _, percent := range p.Passes {
			passes = append(passes, fmt.Sprintf("%d %%", percent))
		}
		text += "; passes at " + strings.Join(passes, ", ")
	}
	if p.Closing {
		text += fmt.Sprintf("; then round after round at full value until no bolt turns, at most %d rounds", p.ClosingLimit)
	}
	return text
}

func toolText(c procedure.ToolChoice, passes []int) string {
	if !c.Can() {
		var reasons []string
		for _, f := range c.Faults {
			reasons = append(reasons, f.Text)
		}
		return "no: " + strings.Join(reasons, "; ")
	}
	if c.Kind == procedure.Indicating {
		return "yes: read " + acceptText(c)
	}
	text := fmt.Sprintf("yes: set to %v", c.Setting)
	if c.Kind == procedure.Fixed {
		text = fmt.Sprintf("yes: signals at %v", c.Setting)
	}
	if len(passes) > 1 && len(c.Passes) == len(passes) {
		text += ", passes at " + figures(c.Passes)
	}
	return text
}

func acceptText(c procedure.ToolChoice) string {
	if c.Accept == nil {
		return c.Setting.String()
	}
	return c.Accept.String()
}

func figures(list []torque.Figure) string {
	var out []string
	for _, f := range list {
		out = append(out, f.String())
	}
	return strings.Join(out, ", ")
}

func checkText(c procedure.PlannedCheck) string {
	text := c.Ask
	switch c.Kind {
	case procedure.Measure:
		text += " " + limitsText(c)
		if c.Instrument != "" {
			text += " With: " + c.Instrument
			if strings.Trim(c.Error, "0.") != "" {
				text += fmt.Sprintf(" (may be %s %s off)", c.Error, unitWords(c.Unit))
			}
			text += "."
		}
	case procedure.Photo:
		text += " Take a picture."
	case procedure.Look:
	}
	return text
}

func limitsText(c procedure.PlannedCheck) string {
	unit := unitWords(c.Unit)
	switch {
	case c.Min != "" && c.Max != "":
		return fmt.Sprintf("%s %s to %s %s.", c.Min, unit, c.Max, unit)
	case c.Max != "":
		return fmt.Sprintf("At most %s %s.", c.Max, unit)
	case c.Min != "":
		return fmt.Sprintf("At least %s %s.", c.Min, unit)
	}
	return ""
}

func unitWords(unit string) string {
	switch unit {
	case "degC":
		return "°C"
	case "deg":
		return "degrees"
	case "count":
		return ""
	}
	return unit
}

func holdText(h *procedure.Hold) string {
	if h.By == procedure.ForemanSigns {
		return "work stops until the foreman has looked: " + h.LooksAt
	}
	return "another able person looks before the next step: " + h.LooksAt
}

// waitText says a wait; title names a step.
func waitText(w procedure.Wait, title func(string) string) string {
	before := title(w.Before)
	switch w.Before {
	case procedure.BeforeFinishing:
		before = "the job is finished"
	case procedure.BeforeReleasing:
		before = "the bike leaves"
	}
	text := fmt.Sprintf("%s before %s", durationText(time.Duration(w.For)), before)
	if len(w.With) > 0 {
		var with []string
		for _, p := range w.With {
			with = append(with, p.Words())
		}
		text += ", with " + strings.Join(with, " or ")
	}
	for _, l := range w.Longer {
		text += "; " + longerText(l)
	}
	return text + ". " + w.Why
}

func longerText(l procedure.Longer) string {
	var when []string
	if len(l.Metals) > 0 {
		when = append(when, "on "+strings.Join(l.Metals, " or "))
	}
	if l.BelowCelsius != nil {
		when = append(when, fmt.Sprintf("below %d °C", *l.BelowCelsius))
	}
	return fmt.Sprintf("%d times as long %s", l.Times, strings.Join(when, " and "))
}

func durationText(d time.Duration) string {
	hours, minutes := int(d/time.Hour), int(d%time.Hour/time.Minute)
	switch {
	case hours == 0:
		return counted(minutes, "minute")
	case minutes == 0:
		return counted(hours, "hour")
	}
	return counted(hours, "hour") + " " + counted(minutes, "minute")
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

func reworkText(r procedure.Rework, title func(string) string) string {
	text := r.If + ": " + r.Do
	switch r.From {
	case "":
	case "stop":
		text += " The job stops with this part."
	default:
		text += " Go back to " + title(r.From) + "."
	}
	return text
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
