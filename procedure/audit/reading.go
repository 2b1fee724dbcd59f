package audit

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// readings looks at the tool behind every reading with what is known of it
// now: whether it could vouch for the reading on that date, and what the joint
// got if a calibration has found the tool out of tolerance since.
func (x *examiner) readings() {
	for i := range x.facts {
		f := &x.facts[i]
		if f.tool == "" {
			continue
		}
		r, ok := f.payload.(procedure.ReadingTaken)
		if !ok {
			continue
		}
		x.tool(f, r)
		if t := x.tools[f.tool]; t != nil {
			x.tolerance(f, r, t)
		}
	}
}

// hand is the direction that the tool was pulled in: that of the planned
// thread.
func (x *examiner) hand(f *fact) joint.Hand {
	if s := x.state(f.step); s != nil {
		return s.Planned.Hand
	}
	return joint.RightHand
}

// tool lists why the tool could not vouch for the reading, as far as it is
// known today, and what the record itself said then.
func (x *examiner) tool(f *fact, r procedure.ReadingTaken) {
	at := f.When().Best()
	var faults []procedure.ToolFault
	t := x.tools[f.tool]
	if t == nil {
		faults = []procedure.ToolFault{{Rule: RuleToolUnknown}}
	} else {
		check := t.PassFaults
		if s := x.state(f.step); s == nil || s.Planned.Torque == nil || f.judgement.Pass >= len(s.Planned.Torque.Passes)-1 {
			check = t.Faults
		}
		faults = check(r.Value, x.hand(f), at)
	}
	said := f.judgement.Rule
	if strings.HasPrefix(said, "tool-") && !slices.ContainsFunc(faults, func(fault procedure.ToolFault) bool { return fault.Rule == said }) {
		faults = append(faults, procedure.ToolFault{Rule: said, Text: f.judgement.Text})
	}
	for _, fault := range faults {
		out := Finding{Rule: fault.Rule, Item: f.item, Tool: f.tool, Sure: Certain, Entries: refs(f.Envelope), Status: x.madeGood(f, false)}
		out.Text, out.Mend = toolText(fault, f, t, at, x.hand(f))
		if said == fault.Rule {
			out.Because = said
		}
		x.add(out, x.state(f.step))
	}
}

// toolText says what was wrong with the tool then, and what to do about it.
func toolText(fault procedure.ToolFault, f *fact, t *procedure.Tool, at time.Time, hand joint.Hand) (text, mend string) {
	mend = "take the reading again with a tool that can vouch for it"
	switch fault.Rule {
	case RuleToolUnknown:
		return fmt.Sprintf("%s is not on the list of tools", f.tool), "find out which tool it was and correct the entry, or take it again"
	case RuleToolQuarantined:
		return fmt.Sprintf("%s was set aside at that time", f.tool), mend + "; find out why it was still on the rack"
	case RuleToolAway:
		return fmt.Sprintf("%s was not on site at that time", f.tool), "find out which tool it was and correct the entry with the reason, or take it again"
	case RuleToolUncalibrated:
		return fmt.Sprintf("%s had no calibration on %s", f.tool, at.Format(time.DateOnly)), mend
	case RuleToolOverdue:
		return overdue(t, f.tool, at)
	case RuleToolHand:
		return fmt.Sprintf("%s was not calibrated for a %v thread", f.tool, hand), mend
	case RuleToolRange:
		return fmt.Sprintf("%s cannot vouch for so low or so high a value", f.tool), mend
	}
	return fault.Text, mend
}

// overdue tells apart a tool that was only late on paper from one that nobody
// has looked at yet. Overdue is not out of tolerance.
func overdue(t *procedure.Tool, id string, at time.Time) (text, mend string) {
	if t == nil {
		return id + " was overdue for calibration", "calibrate it before anything is decided"
	}
	cal, _ := t.CalibrationAt(at)
	text = fmt.Sprintf("%s was due for calibration on %s", id, cal.Due.Format(time.DateOnly))
	next, ok := foundAfter(t, at)
	switch {
	case !ok:
		return text, "calibrate it as it is, before any adjustment, and decide then"
	case isOut(t, next, next.AsFound):
		return text + fmt.Sprintf(" and was found out of tolerance on %s", next.At.Format(time.DateOnly)), "follow the recall of this tool"
	}
	return text + fmt.Sprintf(" and was found in tolerance on %s", next.At.Format(time.DateOnly)),
		"accept the reading with a note; find out why an overdue tool was on the rack"
}
