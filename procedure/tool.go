package procedure

import (
	"fmt"
	"slices"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// ToolKind says how a torque tool shows what it does.
type ToolKind uint8

// The kinds, by the two types of ISO 6789-1:2017: Type I indicates, Type II
// is set and signals.
const (
	// Setting tools are set to a torque on a scale and signal when it is
	// reached (Type II).
	Setting ToolKind = iota + 1
	// Indicating tools show the torque while they are pulled (Type I).
	Indicating
	// Fixed tools signal at one torque that cannot be set at the bench.
	Fixed
)

var toolKindNames = []string{"", "setting", "indicating", "fixed"}

// String returns the kind in words.
func (k ToolKind) String() string { return enumName(toolKindNames, k) }

// MarshalText writes the kind in words.
func (k ToolKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (k *ToolKind) UnmarshalText(b []byte) (err error) {
	*k, err = enumParse[ToolKind]("kind of tool", toolKindNames, string(b))
	return err
}

// A Tool is one torque tool on the rack with its calibrations.
type Tool struct {
	ID    string   `json:"id" yaml:"id"`
	Label string   `json:"label,omitempty" yaml:"label"`
	Kind  ToolKind `json:"kind" yaml:"kind"`
	// Unit is the unit of its scale, as a UCUM code.
	Unit torque.Unit `json:"unit" yaml:"unit"`
	// Min and Max are the ends of its scale in Unit, as digits; a fixed tool
	// has both the same.
	Min string `json:"min" yaml:"min"`
	Max string `json:"max" yaml:"max"`
	// Graduation is the step of its scale in Unit, as digits.
	Graduation string `json:"graduation,omitempty" yaml:"graduation"`
	// Calibrations in the order they were made.
	Calibrations []Calibration `json:"calibrations,omitempty" yaml:"calibrations"`
	// Quarantined lists the times the tool was set aside and put back.
	Quarantines []Quarantine `json:"quarantines,omitempty" yaml:"quarantines"`
	// Away lists the times the tool was not on site, such as at the
	// laboratory.
	Away []Absence `json:"away,omitempty" yaml:"away"`
}

// A Calibration is a comparison of the tool with a reference.
type Calibration struct {
	ID string    `json:"id,omitempty" yaml:"id"`
	At time.Time `json:"at" yaml:"at"`
	// Due is when the next one is due.
	Due time.Time `json:"due" yaml:"due"`
	// Hands lists the directions that were calibrated.
	Hands []joint.Hand `json:"hands" yaml:"hands"`
	// AsFound and AsLeft are delivered torque divided by set torque, as
	// decimals: 1.07 delivers 7 % too much. Empty means not recorded.
	AsFound string `json:"as_found,omitempty" yaml:"as_found"`
	AsLeft  string `json:"as_left,omitempty" yaml:"as_left"`
	// DeviationPercent is the permitted deviation the tool was held to, in
	// percent of the reference value, as digits; empty means by the default
	// of PermittedDeviation.
	DeviationPercent string `json:"deviation_percent,omitempty" yaml:"deviation_percent"`
	Certificate      string `json:"certificate,omitempty" yaml:"certificate"`
}

// A Quarantine is a time the tool was set aside; a zero To is still open.
type Quarantine struct {
	From   time.Time `json:"from" yaml:"from"`
	To     time.Time `json:"to,omitzero" yaml:"to"`
	Reason string    `json:"reason,omitempty" yaml:"reason"`
}

// An Absence is a time the tool was not on site; a zero To is still open.
type Absence struct {
	From time.Time `json:"from" yaml:"from"`
	To   time.Time `json:"to,omitzero" yaml:"to"`
}

// Check reports every field of the tool that cannot be.
func (t *Tool) Check() error {
	var p problems
	if !validID(t.ID) {
		p.add("id", "malformed-id", "write lower-case letters, digits and hyphens, at most 63, not %q", t.ID)
	}
	if t.Kind == 0 {
		p.add("kind", "missing", "say whether the tool is setting, indicating or fixed")
	}
	low, errMin := torque.ParseFigure(t.Min, t.Unit)
	high, errMax := torque.ParseFigure(t.Max, t.Unit)
	p.take("min", errMin)
	p.take("max", errMax)
	if errMin == nil && errMax == nil && (high.Sign() <= 0 || low.Compare(high) > 0) {
		p.add("max", "reversed-range", "the top of the scale must be above 0 and not below its start")
	}
	if t.Kind == Setting || t.Graduation != "" {
		if g, err := torque.ParseFigure(t.Graduation, t.Unit); err != nil || g.Sign() <= 0 {
			p.add("graduation", "malformed", "write the step of the scale in %s, such as 0.1", t.Unit.Symbol())
		}
	}
	for i, c := range t.Calibrations {
		if err := c.check(); err != nil {
			p.take(fmt.Sprintf("calibrations[%d]", i), err)
		}
	}
	return p.err()
}

func (c *Calibration) check() error {
	var p problems
	if c.At.IsZero() {
		p.add("at", "missing", "say when the calibration was made")
	}
	if !c.Due.After(c.At) {
		p.add("due", "reversed-range", "the next calibration is due after this one")
	}
	if len(c.Hands) == 0 {
		p.add("hands", "missing", "say which directions were calibrated: right, left or both")
	}
	for _, f := range []struct{ path, text string }{
		{"as_found", c.AsFound}, {"as_left", c.AsLeft}, {"deviation_percent", c.DeviationPercent},
	} {
		if f.text == "" {
			continue
		}
		if !isPositive(f.text) {
			p.add(f.path, "malformed", "write a number above 0 such as 1.004, not %q", f.text)
		}
	}
	return p.err()
}

// range returns the ends of the scale.
func (t *Tool) scale() (low, high torque.Torque, err error) {
	l, err := torque.ParseFigure(t.Min, t.Unit)
	if err != nil {
		return 0, 0, err
	}
	h, err := torque.ParseFigure(t.Max, t.Unit)
	if err != nil {
		return 0, 0, err
	}
	if low, err = l.Torque(); err != nil {
		return 0, 0, err
	}
	high, err = h.Torque()
	return low, high, err
}

// LeastUsePercent is the lowest part of a tool's top value at which it is
// used; see package wrench for its source.
const LeastUsePercent = wrench.LeastUsePercent

// calibrationAt returns the last calibration made by then, or false.
func (t *Tool) calibrationAt(at time.Time) (Calibration, bool) {
	var found Calibration
	ok := false
	for _, c := range t.Calibrations {
		if !c.At.After(at) && (!ok || c.At.After(found.At)) {
			found, ok = c, true
		}
	}
	return found, ok
}

// quarantinedAt reports whether the tool was set aside then.
func (t *Tool) quarantinedAt(at time.Time) bool {
	return slices.ContainsFunc(t.Quarantines, func(q Quarantine) bool {
		return !at.Before(q.From) && (q.To.IsZero() || at.Before(q.To))
	})
}

// awayAt reports whether the tool was not on site then.
func (t *Tool) awayAt(at time.Time) bool {
	return slices.ContainsFunc(t.Away, func(a Absence) bool {
		return !at.Before(a.From) && (a.To.IsZero() || at.Before(a.To))
	})
}
