package procedure

import (
	"math/big"
	"time"

	"github.com/tightwright/tightwright/torque"
)

// Scale returns the ends of the tool's scale.
func (t *Tool) Scale() (low, high torque.Torque, err error) { return t.scale() }

// UseRange returns the torques the tool may be used at: its scale, from
// LeastUsePercent of its top upwards unless it is fixed.
func (t *Tool) UseRange() (low, high torque.Torque, err error) { return t.useRange() }

// CalibrationAt returns the last calibration made by then, or false.
func (t *Tool) CalibrationAt(at time.Time) (Calibration, bool) { return t.calibrationAt(at) }

// SettingFor returns the mark nearest the aim that keeps what the tool
// delivers inside the window when the tool is off by the fraction d of the
// reference value, and the window of all such settings. A fault says that
// there is no such mark. The window has both ends.
func (t *Tool) SettingFor(w torque.Window, aim torque.Torque, d *big.Rat) (torque.Figure, torque.Window, *ToolFault) {
	mark, accept, fault := t.setting(w, aim, d)
	if fault != nil {
		return torque.Figure{}, torque.Window{}, fault
	}
	return *mark, accept, nil
}

// PassMarks returns the marks of each pass, percentages of the full setting,
// rounded down to the scale. A fixed tool has none.
func (t *Tool) PassMarks(full torque.Figure, percents []int) []torque.Figure {
	return t.passes(full, percents)
}
