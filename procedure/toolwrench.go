package procedure

import (
	"math/big"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// wrenchAt returns the tool as package wrench knows it, with the calibration
// that counts at that time.
func (t *Tool) wrenchAt(at time.Time) (*wrench.Wrench, error) {
	d := wrench.Description{ID: t.ID, Kind: wrench.Kind(t.Kind), Unit: t.Unit, Min: t.Min, Max: t.Max}
	if t.Kind != Fixed {
		d.Graduation = t.Graduation
	}
	if cal, ok := t.calibrationAt(at); ok {
		d.Calibration = &wrench.Calibration{At: cal.At, Due: cal.Due, DeviationPercent: cal.DeviationPercent,
			Directions: make([]wrench.Direction, 0, len(cal.Hands))}
		for _, h := range cal.Hands {
			d.Calibration.Directions = append(d.Calibration.Directions, wrench.Direction{Hand: h})
		}
	}
	return wrench.New(d)
}

// deviationAt returns the deviation the tool is held to at that time.
func (t *Tool) deviationAt(at time.Time) wrench.Deviation {
	w, err := t.wrenchAt(at)
	if err != nil {
		return wrench.MaxDeviation
	}
	d, _ := w.Permitted()
	return d
}

// PermittedDeviation returns the deviation the tool is held to, as a fraction
// of the reference value: what its calibration says, else 6 % for a tool
// whose maximum is 10 N·m or less and 4 % above (ISO 6789:2003, setting tool
// with graduated scale, as reviewed in a torque tool user manual; the
// boundary belongs to the tool, not to the reading).
func (t *Tool) PermittedDeviation(at time.Time) *big.Rat {
	return big.NewRat(int64(t.deviationAt(at)), 100*int64(wrench.Percent))
}

// useRange returns the torques the tool may be used at.
func (t *Tool) useRange() (low, high torque.Torque, err error) {
	w, err := t.wrenchAt(time.Time{})
	if err != nil {
		return 0, 0, err
	}
	low, high = w.UseRange()
	return low, high, nil
}

// SettingFor returns the mark nearest the aim that keeps what the tool
// delivers inside the window, with the deviation it is held to at that time
// under this allowance, and the window of all such settings. A fault says that
// there is no such mark.
func (t *Tool) SettingFor(w torque.Window, aim torque.Torque, allow Allowance, at time.Time) (torque.Figure, torque.Window, *ToolFault) {
	tool, err := t.wrenchAt(at)
	if err != nil {
		return torque.Figure{}, torque.Window{}, &ToolFault{Rule: RuleToolOffScale, Text: err.Error()}
	}
	c, err := tool.Choose(w, aim, wrench.Allowance(allow))
	if err != nil {
		return torque.Figure{}, torque.Window{}, faultOf(err)
	}
	return c.Mark, c.Settings, nil
}

// PassMarks returns the marks of each pass, percentages of the full setting,
// rounded down to the scale. A fixed tool has none for a partial pass.
func (t *Tool) PassMarks(full torque.Figure, percents []int) []torque.Figure {
	tool, err := t.wrenchAt(time.Time{})
	if err != nil {
		return nil
	}
	marks, err := tool.PassMarks(full, percents)
	if err != nil {
		return nil
	}
	return marks
}

// faultOf words a refusal of package wrench as a fault of the tool.
func faultOf(err error) *ToolFault {
	if e, ok := asToolError(err); ok {
		err = e
	}
	return &ToolFault{Rule: ruleOf(err), Text: err.Error()}
}

// ruleOf is the rule of a refusal alone: most are not worded twice.
func ruleOf(err error) string {
	if e, ok := asToolError(err); ok {
		return e.Rule
	}
	return RuleToolOffScale
}

// Faults lists why the tool cannot vouch for tightening to a value by a thread
// of this hand at that time; none means that it can.
func (t *Tool) Faults(value torque.Torque, hand joint.Hand, at time.Time) []ToolFault {
	faults := t.absences(at)
	w, err := t.wrenchAt(at)
	if err != nil {
		return append(faults, ToolFault{Rule: RuleToolRange, Text: err.Error()})
	}
	for _, e := range w.Faults(value, hand, at) {
		faults = append(faults, ToolFault{Rule: e.Rule, Text: e.Error()})
	}
	return faults
}

// PassFaults lists why the tool cannot vouch for a reading of an early pass:
// as Faults, but the low end of its range does not count. An early pass sets
// position and is no evidence of a torque (common practice, no source).
func (t *Tool) PassFaults(value torque.Torque, hand joint.Hand, at time.Time) []ToolFault {
	low, _, err := t.useRange()
	if err == nil && value < low {
		value = low
	}
	return t.Faults(value, hand, at)
}
