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
