package procedure

import (
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/torque"
)

// otherPrep says when a window of the joint table is used with another prep
// than it assumes. A maker's figure is the maker's, prep included.
func (p *planner) otherPrep(out *PlannedStep, row *JointRow, pt *PlannedTorque) {
	used := p.preparedWith(out)
	if row.ThreadPrep == 0 || len(used) == 0 || slices.Contains(used, row.ThreadPrep) || pt.Confidence > FromMemory {
		return
	}
	p.find(PlanFinding{Rule: FindingPrepDiffers, Step: out.ID, About: row.ID,
		Text: fmt.Sprintf("the joint table's window for %s assumes %s on the thread, and here it is %s: the same torque clamps differently, so look for the maker's figure", row.Title, row.ThreadPrep.Words(), used[0].Words())})
}

// preparedWith lists the preps of the step's thread: its own, or those of the
// earlier steps with the same thread. Both sides of a shell can have the same.
func (p *planner) preparedWith(out *PlannedStep) []Prep {
	if out.ThreadPrep != nil {
		return []Prep{out.ThreadPrep.Use}
	}
	var used []Prep
	for _, s := range p.plan.Steps {
		if s.ThreadPrep != nil && s.Thread == out.Thread && out.Thread != "" {
			used = append(used, s.ThreadPrep.Use)
		}
	}
	return used
}

// aim is the value that a maker states with a tolerance, else the row's own,
// where it lies in the window; else the middle.
func (p *planner) aim(row *JointRow, pt *PlannedTorque) {
	low, _ := pt.Window.Min()
	high, _ := pt.Window.Max()
	pt.Aim = low + (high-low)/2
	if aim, err := torque.Parse(row.Aim); err == nil && pt.Window.Contains(aim) {
		pt.Aim = aim
	}
	if aim, ok := p.printedAim(row, pt.Window); ok {
		pt.Aim = aim
	}
}

// printedAim is the lowest value in the window that a part of the joint states
// with a tolerance. A bare figure is a maximum too, and no value to aim at.
func (p *planner) printedAim(row *JointRow, w torque.Window) (lowest torque.Torque, ok bool) {
	for _, role := range p.stating(row) {
		part, there := p.sheet.Part(role)
		if !there {
			continue
		}
		for _, f := range part.Printed {
			printed, err := p.readWindow(f.Marking)
			aim, stated := printed.Nominal()
			high, _ := printed.Max()
			if err == nil && stated && aim < high && f.Joint == row.ID && w.Contains(aim) && (!ok || aim < lowest) {
				lowest, ok = aim, true
			}
		}
	}
	return lowest, ok
}
