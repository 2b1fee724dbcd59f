package card

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	threads "github.com/tightwright/tightwright/torque/joint"
)

// A joint is a row of the table: a step that starts or tightens a thread, or
// puts something on a surface.
type joint struct {
	Step            int
	Title, Location string
	Critical        bool
	// Again says that the step is a pull after the test ride.
	Again    bool
	Thread   string
	Left     bool
	Thready  prep
	Face     prep
	Torque   bool
	Window   string
	Unknown  bool
	Aim      string
	ByFeel   bool
	Bolts    string
	Settings []setting
	// NoTool says why no tool of the rack can do it.
	NoTool  []string
	Governs string
	Read    []string
}

// A prep is what goes on a surface, and what never does.
type prep struct{ Use, Where, Never string }

// A setting is what to set on one wrench, and the marks of the passes before
// full value.
type setting struct{ Tool, Text, Passes string }

func newJoint(number int, s *procedure.PlannedStep, stopped bool) joint {
	j := joint{
		Step: number, Title: s.Title, Critical: s.Risk == procedure.SafetyCritical, Again: s.Due == procedure.BeforeRelease,
		Thread: s.Thread, Left: s.Thread != "" && s.Hand == threads.LeftHand,
		Thready: newPrep(s.ThreadPrep, ""), Face: newPrep(s.FacePrep, s.FaceWhere),
	}
	t := s.Torque
	if t == nil {
		return j
	}
	j.Torque, j.Title, j.Location, j.ByFeel, j.Bolts = true, t.Title, t.Location, t.ByFeel, bolts(t)
	if t.Window.IsZero() {
		j.Unknown = true
		return j
	}
	if s.ThreadPrep == nil && t.Assumes != 0 {
		j.Thready.Use = t.Assumes.Words() + ", as the figure assumes"
	}
	j.Window, j.Aim, j.Governs, j.Read = held(t.Window.String()), held(t.Aim.String()), aside.ReplaceAllString(t.Governs, ""), reads(t)
	if t.AcceptedBy != "" {
		j.Read = append(j.Read, t.AcceptedBy+" answers for it by name")
	}
	for _, c := range t.Choices {
		if c.Can() {
			j.Settings = append(j.Settings, setting{c.Tool, held(settingText(c)), passesText(c, t.Passes)})
		}
	}
	if len(j.Settings) == 0 && !stopped {
		j.NoTool = faults(t.Choices)
	}
	return j
}

func newPrep(p *procedure.PlannedPrep, where string) prep {
	if p == nil {
		return prep{}
	}
	return prep{Use: p.Use.Words(), Where: where, Never: neverText(p.Never)}
}

// lockers are the liquid threadlockers, which are forbidden together as a rule.
func lockers() []procedure.Prep {
	return []procedure.Prep{procedure.ThreadlockerLow, procedure.ThreadlockerMedium, procedure.ThreadlockerHigh}
}

// neverText lists what must not go on.
func neverText(all []procedure.Prep) string {
	var out []string
	if !slices.ContainsFunc(lockers(), func(l procedure.Prep) bool { return !slices.Contains(all, l) }) {
		out = append(out, "threadlocker of any strength")
		all = slices.DeleteFunc(slices.Clone(all), func(p procedure.Prep) bool { return slices.Contains(lockers(), p) })
	}
	for _, p := range all {
		if p == procedure.Dry {
			out = append(out, "left dry")
			continue
		}
		out = append(out, p.Words())
	}
	return strings.Join(out, "; ")
}

// bolts says in which order and how often; empty for one that is pulled once.
func bolts(t *procedure.PlannedTorque) string {
	if len(t.Bolts) < 2 && len(t.Passes) < 2 && !t.Closing {
		return ""
	}
	text := strings.Join(t.Order, " → ")
	if len(t.Bolts) > 1 {
		text = fmt.Sprintf("%d bolts: %s", len(t.Bolts), text)
	}
	if len(t.Passes) > 1 {
		var passes []string
		for _, percent := range t.Passes {
			passes = append(passes, strconv.Itoa(percent)+" %")
		}
		text += "; passes " + strings.Join(passes, ", ")
	}
	if t.Closing {
		text += fmt.Sprintf("; then round after round until none turns, at most %d", t.ClosingLimit)
	}
	return text
}

// settingText is what to set on a tool.
func settingText(c procedure.ToolChoice) string {
	switch {
	case c.Kind == procedure.Indicating:
		return readingText(c)
	case c.Kind == procedure.Fixed:
		return "signals at " + c.Setting.String()
	}
	return c.Setting.String()
}

// readingText says which readings with an indicating tool conform, rounded
// inward to the digits that it shows.
func readingText(c procedure.ToolChoice) string {
	unit, places := c.Setting.Unit(), c.Setting.Places()
	var accept torque.Window
	if c.Accept != nil {
		accept = *c.Accept
	}
	low, hasLow := accept.Min()
	high, hasHigh := accept.Max()
	if !hasLow || !hasHigh {
		return "read " + c.Setting.String()
	}
	from, to := low.In(unit).CeilPlaces(places), high.In(unit).FloorPlaces(places)
	return fmt.Sprintf("read %s to %s %s", from, to, unit.Symbol())
}

// passesText writes the marks of several passes, in the unit of the tool.
func passesText(c procedure.ToolChoice, passes []int) string {
	if len(passes) < 2 || len(c.Passes) != len(passes) {
		return ""
	}
	var digits []string
	for _, m := range c.Passes {
		digits = append(digits, m.Digits())
	}
	return strings.Join(digits, " → ")
}

// faults says why no tool can do it, each reason once.
func faults(all []procedure.ToolChoice) []string {
	var out []string
	for _, c := range all {
		for _, f := range c.Faults {
			if !slices.Contains(out, f.Text) {
				out = append(out, f.Text)
			}
		}
	}
	return out
}

// aside is what stands in brackets behind the joint table where it governs: its
// source, which the card says once, with the marking.
var aside = regexp.MustCompile(` \([^)]*\)`)

// reads says where each limit was read, the two ends of one marking together.
func reads(t *procedure.PlannedTorque) []string {
	var out []string
	for i, l := range t.Limits {
		same := func(o procedure.WindowLimit) bool {
			return o.From == l.From && o.AsWritten == l.AsWritten && o.Where == l.Where && o.Source == l.Source
		}
		if slices.IndexFunc(t.Limits, same) == i {
			out = append(out, readText(l))
		}
	}
	return out
}

func readText(l procedure.WindowLimit) string {
	if l.Where == "" {
		return fmt.Sprintf("%s: “%s”, %s (%s)", plain(l.From), l.AsWritten, l.Source, confidence(l.Confidence))
	}
	return fmt.Sprintf("%s: “%s”, %s (%s)", plain(l.From), l.AsWritten, l.Where, confidence(l.Confidence))
}
