package procedure

import (
	"fmt"
	"slices"
)

// printed lists the limits that one part states for the joint.
func (p *planner) printed(step, role string, part *Part, row *JointRow) ([]WindowLimit, bool) {
	var out []WindowLimit
	ok := true
	for _, f := range part.Printed {
		if f.Joint != row.ID {
			continue
		}
		w, err := p.readWindow(f.Marking)
		if err != nil {
			p.find(PlanFinding{Rule: FindingMarkingUnread, Step: step, About: role, Blocks: true,
				Text: fmt.Sprintf("the figure %q on the %s cannot be read: %v", f.Marking, words(role), err)})
			ok = false
			continue
		}
		limit := WindowLimit{From: role, AsWritten: f.Marking,
			Where: f.Where, Source: f.Seen.String() + ", " + f.Where, Confidence: f.Seen}
		var has bool
		if limit.Value, has = w.Min(); has {
			limit.End = "min"
			out = append(out, limit)
		}
		if limit.Value, has = w.Max(); has {
			limit.End, limit.PasteLess = "max", f.PasteLess
			out = append(out, limit)
		}
	}
	return out, ok
}

// stating lists the roles whose parts may state something about the joint:
// those of the row, and any part of the sheet with a figure for it.
func (p *planner) stating(row *JointRow) []string {
	roles := slices.Clone(row.Limits)
	for i := range p.sheet.Parts {
		if part := &p.sheet.Parts[i]; part.prints(row.ID) && !slices.Contains(roles, part.Role) {
			roles = append(roles, part.Role)
		}
	}
	return roles
}

// prints reports whether the part states a figure for a joint.
func (p *Part) prints(joint string) bool {
	return slices.ContainsFunc(p.Printed, func(f PrintedFigure) bool { return f.Joint == joint })
}

// misfiled stops the plan at a figure that stands on the sheet for another
// joint that the step could have had: the maker's figure would go unread.
func (p *planner) misfiled(s *Step, row *JointRow) {
	for i := range p.sheet.Parts {
		part := &p.sheet.Parts[i]
		if part.prints(row.ID) {
			continue
		}
		for _, c := range s.Torque.Joints {
			if c.Joint != row.ID && part.prints(c.Joint) {
				p.find(PlanFinding{Rule: FindingOtherJoint, Step: s.ID, About: part.Role, Blocks: true,
					Text: fmt.Sprintf("the figure on the %s is entered for %s, and this bike has %s: read it again and enter it for the joint that is there", words(part.Role), words(c.Joint), row.Title)})
			}
		}
	}
}
