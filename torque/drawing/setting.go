package drawing

import (
	"fmt"
	"math"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// A SettingView is what [Setting] draws. Only At and Setting must be there.
type SettingView struct {
	// At is the torque wanted at the fastener, Setting what the wrench shows
	// then, with its mark where a tool was asked.
	At      torque.Figure
	Setting wrench.ExactSetting
	// Adapter is what sits on the drive, nil for none.
	Adapter *wrench.AdapterDescription
	// Wrench is the tool, nil for none, and Graduation the step of its scale, zero
	// for none.
	Wrench     *wrench.Wrench
	Graduation torque.Figure
	// Window is what is allowed at the fastener, zero for none; Choice is the mark
	// that was chosen for it.
	Window torque.Window
	Choice *wrench.Choice
}

// Setting draws where a wrench has to be set: the lever where there is an
// adapter; the window at the fastener, with what may come there; and the scale of
// the wrench with its range of use, the settings that keep inside the window, and
// the mark.
//
// Errors: [ErrNotDrawable].
func Setting(v SettingView) ([]byte, error) {
	if v.At.IsZero() || v.Setting.Exact == "" {
		return nil, fmt.Errorf("draw setting: %w", ErrNotDrawable)
	}
	p := newPicture("setting")
	title := v.title()
	p.Paragraph(headSize, true, title)
	p.Gap(14)
	var said []string
	if v.Adapter != nil {
		l, err := newLever(*v.Adapter)
		if err != nil {
			return nil, err
		}
		l.draw(p)
		said = append(said, l.words())
	}
	for _, g := range v.gauges() {
		g.draw(p)
		said = append(said, g.words())
	}
	if v.Choice != nil {
		text := v.allowance()
		p.Paragraph(textSize, false, text)
		said = append(said, text)
	}
	return p.SVG(title, sentences(said...))
}

// mark returns the figure to set, zero where no tool was asked.
func (v SettingView) mark() torque.Figure {
	if v.Choice != nil {
		return v.Choice.Mark
	}
	if v.Setting.MarkUnit == nil {
		return torque.Figure{}
	}
	figure, err := torque.ParseFigure(v.Setting.Mark.String(), *v.Setting.MarkUnit)
	if err != nil {
		return torque.Figure{} // cannot happen: the mark was written from a figure
	}
	return figure
}

func (v SettingView) title() string {
	at := fmt.Sprintf(" for %v at the fastener", v.At)
	if mark := v.mark(); !mark.IsZero() {
		return fmt.Sprintf("Set %v%s", mark, at)
	}
	return fmt.Sprintf("Set %s %v%s", figures(v.Setting.Setting, 6), v.Setting.Unit, at)
}

func (v SettingView) allowance() string {
	if v.Choice.Deviation == 0 {
		return "The wrench is taken at its word: its permitted deviation does not come off the window."
	}
	return fmt.Sprintf("The permitted deviation of the wrench, ±%v, has come off the window.", v.Choice.Deviation)
}

func (v SettingView) gauges() []gauge {
	var out []gauge
	if v.Choice != nil {
		out = append(out, v.fastenerGauge())
	}
	if v.Wrench != nil {
		out = append(out, v.wrenchGauge())
	}
	return out
}

// fastenerGauge holds what may come to the fastener against the window.
func (v SettingView) fastenerGauge() gauge {
	unit := v.At.Unit()
	high, _ := v.Window.Max() // a choice needs a maximum
	low, hasLow := v.Window.Min()
	g := gauge{title: "At the fastener, in " + unit.Symbol()}
	count := places(low, high, unit)
	g.limits = append(g.limits, limit{label: "at most " + downward(high, unit, count), value: value(high, unit)})
	if hasLow {
		g.limits = append(g.limits, limit{label: "at least " + upward(low, unit, count), value: value(low, unit)})
	}
	g.scale = axisAround(value(low, unit), value(high, unit))
	g.bars = []bar{
		{label: "allowed: " + rangeText(low, high, unit, hasLow), low: value(low, unit), high: value(high, unit), fill: falling, hasNoNominal: true},
		{label: "comes there at this mark: " + spreadText(v.Choice.Least, v.Choice.Most, unit),
			low: value(v.Choice.Least, unit), high: value(v.Choice.Most, unit), fill: dotted, hasNoNominal: true},
	}
	return g
}

// wrenchGauge shows the scale of the tool.
func (v SettingView) wrenchGauge() gauge {
	unit := v.Wrench.Unit()
	lowest, highest := v.Wrench.UseRange()
	g := gauge{title: "On the wrench, in " + unit.Symbol()}
	if !v.Graduation.IsZero() {
		g.title += fmt.Sprintf(", a mark every %v", v.Graduation)
	}
	g.bars = []bar{{label: "the wrench is used at: " + rangeText(lowest, highest, unit, true),
		low: value(lowest, unit), high: value(highest, unit), fill: crossed, hasNoNominal: true}}
	if v.Choice != nil {
		low, hasLow := v.Choice.Settings.Min()
		high, _ := v.Choice.Settings.Max()
		g.bars = append(g.bars, bar{label: "keeps inside the window: " + rangeText(low, high, unit, hasLow),
			low: value(low, unit), high: value(high, unit), fill: falling, hasNoNominal: true})
	}
	if mark := v.mark(); !mark.IsZero() {
		g.limits = []limit{{label: "set here: " + mark.String(), value: mark.In(unit).Float64(), isMark: true}}
	}
	g.scale = axisTo(valuesOf(g.bars, g.limits)...)
	g.marks = v.marks(g.scale)
	return g
}

// leastSpacing is how far marks on the page are apart, in px, to be drawn at all.
const leastSpacing = 4.0

// marks lists the graduations in use, counted from the chosen mark to either
// side; none where they lie too near to each other to be told apart.
func (v SettingView) marks(scale axis) []float64 {
	mark := v.mark()
	if mark.IsZero() || v.Graduation.IsZero() {
		return nil
	}
	unit := v.Wrench.Unit()
	step, at := v.Graduation.In(unit).Float64(), mark.In(unit).Float64()
	if !(step > 0) || scale.x(step)-scale.x(0) < leastSpacing {
		return nil
	}
	lowest, highest := v.Wrench.UseRange()
	const slack = 1e-6 // of a step: the ends are rounded to nanonewton meters
	var out []float64
	for x := at; x >= value(lowest, unit)-slack*step; x -= step {
		out = append(out, x)
	}
	for x := at + step; x <= value(highest, unit)+slack*step; x += step {
		out = append(out, x)
	}
	return out
}

func value(t torque.Torque, unit torque.Unit) float64 { return t.In(unit).Float64() }

// rangeText writes a range of what is allowed: rounded inward, so that nothing is
// shown that is not allowed.
func rangeText(low, high torque.Torque, unit torque.Unit, hasLow bool) string {
	if !hasLow {
		return "at most " + downward(high, unit, places(0, high, unit))
	}
	if low == high {
		return shortened(figures(value(low, unit), 13)) + " " + unit.Symbol()
	}
	count := places(low, high, unit)
	return upward(low, unit, count) + " to " + downward(high, unit, count)
}

// spreadText writes a range of what may happen: rounded outward.
func spreadText(low, high torque.Torque, unit torque.Unit) string {
	count := places(low, high, unit)
	return downward(low, unit, count) + " to " + upward(high, unit, count)
}

func upward(t torque.Torque, unit torque.Unit, count int) string {
	return shortened(t.In(unit).CeilPlaces(count)) + " " + unit.Symbol()
}

func downward(t torque.Torque, unit torque.Unit, count int) string {
	return shortened(t.In(unit).FloorPlaces(count)) + " " + unit.Symbol()
}

// places is how many decimals a range is written with: five figures, and two of
// its width where it is narrow.
func places(low, high torque.Torque, unit torque.Unit) int {
	decimals := func(x float64, count int) int {
		if x <= 0 {
			return 0
		}
		return count - 1 - int(math.Floor(math.Log10(x)))
	}
	return min(12, max(0, decimals(value(high, unit), 5), decimals(value(high-low, unit), 2)))
}
