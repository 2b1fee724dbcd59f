package wrench

import (
	"github.com/tightwright/tightwright/torque"
)

// A Choice is the mark to set, or to pull to, and what follows from it.
type Choice struct {
	// Mark is the figure on the tool's scale, in its own unit.
	Mark torque.Figure `json:"mark"`
	// Setting is Mark as a torque of the tool.
	Setting torque.Torque `json:"setting"`
	// Settings are the settings of the tool, and for one that indicates the
	// readings, that keep the torque at the fastener inside the window: the
	// exact limits rounded inward to whole nanonewton meters, Setting included.
	Settings torque.Window `json:"settings"`
	// Least and Most are what may come to the fastener at the mark, rounded
	// outward to whole nanonewton meters within the window.
	Least torque.Torque `json:"least"`
	Most  torque.Torque `json:"most"`
	// Deviation is what came off the window, 0 without allowance.
	Deviation Deviation `json:"deviation_percent"`
}

// Choose returns the mark nearest to the aim among those in use that keep the
// torque at the fastener inside the window; of two equally near ones it is the
// higher. With [AllowTool] the torque stays inside however far the tool is off
// within its permitted deviation d: settings lie from min·(1+d) to max·(1-d).
//
// It is worked out exactly. What is delivered is inside when its Torque is, as
// with marks in [torque.Window.RoundInward], so that a limit stated in the unit
// of the scale is found on the scale again.
//
// The window needs a maximum: without one nothing is known to be safe. A
// window without minimum counts as starting at 0. An aim of zero or less means
// the middle of the window. The error is a [*ToolError], which wraps
// [ErrNoSetting], or [torque.ErrNoLimit].
//
// Choose looks at the scale only; whether the tool may be used at all on a day
// and in a direction is told by [Wrench.Faults].
func (w *Wrench) Choose(window torque.Window, aim torque.Torque, allow Allowance) (Choice, error) {
	choice, reason, err := w.choose(window, aim, allow)
	if reason != nil {
		return Choice{}, reason
	}
	return choice, err
}

func (w *Wrench) choose(window torque.Window, aim torque.Torque, allow Allowance) (Choice, *ToolError, error) {
	high, ok := window.Max()
	if !ok {
		return Choice{}, nil, torque.ErrNoLimit
	}
	low, hasLow := window.Min()
	if aim <= 0 {
		aim = low + (high-low)/2
	}
	g, d, reach := &w.grid, w.allowed(allow), w.reach(allow)
	bottom, top := reach.from(low), reach.to(high)
	first, last := max(g.from(bottom), g.least), g.last
	if top < g.tick(g.last) {
		last = g.to(max(top, g.first))
	}
	if bottom > top || first > last || top < g.first {
		return Choice{}, w.refuse(window, d, top), nil
	}
	k := min(max(g.nearest(w.lever.setting(aim)), first), last)
	choice := Choice{Mark: g.figure(k), Setting: g.torqueOf(g.tick(k)), Deviation: d}
	from, to := w.lever.settings(low, high, d)
	choice.Settings = settingWindow(min(from, choice.Setting), max(to, choice.Setting), hasLow)
	least, most := w.lever.delivered(choice.Setting, d)
	choice.Least, choice.Most = min(max(least, low), high), max(min(most, high), low)
	return choice, nil, nil
}

// allowed is what comes off the window.
func (w *Wrench) allowed(allow Allowance) Deviation {
	if allow == AllowTool {
		return w.deviation
	}
	return 0
}

func (w *Wrench) reach(allow Allowance) *delivery {
	if allow == AllowTool {
		return &w.allowing
	}
	return &w.trusting
}

// settingWindow cannot fail: the limits are those of a window, moved inward or
// by a lever of at most 10; beyond the range of a window there is no scale.
func settingWindow(from, to torque.Torque, hasLow bool) torque.Window {
	var window torque.Window
	if hasLow {
		window, _ = torque.NewWindow(from, min(to, torque.MaxWire))
	} else {
		window, _ = torque.AtMost(min(to, torque.MaxWire))
	}
	return window
}
