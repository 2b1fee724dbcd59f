package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// DefaultClosingLimit is the number of closing rounds after which a bolt that
// still turns means something soft, stretched or wrong (common practice, no
// source).
const DefaultClosingLimit = 3

// torque plans what a step tightens: the row, the window and its reason, the
// aim, and a setting for every tool on the rack.
func (p *planner) torque(s *Step, out *PlannedStep) {
	row, ok := p.chooseJoint(s)
	if !ok {
		return
	}
	out.Risk = max(out.Risk, row.Risk)
	p.threadOr(row.Thread, row.ThreadFrom, out)
	pt := &PlannedTorque{
		Joint: row.ID, Title: row.Title, Location: row.Location, Assumes: row.ThreadPrep,
		Bolts: s.Torque.Bolts, Layout: s.Torque.Layout, Order: s.Torque.Order, Passes: s.Torque.Passes,
		Closing: s.Torque.Closing, ClosingLimit: s.Torque.ClosingLimit, ByFeel: s.Torque.ByFeel,
	}
	if len(pt.Order) == 0 {
		pt.Order = pt.Bolts
	}
	if pt.Closing && pt.ClosingLimit == 0 {
		pt.ClosingLimit = DefaultClosingLimit
	}
	out.Torque = pt
	p.misfiled(s, row)
	if !p.window(s.ID, row, pt) {
		return
	}
	p.release(s.ID, out.Risk, pt)
	p.otherPrep(out, row, pt)
	p.aim(row, pt)
	p.lessWithPaste(s, out, row, pt)
	p.choices(s.ID, out, pt)
}

func (p *planner) chooseJoint(s *Step) (*JointRow, bool) {
	for _, c := range s.Torque.Joints {
		if !p.holds(c.When, s.ID) {
			continue
		}
		if row, ok := p.res.Joint(c.Joint); ok {
			return row, true
		}
	}
	p.find(PlanFinding{Rule: FindingNoJoint, Step: s.ID, Blocks: true,
		Text: "no row of the joint table holds for these parts: enter the maker's figure as a new row, or ask the foreman"})
	return nil, false
}

// window collects what every part of the joint states and lets the lowest
// maximum govern. It reports false when there is no window to work with.
func (p *planner) window(step string, row *JointRow, pt *PlannedTorque) bool {
	limits, ok := p.limits(step, row)
	if !ok {
		return false
	}
	low, high := governing(limits)
	if high == nil {
		p.limitUnknown(step, row, "no part prints a maximum and the joint table has none")
		return false
	}
	if low == nil {
		p.limitUnknown(step, row, "the maximum is known but no minimum, neither on a part nor in the joint table")
		return false
	}
	w, err := torque.NewWindow(low.Value, high.Value)
	if err != nil {
		p.find(PlanFinding{Rule: FindingWindowsConflict, Step: step, About: row.ID, Blocks: true,
			Text: fmt.Sprintf("%s: at least %v by %s, but at most %v by %s: no torque satisfies both, ask the makers or change a part",
				row.Title, low.Value, who(low), high.Value, who(high))})
		return false
	}
	pt.Window, pt.Limits = w, limits
	// A minimum may come from the joint table, the maximum that governs is
	// what could break something.
	pt.Confidence = high.Confidence
	pt.Governs = "at most " + high.Value.String() + " by " + who(high) + ", at least " + low.Value.String() + " by " + who(low)
	return true
}

// limits lists the ends stated by the parts, and by the table where a part
// states none.
func (p *planner) limits(step string, row *JointRow) ([]WindowLimit, bool) {
	table, tableOK := p.tableWindow(step, row)
	var limits []WindowLimit
	needTable, ok := len(row.Limits) == 0, true
	for _, role := range p.stating(row) {
		part, there := p.sheet.Part(role)
		if !there {
			needTable = true
			continue
		}
		printed, good := p.printed(step, role, part, row)
		ok = ok && good
		limits = append(limits, printed...)
		if !hasEnd(printed, "max") {
			needTable = true
		}
	}
	if tableOK {
		limits = append(limits, tableLimits(table, row, needTable, !hasEnd(limits, "min"))...)
	}
	if needTable && !tableOK && ok {
		if !hasEnd(limits, "max") {
			p.limitUnknown(step, row, "neither the parts nor the joint table give a limit")
			return nil, false
		}
	}
	return limits, ok
}

func (p *planner) limitUnknown(step string, row *JointRow, why string) {
	p.find(PlanFinding{Rule: FindingLimitUnknown, Step: step, About: row.ID, Blocks: true,
		Text: fmt.Sprintf("%s: %s; read the part or its manual and enter the figure, nothing is guessed", row.Title, why)})
}

// tableWindow reads the row's own window. The catalogue check has seen to it
// that the text can be read.
func (p *planner) tableWindow(step string, row *JointRow) (torque.Window, bool) {
	if row.Window == "" {
		return torque.Window{}, false
	}
	w, err := p.readWindow(row.Window)
	if err != nil {
		p.find(PlanFinding{Rule: FindingMarkingUnread, Step: step, About: row.ID, Blocks: true,
			Text: fmt.Sprintf("the joint table's window %q cannot be read: %v", row.Window, err)})
		return torque.Window{}, false
	}
	return w, true
}

func tableLimits(w torque.Window, row *JointRow, wantMax, wantMin bool) []WindowLimit {
	var out []WindowLimit
	add := func(end string, v torque.Torque) {
		out = append(out, WindowLimit{End: end, Value: v, From: tableName, AsWritten: row.Window,
			Source: row.Source.Text, Confidence: row.Source.Confidence})
	}
	if v, ok := w.Min(); ok && wantMin {
		add("min", v)
	}
	if v, ok := w.Max(); ok && wantMax {
		add("max", v)
	}
	return out
}

const tableName = "joint table"

func hasEnd(limits []WindowLimit, end string) bool {
	for _, l := range limits {
		if l.End == end {
			return true
		}
	}
	return false
}

// governing returns the highest minimum and the lowest maximum. Of equal ends
// the one that can be leaned on more is named.
func governing(limits []WindowLimit) (low, high *WindowLimit) {
	for i := range limits {
		l := &limits[i]
		switch {
		case l.End == "min" && (low == nil || l.Value > low.Value || l.Value == low.Value && l.Confidence > low.Confidence):
			low = l
		case l.End == "max" && (high == nil || l.Value < high.Value || l.Value == high.Value && l.Confidence > high.Confidence):
			high = l
		}
	}
	return low, high
}

func who(l *WindowLimit) string {
	if l.From == tableName {
		return "the joint table (" + l.Source + ")"
	}
	return "the " + words(l.From)
}

// release lets a from-memory window through to a safety-critical joint only
// on a foreman's word.
func (p *planner) release(step string, risk Risk, pt *PlannedTorque) {
	if pt.Confidence > FromMemory || risk < SafetyCritical {
		return
	}
	if a, ok := p.policy.accepted(pt.Joint, pt.Window); ok {
		pt.AcceptedBy = a.Person
		return
	}
	p.find(PlanFinding{Rule: FindingFromMemory, Step: step, About: pt.Joint, Blocks: true,
		Text: fmt.Sprintf("%s is safety-critical and its window is from memory: enter the figure printed on the part or in its manual, or let the foreman answer for %v", pt.Title, pt.Window)})
}
