package main

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

func (a settingAnswer) words() string {
	var p page
	p.row("wanted", a.at.String()+" at the fastener")
	if a.lengths != nil {
		p.row("adapter", adapterWords(*a.lengths))
	}
	p.row("setting", exactly(a.ExactSetting))
	if a.wrench == nil {
		return p.String()
	}
	p.row("set it to", fmt.Sprintf("%v %v", a.Mark, a.MarkUnit.Symbol())+a.why())
	lowest, highest := a.wrench.UseRange()
	deviation, basis := a.wrench.Permitted()
	p.row("wrench", fmt.Sprintf("used at %s, within ±%v (%s)", inward(lowest, highest, a.wrench.Unit()), deviation, basis))
	if a.choice == nil {
		p.row("mind", "the permitted deviation has not come off: give the window, max and min, for that")
		return p.String()
	}
	p.row("window", a.window.String()+" at the fastener")
	p.row("comes there", outward(a.choice.Least, a.choice.Most, a.at.Unit())+a.deviation())
	p.row("settings", a.settings()+" stay inside the window")
	return p.String()
}

// why says how the mark was taken.
func (a settingAnswer) why() string {
	switch {
	case a.choice != nil:
		return ", the mark nearest to the setting that keeps inside the window"
	case a.bound == wrench.Minimum:
		return ", the lowest mark that is not below the setting"
	}
	return ", the highest mark that is not above the setting"
}

func (a settingAnswer) deviation() string {
	if a.choice.Deviation == 0 {
		return ", the wrench taken at its word"
	}
	return fmt.Sprintf(", the wrench off by up to ±%v", a.choice.Deviation)
}

// settings writes the settings that do.
func (a settingAnswer) settings() string {
	unit := a.wrench.Unit()
	high, _ := a.choice.Settings.Max()
	low, ok := a.choice.Settings.Min()
	if !ok {
		return "up to " + downward(high, unit, rangePlaces(0, high, unit))
	}
	return inward(low, high, unit)
}

func adapterWords(a wrench.AdapterDescription) string {
	angle := a.AngleDegrees
	if angle == "" {
		angle = "0"
	}
	return fmt.Sprintf("L %s %v, E %s %v, a %s°", a.Length, a.Unit, a.Extension, a.Unit, angle)
}

// exactly writes a setting for a person: the decimal, with a sign where it goes on.
func exactly(s wrench.ExactSetting) string {
	value, ok := new(big.Rat).SetString(s.Exact)
	if !ok {
		return s.Exact + " " + s.Unit.Symbol() // cannot happen: it is a decimal or a fraction
	}
	text := shown(torque.NewExact(value, s.Unit))
	if s.Rounded {
		text += "…"
	}
	return text + " " + s.Unit.Symbol()
}

// inward writes a range of what is allowed, rounded inward.
func inward(low, high torque.Torque, unit torque.Unit) string {
	if low == high {
		return shown(high.In(unit)) + " " + unit.Symbol()
	}
	places := rangePlaces(low, high, unit)
	return upward(low, unit, places) + " to " + downward(high, unit, places)
}

// outward writes a range of what may happen, rounded outward.
func outward(low, high torque.Torque, unit torque.Unit) string {
	places := rangePlaces(low, high, unit)
	return downward(low, unit, places) + " to " + upward(high, unit, places)
}

func upward(t torque.Torque, unit torque.Unit, places int) string {
	return trimmed(t.In(unit).CeilPlaces(places)) + " " + unit.Symbol()
}

func downward(t torque.Torque, unit torque.Unit, places int) string {
	return trimmed(t.In(unit).FloorPlaces(places)) + " " + unit.Symbol()
}

// rangePlaces is how many decimals a range is written with: five figures, and two
// of its width where it is narrow.
func rangePlaces(low, high torque.Torque, unit torque.Unit) int {
	return min(12, max(0, 4-leadingPlace(high.In(unit)), 1-leadingPlace((high-low).In(unit))))
}

// trimmed takes the zeros off that end a decimal.
func trimmed(decimal string) string {
	if !strings.Contains(decimal, ".") {
		return decimal
	}
	return strings.TrimSuffix(strings.TrimRight(decimal, "0"), ".")
}
