package procedure

import (
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
