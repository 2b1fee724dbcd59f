package wrench

import (
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// Comparison is one reading of a tool against a reference: the torque the tool
// was set to or showed, and the torque the test device measured.
type Comparison struct {
	Shown     torque.Figure `json:"shown"`
	Reference torque.Figure `json:"reference"`
	relative  *big.Rat
}

// Compare takes the set or shown torque and the reference torque, in whatever
// units. Both must be above zero.
func Compare(shown, reference torque.Figure) (Comparison, error) {
	var p problems
	for _, side := range []struct {
		path   string
		figure torque.Figure
	}{{"shown", shown}, {"reference", reference}} {
		if side.figure.Rat().Sign() <= 0 {
			p.add(side.path, RuleOutsideRange, "write a torque above 0, not %v", side.figure)
		}
	}
	if err := p.err(); err != nil {
		return Comparison{}, err
	}
	x, r := shown.In(torque.NewtonMeters).Rat(), reference.In(torque.NewtonMeters).Rat()
	relative := x.Sub(x, r)
	return Comparison{shown, reference, relative.Quo(relative, r)}, nil
}

// Relative returns the exact deviation as a fraction of the reference, 0 for
// the zero value.
func (c Comparison) Relative() *big.Rat {
	if c.relative == nil {
		return new(big.Rat)
	}
	return new(big.Rat).Set(c.relative)
}

// Percent returns the deviation in percent with that many decimals, rounded
// half to even: "-6.54" for a tool set to 5 N·m that delivers 5.35 N·m.
func (c Comparison) Percent(places int) string {
	hundred := new(big.Rat).Mul(c.Relative(), big.NewRat(100, 1))
	return torque.NewExact(hundred, torque.NewtonMeters).RoundPlaces(places)
}

// Deviation returns the deviation to the nearest part per million. The error
// says that it is beyond [MaxDeviation].
func (c Comparison) Deviation() (Deviation, error) {
	d, err := ParseDeviation(c.Percent(deviationPlaces))
	if err != nil {
		return 0, fmt.Errorf("compare %v with %v: %w", c.Shown, c.Reference, err)
	}
	return d, nil
}

// IsWithin reports whether the deviation does not exceed d either way. It is
// exact, and a deviation of exactly d is within.
func (c Comparison) IsWithin(d Deviation) bool {
	limit := big.NewRat(int64(d.size()), int64(deviationWhole))
	return new(big.Rat).Abs(c.Relative()).Cmp(limit) <= 0
}
