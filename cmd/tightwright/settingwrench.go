package main

import (
	"encoding/json"
	"errors"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/wrench"
)

// wrenchFlags has the flags of the fields of a wrench that are called otherwise.
var wrenchFlags = map[string]string{
	"min": "wrench-min", "max": "wrench-max", "unit": "wrench-unit", "kind": "wrench-kind",
	"class": "wrench-class", "deviation_percent": "deviation",
}

// wrenchFlagNames are the flags that describe a wrench.
var wrenchFlagNames = []string{"wrench-min", "wrench-max", "graduation", "wrench-unit", "wrench-kind", "wrench-class", "deviation"}

// wrench reads the description of a wrench, nil where none is given.
func (r *reading) wrench(unit torque.Unit) *wrench.Description {
	given := false
	for _, name := range wrenchFlagNames {
		given = given || r.has(name)
	}
	if !given {
		return nil
	}
	d := wrench.Description{
		Kind: word[wrench.Kind](r, "wrench-kind", "setting", "indicating", "fixed") + wrench.Setting, Unit: unit,
		Min: r.text("wrench-min"), Max: r.text("wrench-max"),
		Graduation: r.text("graduation"), DeviationPercent: r.text("deviation"),
	}
	if r.has("wrench-unit") {
		d.Unit = r.unit("wrench-unit")
	}
	if err := d.Class.UnmarshalText([]byte(r.text("wrench-class"))); r.has("wrench-class") && err != nil {
		r.faults.add("wrench-class", reasonUnknownWord, "%s", err)
	}
	for _, name := range []string{"wrench-min", "wrench-max", "graduation", "deviation"} {
		r.number(name) // says what is wrong with it
	}
	r.require("wrench-min", "wrench-max")
	if d.Kind == wrench.Setting {
		r.require("graduation")
	}
	return &d
}

// newWrench checks a wrench; nil stays nil.
func (r *reading) newWrench(d *wrench.Description) *wrench.Wrench {
	if d == nil {
		return nil
	}
	w, err := wrench.New(*d)
	r.faults.take(err, wrenchFlags)
	return w
}

// window reads what is allowed at the fastener.
func (r *reading) window(unit torque.Unit, hasWrench bool) torque.Window {
	if !r.has("min") && !r.has("max") {
		if r.has("allowance") {
			r.faults.add("allowance", reasonBadOption, "it goes with a window: give max")
		}
		return torque.Window{}
	}
	if !hasWrench {
		r.faults.add("wrench-max", torque.ReasonMissingValue, "a window is kept by a mark: describe the wrench")
	}
	if r.has("as") {
		r.faults.add("as", reasonBadOption, "a window has its limits: leave it out")
	}
	if !r.has("max") {
		r.faults.add("max", torque.ReasonMissingValue, "without a maximum nothing is known to be safe")
	}
	limits := torque.FigureWindow{Min: r.figure("min", unit), Max: r.figure("max", unit)}
	if r.faults.has("min") || r.faults.has("max") {
		return torque.Window{}
	}
	if err := limits.Check(); err != nil {
		r.faults.add("max", torque.ReasonReversedRange, "%s", err)
	}
	w, err := limits.Window()
	if err != nil && !r.faults.has("max") {
		r.faults.add("max", torque.ReasonOutOfRange, "%s", err)
	}
	return w
}

// takeRefusal notes why no mark does.
func (r *reading) takeRefusal(err error) {
	if tool, ok := errors.AsType[*wrench.ToolError](err); ok {
		r.faults.add("", reasonOf(tool.Rule), "%s", tool)
		return
	}
	r.faults.takeAs("max", torque.ReasonMissingValue, err)
}

// applied answers what comes to the fastener.
func (r *reading) applied(adapter wrench.Adapter, setTo torque.Figure) (answer, error) {
	at, err := adapter.Applied(setTo)
	r.faults.take(err, map[string]string{"torque": "set-to"})
	return appliedAnswer{at, setTo}, r.faults.err()
}

// appliedAnswer is the answer of setting for --set-to.
type appliedAnswer struct {
	at    wrench.ExactSetting
	setTo torque.Figure
}

func (a appliedAnswer) object() any {
	return struct {
		Torque  float64     `json:"torque"`
		Exact   string      `json:"exact"`
		Rounded bool        `json:"rounded,omitempty"`
		Unit    torque.Unit `json:"unit"`
	}{a.at.Setting, a.at.Exact, a.at.Rounded, a.at.Unit}
}

func (a appliedAnswer) drawing() ([]byte, error) { //nolint:unparam // a drawable that says why there is no drawing
	return nil, wrong(reasonBadOption, "svg: a drawing shows where a wrench has to be set: give torque")
}

func (a appliedAnswer) words() string {
	var p page
	p.row("set to", a.setTo.String())
	p.row("comes there", exactly(a.at)+" at the fastener")
	return p.String()
}

// settingAnswer is the answer of setting.
type settingAnswer struct {
	wrench.ExactSetting
	at         torque.Figure
	lengths    *wrench.AdapterDescription
	wrench     *wrench.Wrench
	graduation torque.Figure
	window     torque.Window
	bound      wrench.Bound
	choice     *wrench.Choice
}

// choose takes the mark that was chosen for the window.
func (a *settingAnswer) choose(c wrench.Choice) {
	unit := c.Mark.Unit()
	a.choice, a.Mark, a.MarkUnit = &c, json.Number(c.Mark.Digits()), &unit
}

func (a settingAnswer) object() any {
	return struct {
		wrench.ExactSetting
		Choice *wrench.Choice `json:"choice,omitempty"`
	}{a.ExactSetting, a.choice}
}

func (a settingAnswer) drawing() ([]byte, error) {
	return drawing.Setting(drawing.SettingView{
		At: a.at, Setting: a.ExactSetting, Adapter: a.lengths, Wrench: a.wrench,
		Graduation: a.graduation, Window: a.window, Choice: a.choice,
	})
}
