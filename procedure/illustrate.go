package procedure

import (
	"cmp"
	"strings"
)

// What a step says for its drawings alone: where on the bolt a face prep goes,
// which gaps are compared, and what a stack is made of. Nothing is judged by it.

// A FaceZone says which contact face a prep is for. The zero value means the
// faces of the parts that are pressed together.
type FaceZone uint8

// The zones.
const (
	// BetweenParts is where the parts of the joint meet.
	BetweenParts FaceZone = iota
	// UnderHead is under the head, the nut or the shoulder that turns.
	UnderHead
	// BothFaces is both of them.
	BothFaces
)

var zoneNames = []string{"between", "head", "both"}

// String returns the zone as written in a procedure.
func (z FaceZone) String() string { return enumName(zoneNames, z) }

// MarshalText writes the zone.
func (z FaceZone) MarshalText() ([]byte, error) { return []byte(z.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (z *FaceZone) UnmarshalText(b []byte) (err error) {
	*z, err = enumParse[FaceZone]("zone", zoneNames, string(b))
	return err
}

// GapShape says what a gap is between.
type GapShape uint8

// The shapes.
const (
	// PlateGap is between a plate and the part that it closes over a tube.
	PlateGap GapShape = iota + 1
	// SlotGap is a slot that bolts draw together.
	SlotGap
	// RimGap is from a pointer to a rim, at hours of the clock.
	RimGap
)

var gapNames = []string{"", "plate", "slot", "rim"}

// String returns the shape as written in a procedure.
func (s GapShape) String() string { return enumName(gapNames, s) }

// MarshalText writes the shape; the zero value is empty.
func (s GapShape) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *GapShape) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*s = 0
		return nil
	}
	*s, err = enumParse[GapShape]("gap", gapNames, string(b))
	return err
}

// A Gap says that a check is about a gap, and where it is.
type Gap struct {
	Of GapShape `json:"of" yaml:"of"`
	// At names the places that the check looks at: upper left, A.
	At []string `json:"at" yaml:"at"`
	// Closed says that nothing may be open there.
	Closed bool `json:"closed,omitempty" yaml:"closed"`
}

// A StackRule says what is pushed onto a body one after the other.
type StackRule struct {
	// CountFrom names the attribute of the build sheet that says how many
	// sprockets there are.
	CountFrom string `json:"count_from" yaml:"count_from"`
	// Spacer names the number of a fit rule that says how thick what lies
	// behind them is, such as body-length.spacer.
	Spacer string `json:"spacer" yaml:"spacer"`
	// Proud names the step and its check that say how far the last one stands
	// beyond the end of the body, as "step/check".
	Proud string `json:"proud" yaml:"proud"`
}

// A PlannedStack is a stack on this bike. What is not known is empty.
type PlannedStack struct {
	Sprockets string `json:"sprockets,omitempty"`
	// SpacerMM is a decimal in millimetres; 0 means that there is none.
	SpacerMM string `json:"spacer_mm,omitempty"`
	// ProudMin and ProudMax are decimals in millimetres.
	ProudMin string `json:"proud_min,omitempty"`
	ProudMax string `json:"proud_max,omitempty"`
}

// Proud returns the limits, in millimetres, of the check that a stack names as
// "step/check"; both are empty where there is none.
func (d *Definition) Proud(name string) (low, high string) {
	check, ok := d.proud(name)
	if !ok {
		return "", ""
	}
	return check.Min, check.Max
}

func (d *Definition) proud(name string) (*Check, bool) {
	step, check, _ := strings.Cut(name, "/")
	for i := range d.Steps {
		for j := range d.Steps[i].Checks {
			if d.Steps[i].ID == step && d.Steps[i].Checks[j].ID == check {
				return &d.Steps[i].Checks[j], true
			}
		}
	}
	return nil, false
}

// stack takes what is known of a stack from the sheet and the fit rules. What
// is not known stops nothing: it is only drawn.
func (p *planner) stack(s *Step, out *PlannedStep) {
	if s.Stack == nil {
		return
	}
	out.Stack = &PlannedStack{}
	out.Stack.Sprockets, _ = p.sheet.Attribute(s.Stack.CountFrom)
	rule, name, _ := cutLast(s.Stack.Spacer)
	for _, f := range p.plan.Fit {
		if f.Rule == rule {
			out.Stack.SpacerMM = cmp.Or(out.Stack.SpacerMM, f.Numbers[name])
		}
	}
	out.Stack.ProudMin, out.Stack.ProudMax = p.res.Proud(s.Stack.Proud)
}
