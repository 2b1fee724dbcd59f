package teaching

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// ToolSource is the source of the rule for the lowest part of a scale.
const ToolSource = "ISO 6789:2003 tests from 20 % of the maximum (from memory; the 2017 edition starts at the lowest marked value)"

// askAboutTools makes the questions that belong to tools alone.
func (m *maker) askAboutTools() []candidate {
	var out []candidate
	for i := range m.options.Tools {
		tool := &m.options.Tools[i]
		if tool.Kind != procedure.Fixed {
			out = append(out, candidate{id: string(LowestSetting) + "/" + tool.ID, kind: LowestSetting,
				ask: func(*dice) (Question, bool) { return lowestSetting(tool) }})
		}
	}
	return out
}

// toolWords describes a tool by its scale, with its article.
func toolWords(t *procedure.Tool) string {
	return withArticle(scaleWords(t))
}

// scaleWords describes a tool by its scale.
func scaleWords(t *procedure.Tool) string {
	return fmt.Sprintf("%v tool from %s %v to %s %v", t.Kind, t.Min, t.Unit, t.Max, t.Unit)
}

// lowestSetting asks where the use of a scale begins.
func lowestSetting(t *procedure.Tool) (Question, bool) {
	low, high, err := t.UseRange()
	if err != nil {
		return Question{}, false
	}
	first, _, err := t.Scale()
	if err != nil {
		return Question{}, false
	}
	in := func(v torque.Torque) string { return v.In(t.Unit).RoundSignificant(4) }
	write := func(v torque.Torque) string { return trimmed(in(v)) + " " + t.Unit.Symbol() }
	q := Question{
		Stem:   fmt.Sprintf("%s lies on the rack. What is the lowest torque that the bench lets you use it for?", capital(toolWords(t))),
		Answer: write(low),
		Solution: fmt.Sprintf("%d %% of the top value of %s %v is %s, the scale begins at %s; the higher of the two counts.",
			procedure.LeastUsePercent, t.Max, t.Unit, write(high*procedure.LeastUsePercent/100), write(first)),
		Source:  procedure.Source{Text: ToolSource, Confidence: procedure.FromMemory},
		Caution: "What the tool's own papers say comes first.",
	}
	q.give("min", t.Min)
	q.give("max", t.Max)
	q.give("unit", t.Unit.Symbol())
	q.give("percent", fmt.Sprint(procedure.LeastUsePercent))
	if first > 0 {
		q.wrong(write(first), "uses the whole scale")
	}
	q.wrong(write(first+(high-first)*procedure.LeastUsePercent/100), "takes the percentage of the length of the scale")
	q.wrong(write(high/10), "takes 10 %")
	q.wrong(write(high/2), "takes half of the scale")
	return q, true
}

// trimmed drops zeros that say nothing.
func trimmed(digits string) string {
	if !strings.Contains(digits, ".") {
		return digits
	}
	return strings.TrimSuffix(strings.TrimRight(digits, "0"), ".")
}

// settingRange asks for the settings of one tool that keep what it delivers
// inside the window.
func (m *maker) settingRange(j jointRow, t *procedure.Tool) (Question, bool) {
	at := m.options.At
	if t.Kind != procedure.Setting || len(outOfUse(t, j, at)) > 0 {
		return Question{}, false
	}
	d := t.PermittedDeviation(at)
	answer, ok := settings(t, j, at)
	if !ok {
		return Question{}, false
	}
	one := big.NewRat(1, 1)
	minus, plus := new(big.Rat).Sub(one, d), new(big.Rat).Add(one, d)
	q := Question{
		Stem: fmt.Sprintf("The window of the %s is %v. %s in steps of %s may deliver %s %% more or less, as a part of what it delivers. To which marks may you set it?",
			j.name(), j.window, capital(toolWords(t)), t.Graduation, percentText(d)),
		Answer: answer,
		Solution: fmt.Sprintf("Set to S it delivers between S/%s and S/%s, so S lies from %v x %s to %v x %s, inwards to the marks.",
			decimalText(plus), decimalText(minus), j.low, decimalText(plus), j.high, decimalText(minus)),
	}
	q.give("min", j.low.String())
	q.give("max", j.high.String())
	q.give("deviation_percent", percentText(d))
	q.give("graduation", t.Graduation)
	q.give("first", t.Min)
	q.give("last", t.Max)
	q.give("unit", t.Unit.Symbol())
	q.wrong(marksIn(t, j.low.Rat(), j.high.Rat()), "leaves the tool's deviation out")
	q.wrong(marksIn(t, scaled(j.low, minus, false), scaled(j.high, plus, false)), "adds the deviation to the window instead of taking it off")
	q.wrong(marksIn(t, scaled(j.low, minus, true), scaled(j.high, plus, true)), "takes the deviation as a part of the set value")
	return q, true
}

// scaledFigure is a share of the lower limit, in the tool's unit.
func scaledFigure(j jointRow, t *procedure.Tool, percent int) *big.Rat {
	r := new(big.Rat).Quo(j.low.Rat(), t.Unit.Factor())
	return r.Mul(r, big.NewRat(int64(percent), 100))
}

// usable reports whether a tool is used for a value at all.
func usable(t *procedure.Tool, v torque.Torque) bool {
	low, high, err := t.UseRange()
	return err == nil && v >= low && v <= high
}

// outOfUse lists why a tool is not used for the aim of a joint, its calibration
// left aside.
func outOfUse(t *procedure.Tool, j jointRow, at time.Time) []procedure.ToolFault {
	return slices.DeleteFunc(t.Faults(j.aim, hand(j), at), func(f procedure.ToolFault) bool { return f.Rule != procedure.RuleToolRange })
}

// hand is the direction of a joint's thread; one that cannot be read counts as
// right-hand.
func hand(j jointRow) joint.Hand {
	t, err := joint.ParseThread(j.Thread)
	if err != nil {
		return joint.RightHand
	}
	return t.Hand()
}

// settings are the lowest and the highest mark that keep what a tool delivers
// inside the window with the deviation it is held to, as the bench works them
// out.
func settings(t *procedure.Tool, j jointRow, at time.Time) (string, bool) {
	_, accept, fault := t.SettingFor(j.window, j.aim, procedure.AllowTool, at)
	if fault != nil {
		return "", false
	}
	low, _ := accept.Min()
	high, _ := accept.Max()
	text := marksIn(t, low.Rat(), high.Rat())
	return text, text != ""
}

// scaled multiplies a limit, or divides it.
func scaled(t torque.Torque, by *big.Rat, divide bool) *big.Rat {
	if divide {
		return new(big.Rat).Quo(t.Rat(), by)
	}
	return new(big.Rat).Mul(t.Rat(), by)
}

// marksIn writes the lowest and the highest mark of a tool's scale between two
// limits in newton meters, and nothing where there is none.
func marksIn(t *procedure.Tool, low, high *big.Rat) string {
	scale := torque.Scale{Unit: t.Unit, Step: t.Graduation, First: t.Min, Last: t.Max}
	factor := t.Unit.Factor()
	first, err := scale.Above(torque.NewExact(new(big.Rat).Quo(low, factor), t.Unit))
	if err != nil {
		return ""
	}
	last, err := scale.Below(torque.NewExact(new(big.Rat).Quo(high, factor), t.Unit))
	if err != nil {
		return ""
	}
	return between(first.Digits(), last.Digits(), t.Unit)
}

// percentText writes a fraction in percent.
func percentText(d *big.Rat) string {
	return decimalText(new(big.Rat).Mul(d, big.NewRat(100, 1)))
}

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
