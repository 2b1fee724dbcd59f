package teaching

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// mostTools is the number of tools that a question lays on the rack: more is an
// exercise in reading.
const mostTools = 6

// rack draws the tools of a question.
func (m *maker) rack(d *dice) []*procedure.Tool {
	var out []*procedure.Tool
	for i := range m.options.Tools {
		out = append(out, &m.options.Tools[i])
	}
	if len(out) > mostTools {
		shuffle(d, out)
		out = out[:mostTools]
	}
	return out
}

// toolChoice asks which tools of the rack can vouch for a joint on a day.
func (m *maker) toolChoice(j jointRow, d *dice) (Question, bool) {
	if j.Thread == "" {
		return Question{}, false // the hand is the maker's
	}
	at, rack := m.options.At, m.rack(d)
	var lines, why []string
	q := Question{Answer: able(rack, j, at, "")}
	for _, t := range rack {
		lines = append(lines, fmt.Sprintf("%s: %s, %s", t.ID, scaleWords(t), calibrationWords(t, at)))
		q.give(t.ID, calibrationWords(t, at))
		for _, f := range t.Faults(j.aim, hand(j), at) {
			why = append(why, f.Text)
		}
	}
	q.Stem = fmt.Sprintf("On %s you want to bring the %s, a %v thread, to %v. The shop uses a tool from %d %% of its top value. On the rack lie: %s. Which of them can vouch for it?",
		at.Format(time.DateOnly), j.name(), hand(j), j.aim, procedure.LeastUsePercent, strings.Join(lines, "; "))
	q.give("aim", j.aim.String())
	q.give("hand", hand(j).String())
	q.Solution = "A tool vouches for a torque inside its range of use, in a direction it was calibrated in, until its due date."
	if len(why) > 0 {
		q.Solution += " " + capital(strings.Join(why, "; ")) + "."
	}
	q.wrong(able(rack, j, at, procedure.RuleToolOverdue), "does not read the due date")
	q.wrong(able(rack, j, at, procedure.RuleToolHand), "does not ask for the direction")
	q.wrong(able(rack, j, at, procedure.RuleToolRange), "uses the whole scale and beyond")
	q.wrong("none of them", "finds fault with every tool")
	return q, len(q.Wrong) > 0
}

// able lists the tools without a fault, one rule overlooked.
func able(rack []*procedure.Tool, j jointRow, at time.Time, overlooked string) string {
	var ids []string
	for _, t := range rack {
		faults := slices.DeleteFunc(t.Faults(j.aim, hand(j), at), func(f procedure.ToolFault) bool { return f.Rule == overlooked })
		if len(faults) == 0 {
			ids = append(ids, t.ID)
		}
	}
	if len(ids) == 0 {
		return "none of them"
	}
	return strings.Join(ids, ", ")
}

// calibrationWords tells what stands on a tool's label and on the rack that
// day.
func calibrationWords(t *procedure.Tool, at time.Time) string {
	text := "never calibrated"
	if cal, ok := t.CalibrationAt(at); ok {
		var hands []string
		for _, h := range cal.Hands {
			hands = append(hands, h.String())
		}
		text = fmt.Sprintf("calibrated %s, due %s", strings.Join(hands, " and "), cal.Due.Format(time.DateOnly))
	}
	for _, f := range t.Faults(0, joint.RightHand, at) {
		switch f.Rule {
		case procedure.RuleToolQuarantined:
			text += ", set aside"
		case procedure.RuleToolAway:
			text += ", not on site"
		}
	}
	return text
}
