package sketch

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// passes writes the passes as a table, and what the closing round asks for.
func (s *sheet) passes(t *procedure.PlannedTorque) {
	s.Line(s.Left(), s.Y, s.Right(), s.Y, 2, "")
	for i, percent := range t.Passes {
		s.pass(fmt.Sprintf("pass %d", i+1), percent, passValue(t, percent))
	}
	if t.Closing {
		s.pass("closing round", 100, passValue(t, 100))
		s.Gap(6)
		s.say(textSize, false, closingWords(t))
	}
	if t.ByFeel {
		s.Gap(6)
		s.say(textSize, false, "Found by feel: the value is only a limit.")
	}
	if t.Window.IsZero() && !t.ByFeel {
		s.Gap(6)
		s.say(textSize, false, "Percent of the full value, which the plan for the bike gives.")
	}
}

// pass writes one row. A value is in N·m, or empty where it is not known.
func (s *sheet) pass(name string, percent int, value string) {
	y := s.Y + 20
	share := strconv.Itoa(percent) + " %"
	s.Text(s.Left()+2, y, textSize, page.Start, true, name)
	if value == "" {
		s.Text(s.Right()-2, y, textSize, page.End, true, share)
		s.tell(name + " at " + share)
	} else {
		if !strings.HasPrefix(value, atMost) { // a limit is no share of anything
			s.Text(s.Left()+190, y, textSize, page.End, false, share)
		}
		s.Text(s.Right()-2, y, textSize, page.End, true, value)
		s.tell(name + " at " + value)
	}
	s.Y += 28
	s.Line(s.Left(), s.Y, s.Right(), s.Y, 1, "")
}

const atMost = "at most "

// passValue is what a pass aims for. The last one is as planned, those before it are
// rounded for reading, because only the setting of the wrench counts there.
func passValue(t *procedure.PlannedTorque, percent int) string {
	if t.Window.IsZero() {
		return ""
	}
	if high, ok := t.Window.Max(); ok && t.ByFeel {
		return atMost + rounded(high, 100)
	}
	return rounded(t.Aim, percent)
}

// rounded writes a share of a torque to two or three figures, and a whole one
// as it is, but for a long decimal, which is cut to hundredths: never above it.
func rounded(full torque.Torque, percent int) string {
	if percent == 100 {
		const longest = len("300.25 N·m")
		if text := full.String(); len(text) <= longest {
			return text
		}
		return full.In(torque.NewtonMeters).FloorPlaces(2) + " N·m"
	}
	value, places := full.NewtonMeters()*float64(percent)/100, 1
	switch {
	case value >= 20:
		places = 0
	case value < 1:
		places = 2
	}
	return strconv.FormatFloat(value, 'f', places, 64) + " N·m"
}

func closingWords(t *procedure.PlannedTorque) string {
	limit := t.ClosingLimit
	if limit == 0 {
		limit = procedure.DefaultClosingLimit
	}
	again := "Closing round: in this order at full value, again and again, until no bolt turns before the signal."
	if len(t.Bolts) == 1 {
		again = "Closing round: pull once more at full value, until the bolt does not turn before the signal."
	}
	rounds := strconv.Itoa(limit) + " rounds"
	if limit == 1 {
		rounds = "1 round"
	}
	return again + " Still turning after " + rounds + ": stop and find out why."
}
