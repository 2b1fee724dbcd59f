package torque

import (
	"encoding/json"
	"fmt"
)

// String returns the window for people after NIST SP 811 (2008) 7.7, the unit
// with every number: "5 N·m to 7 N·m", "8 N·m ± 1 N·m", "at most 5 N·m", "at
// least 30 N·m". The zero value is "no limit".
func (w Window) String() string {
	switch {
	case w.IsZero():
		return "no limit"
	case w.isSymmetric():
		return w.nominal.String() + " ± " + (w.max - w.nominal).String()
	case w.hasNominal:
		return w.limits() + ", nominal " + w.nominal.String()
	}
	return w.limits()
}

// limits is the text without the nominal value.
func (w Window) limits() string {
	switch {
	case !w.hasMax:
		return "at least " + w.min.String()
	case !w.hasMin:
		return "at most " + w.max.String()
	}
	return w.min.String() + " to " + w.max.String()
}

// isSymmetric reports a window that is its nominal value ± one tolerance.
func (w Window) isSymmetric() bool {
	return w.hasNominal && w.hasMin && w.hasMax && w.max-w.nominal == w.nominal-w.min
}

// windowJSON is the form in JSON; nil is a side without a limit.
type windowJSON struct {
	Min     *Torque `json:"min,omitempty"`
	Max     *Torque `json:"max,omitempty"`
	Nominal *Torque `json:"nominal,omitempty"`
}

// MarshalJSON writes {"min":"5 N.m","max":"7 N.m"} with "nominal" where there
// is one; a side without a limit is left out. The zero value is {}.
func (w Window) MarshalJSON() ([]byte, error) {
	var out windowJSON
	if w.hasMin {
		out.Min = &w.min
	}
	if w.hasMax {
		out.Max = &w.max
	}
	if w.hasNominal {
		out.Nominal = &w.nominal
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what [Window.MarshalJSON] writes and checks it as the
// constructors do.
func (w *Window) UnmarshalJSON(data []byte) error {
	var in windowJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return fmt.Errorf("read window: %w", err)
	}
	var read Window
	if in.Min != nil {
		read.min, read.hasMin = *in.Min, true
	}
	if in.Max != nil {
		read.max, read.hasMax = *in.Max, true
	}
	read, err := newWindow(read)
	if err == nil && in.Nominal != nil {
		read, err = read.WithNominal(*in.Nominal)
	}
	if err != nil {
		return fmt.Errorf("read window: %w", err)
	}
	*w = read
	return nil
}
