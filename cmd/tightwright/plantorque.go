package main

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// threadText names the thread and the direction in which it tightens.
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

// torque says what is tightened to what and why, and how each tool is set.
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

// limitText says which limit a part prints, and where.
func limitText(l procedure.WindowLimit) string {
	end := "at most"
	if l.End == "min" {
		end = "at least"
	}
	text := fmt.Sprintf("%s %v: %q on the %s, %s (%s)", end, l.Value, l.AsWritten, spelled(l.From), l.Where, seenWords(l.Confidence))
	switch {
	case l.PasteLess > 0 && l.End == "min":
		text += fmt.Sprintf(", lowered by %d %% for carbon paste", l.PasteLess)
	case l.PasteLess > 0:
		text += fmt.Sprintf("; %d %% less with carbon paste", l.PasteLess)
	}
	return text
}

// seenWords says where a figure was read.
func seenWords(c procedure.Confidence) string {
	if c == procedure.Manual {
		return "read in its manual"
	}
	return "read on the part"
}

// toolText gives the setting of a tool that can do the step, else why it can't.
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
