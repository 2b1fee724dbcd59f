package wrench

import (
	"fmt"
	"time"

	"github.com/tightwright/tightwright/torque/joint"
)

// DefaultIntervalMonths and DefaultIntervalCycles are how long a calibration
// serves where the owner has no procedure of its own, whichever comes first
// (ISO 6789:2003, from public articles; that the months begin with first use
// is from memory). Cycles are not counted here.
const (
	DefaultIntervalMonths = 12
	DefaultIntervalCycles = 5000
)

// A Calibration is the comparison with a reference that a tool relies on.
type Calibration struct {
	// At is when it was made, Due when the next one is due. An empty Due is
	// [DefaultIntervalMonths] after At.
	At  time.Time `json:"at"`
	Due time.Time `json:"due,omitzero"`
	// Directions lists the directions that were calibrated, each once.
	Directions []Direction `json:"directions"`
	// DeviationPercent is the permitted deviation that the tool was held to,
	// as percent digits; empty where the certificate names none.
	DeviationPercent string `json:"deviation_percent,omitempty"`
}

// A Direction is one direction of turning that was calibrated.
type Direction struct {
	Hand joint.Hand `json:"hand"`
	// DeviationPercent is the worst deviation found, signed as ISO 6789 has it,
	// shown value less reference value: "-1.5" delivers too much. Empty: not
	// recorded.
	DeviationPercent string `json:"deviation_percent,omitempty"`
}

// direction is a checked Direction.
type direction struct {
	calibrated, known bool
	found             Deviation
}

// calibration is a checked Calibration; the zero value is none.
type calibration struct {
	at, due    time.Time
	directions [2]direction // by joint.Hand
}

func (c *Calibration) check(p *problems) calibration {
	if c == nil {
		return calibration{}
	}
	checked := calibration{at: c.At, due: c.Due}
	if c.At.IsZero() {
		p.add("calibration.at", RuleMissing, "say when the calibration was made")
	}
	if c.Due.IsZero() {
		checked.due = c.At.AddDate(0, DefaultIntervalMonths, 0)
	} else if !c.Due.After(c.At) {
		p.add("calibration.due", RuleReversedRange, "the next calibration is due after this one")
	}
	if len(c.Directions) == 0 {
		p.add("calibration.directions", RuleMissing, "say which directions were calibrated: right-hand, left-hand or both")
	}
	for i, d := range c.Directions {
		d.check(p, i, &checked)
	}
	return checked
}

func (d Direction) check(p *problems, i int, into *calibration) {
	path := func(field string) string { return fmt.Sprintf("calibration.directions[%d].%s", i, field) }
	if int(d.Hand) >= len(into.directions) {
		p.add(path("hand"), RuleUnknownWord, "write right-hand or left-hand")
		return
	}
	if into.directions[d.Hand].calibrated {
		p.add(path("hand"), RuleDuplicate, "%v stands here twice", d.Hand)
		return
	}
	checked := direction{calibrated: true, known: d.DeviationPercent != ""}
	if checked.known {
		var err error
		if checked.found, err = ParseDeviation(d.DeviationPercent); err != nil {
			p.add(path("deviation_percent"), RuleMalformedNumber, "%v", err)
		}
	}
	into.directions[d.Hand] = checked
}

// permitted reads a permitted deviation, which is above zero: no tool is exact.
func (p *problems) permitted(path, percentDigits string) Deviation {
	if percentDigits == "" {
		return 0
	}
	d, err := ParseDeviation(percentDigits)
	if err != nil {
		p.add(path, RuleMalformedNumber, "%v", err)
		return 0
	}
	if d <= 0 {
		p.add(path, RuleOutsideRange, "a permitted deviation is above 0 %%, not %v", d)
	}
	return d
}
