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
	p.row("wrench", fmt.Sprintf("used at %s to %s, within ±%v (%s)",
		upTo(lowest, a.wrench.Unit()), downTo(highest, a.wrench.Unit()), deviation, basis))
	if a.choice == nil {
		p.row("mind", "the permitted deviation has not come off: give the window, max and min, for that")
		return p.String()
	}
	p.row("window", a.window.String()+" at the fastener")
	p.row("comes there", spread(a.choice.Least, a.choice.Most, a.at.Unit())+a.deviation())
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

// settings writes the settings that do, rounded inward.
func (a settingAnswer) settings() string {
	unit := a.wrench.Unit()
	high, _ := a.choice.Settings.Max()
	low, ok := a.choice.Settings.Min()
	if !ok {
		return "up to " + downTo(high, unit)
	}
	return upTo(low, unit) + " to " + downTo(high, unit)
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

// spread writes what may happen, rounded outward.
func spread(low, high torque.Torque, unit torque.Unit) string {
	least := low.In(unit)
	return trimmed(least.FloorPlaces(fivePlaces(least))) + " " + unit.Symbol() + " to " + upTo(high, unit)
}

// upTo writes a torque to five figures, rounded up.
func upTo(t torque.Torque, unit torque.Unit) string {
	e := t.In(unit)
	return trimmed(e.CeilPlaces(fivePlaces(e))) + " " + unit.Symbol()
}

// downTo writes a torque to five figures, rounded down.
func downTo(t torque.Torque, unit torque.Unit) string {
	e := t.In(unit)
	return trimmed(e.FloorPlaces(fivePlaces(e))) + " " + unit.Symbol()
}

// fivePlaces is how many decimals make five figures of a value.
func fivePlaces(e torque.Exact) int { return min(9, max(0, 4-leadingPlace(e))) }

// trimmed takes the zeros off that end a decimal.
func trimmed(decimal string) string {
	if !strings.Contains(decimal, ".") {
		return decimal
	}
	return strings.TrimSuffix(strings.TrimRight(decimal, "0"), ".")
}
