package wrench

import (
	"fmt"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// LeastUsePercent is the lowest part of its maximum at which a tool is used,
// fixed ones apart: ISO 6789:2003 6.5 judged tools from 20 % to 100 % of the
// maximum (as reviewed in a torque tool user manual). The 2017 edition
// calibrates from the lowest marked value; we keep the older, narrower range.
const LeastUsePercent = 20

// AssumedGraduation is the step, in its own unit, that an indicating tool is
// taken to show when its description names none (common practice, no source).
const AssumedGraduation = "0.01"

// A Description is a torque tool as its owner writes it down. All numbers are
// plain decimals as they stand on the tool.
type Description struct {
	// ID names the tool in reasons; it may be empty.
	ID   string `json:"id,omitempty"`
	Kind Kind   `json:"kind"`
	// Class is optional and must agree with Kind.
	Class Class `json:"class,omitzero"`
	// Unit is the unit of the scale, Min its first mark and Max its end. A
	// fixed tool has both the same.
	Unit torque.Unit `json:"unit"`
	Min  string      `json:"min"`
	Max  string      `json:"max"`
	// Graduation is the step between marks: needed for a setting tool, not
	// meant for a fixed one, else [AssumedGraduation].
	Graduation string `json:"graduation,omitempty"`
	// DeviationPercent is the permitted deviation declared for the tool, which
	// a maker may set below that of the standard.
	DeviationPercent string `json:"deviation_percent,omitempty"`
	// Calibration is the latest one; without it no tool vouches for a torque.
	Calibration *Calibration `json:"calibration,omitempty"`
}

// A Wrench is a checked torque tool, ready to be asked for settings. It is not
// changed after [New] and may be used by several goroutines.
type Wrench struct {
	id          string
	kind        Kind
	assumed     bool // the graduation
	grid        grid
	deviation   Deviation
	basis       string
	calibration calibration
	lever       ratio // what an adapter multiplies torques with
	// With the permitted deviation and without.
	allowing, trusting delivery
}

// New checks a description. The error joins a [FieldError] for each field that
// cannot be.
//
// The permitted deviation is, in this order, that of the calibration, the one
// declared, the one of the class, and else the default of the zero [Class].
func New(d Description) (*Wrench, error) {
	var p problems
	w := &Wrench{id: d.ID, kind: d.Kind}
	d.checkNames(&p)
	low, high, step, ok := d.scale(&p)
	calibrated := p.permitted("deviation_percent", d.DeviationPercent)
	w.basis = BasisDeclared
	if d.Calibration != nil {
		w.calibration = d.Calibration.check(&p)
		if c := p.permitted("calibration.deviation_percent", d.Calibration.DeviationPercent); c != 0 {
			calibrated, w.basis = c, BasisCalibrated
		}
	}
	if !ok || p.err() != nil {
		return nil, p.err()
	}
	least := uint64(LeastUsePercent)
	if d.Kind == Fixed {
		least = 0
	}
	w.assumed = d.Kind == Indicating && d.Graduation == ""
	w.grid = newGrid(d.Unit, low, high, step, least)
	switch {
	case d.Kind != Fixed && w.grid.isTooFine():
		p.add("graduation", RuleOutsideRange, "the step between marks is at least 1 nN·m")
		return nil, p.err()
	case w.grid.least > w.grid.last:
		p.add("graduation", RuleContradiction, "no mark lies between %d %% of the maximum and the maximum", LeastUsePercent)
		return nil, p.err()
	}
	if w.deviation = calibrated; calibrated == 0 {
		w.deviation, w.basis = d.Class.Permitted(w.grid.highest)
	}
	w.bare()
	return w, nil
}

func (d *Description) checkNames(p *problems) {
	if !isID(d.ID) {
		p.add("id", RuleMalformedID, "write lower-case letters, digits and inner hyphens, at most 63, not %s", clip(d.ID))
	}
	if d.Kind < Setting || d.Kind > Fixed {
		p.add("kind", RuleMissing, "say whether the tool is setting, indicating or fixed")
	}
	switch {
	case d.Class >= classCount:
		p.add("class", RuleUnknownWord, "write one of the classes I-A to II-G, or leave it out")
	case d.Class != 0 && d.Class.Kind() != d.Kind:
		p.add("class", RuleContradiction, "a tool of class %v is %v, not %v", d.Class, d.Class.Kind(), d.Kind)
	}
	if !d.Unit.IsValid() {
		p.add("unit", RuleUnknownWord, "write the unit of the scale as a UCUM code such as N.m")
	}
}

// isID reports whether text is empty or one to 63 lower-case letters, digits
// and inner hyphens (the resource id form of AIP-122).
func isID(text string) bool {
	for i, r := range text {
		inner := i > 0 && i < len(text)-1
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && (r != '-' || !inner) {
			return false
		}
	}
	return len(text) <= 63
}

// scale reads the figures of the scale; ok says that they make one.
func (d *Description) scale(p *problems) (low, high, step decimal, ok bool) {
	before := len(p.found)
	low, high = p.figure("min", d.Min), p.figure("max", d.Max)
	step = decimal{coefficient: 1}
	switch {
	case d.Kind == Fixed && d.Graduation != "":
		p.add("graduation", RuleContradiction, "a fixed tool has no graduation: leave it out")
	case d.Kind == Indicating && d.Graduation == "":
		step = p.figure("graduation", AssumedGraduation)
	case d.Kind != Fixed:
		step = p.figure("graduation", d.Graduation)
	}
	if len(p.found) > before || !d.Unit.IsValid() {
		return low, high, step, false
	}
	d.checkRange(p, low, high)
	if d.Kind != Fixed {
		d.checkStep(p, step, high)
	}
	return low, high, step, len(p.found) == before
}

// figure reads one number of the scale.
func (p *problems) figure(path, digits string) decimal {
	value, err := parseDecimal(digits)
	switch {
	case digits == "":
		p.add(path, RuleMissing, "write the figure on the scale, such as 5 or 0.1")
	case err != nil:
		p.add(path, RuleMalformedNumber, "%v", err)
	case value.negative:
		p.add(path, RuleOutsideRange, "write a figure that is not negative, not %s", clip(digits))
	case value.places > maxPlaces:
		p.add(path, RuleOutsideRange, "write at most %d decimals, not %s", maxPlaces, clip(digits))
	}
	return value
}

func (d *Description) checkRange(p *problems, low, high decimal) {
	top, _ := torque.ParseFigure(d.Max, d.Unit) // checked before
	switch _, err := top.Torque(); {
	case err != nil:
		p.add("max", RuleOutsideRange, "%v", err)
	case high.coefficient == 0 || low.compare(high) > 0:
		p.add("max", RuleReversedRange, "the end of the scale is above 0 and not below its first mark")
	case d.Kind == Fixed && low.compare(high) != 0:
		p.add("max", RuleContradiction, "a fixed tool has one torque: write the same as for min")
	}
}

func (d *Description) checkStep(p *problems, step, high decimal) {
	switch {
	case step.coefficient == 0:
		p.add("graduation", RuleOutsideRange, "write the step between marks, such as 0.1")
	case step.compare(high) > 0:
		p.add("graduation", RuleReversedRange, "the step between marks is more than the whole scale")
	}
}

// ID returns the name of the tool, which may be empty.
func (w *Wrench) ID() string { return w.id }

// Kind returns the kind of the tool.
func (w *Wrench) Kind() Kind { return w.kind }

// Unit returns the unit of the scale.
func (w *Wrench) Unit() torque.Unit { return w.grid.unit }

// Permitted returns the permitted deviation and where it comes from, one of
// the Basis texts.
func (w *Wrench) Permitted() (d Deviation, basis string) { return w.deviation, w.basis }

// UseRange returns the torques the tool is used at: its scale, from
// [LeastUsePercent] of its maximum on unless it is fixed. They are torques of
// the tool itself, without an adapter.
func (w *Wrench) UseRange() (lowest, highest torque.Torque) { return w.grid.lowest, w.grid.highest }

// HasAssumedGraduation reports whether the marks are those of
// [AssumedGraduation], because the description names none.
func (w *Wrench) HasAssumedGraduation() bool { return w.assumed }

// Found returns the worst deviation found at calibration in a direction;
// known is false where none was recorded.
func (w *Wrench) Found(hand joint.Hand) (d Deviation, known bool) {
	in := w.direction(hand)
	return in.found, in.known
}

// Due returns when the next calibration is due, the zero time for a tool that
// was never calibrated.
func (w *Wrench) Due() time.Time { return w.calibration.due }

func (w *Wrench) direction(hand joint.Hand) direction {
	if int(hand) >= len(w.calibration.directions) {
		return direction{}
	}
	return w.calibration.directions[hand]
}

// String returns the tool for people: its name, its scale and its deviation.
func (w *Wrench) String() string {
	top := w.grid.figure(w.grid.last)
	if w.kind == Fixed {
		return fmt.Sprintf("%s, fixed at %v, ± %v", w.name(), top, w.deviation)
	}
	return fmt.Sprintf("%s, %v to %v, ± %v", w.name(), w.grid.figure(0), top, w.deviation)
}

func (w *Wrench) name() string {
	if w.id == "" {
		return "the tool"
	}
	return w.id
}
