package wrench

import (
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// An AdapterDescription gives the lengths of a wrench with an adapter on its
// drive, such as a crow-foot, as they were measured: plain decimals.
type AdapterDescription struct {
	// Length is L, from the center of the grip, where the load is applied, to
	// the center of the drive; above zero.
	Length string `json:"length"`
	// Extension is E, from the center of the drive to the center of the
	// fastener; zero or more.
	Extension string `json:"extension"`
	// AngleDegrees is a, between the wrench and the extension, from -360 to
	// 360: 0 or nothing where the extension lengthens the wrench, 90 at a right
	// angle, 180 where it points back to the grip.
	AngleDegrees string `json:"angle,omitempty"`
	// Unit is the unit of both lengths, which does not change the result.
	Unit LengthUnit `json:"length_unit"`
}

// An Adapter turns torques at the fastener into settings of the wrench and
// back. The zero value is no adapter, which changes nothing.
//
//	S = T·L/(L + E·cos a)        T = S·(L + E·cos a)/L
//
// S is the setting, T the torque at the fastener (TM 9-254 fig. 4-5 and 4-6,
// whose second figure prints a multiplication sign for the plus; NAVEDTRA 14315
// fig. 3-44 and 3-45 for the straight case). It holds while the hand pulls at
// the center of the grip, at right angles to the wrench.
type Adapter struct {
	// The factor from T to S lies from low to high; they are equal where the
	// cosine is rational. nil is no adapter.
	low, high *big.Rat
}

// least part of L that L + E·cos a may be.
var leastLever = big.NewRat(1, 10)

// NewAdapter checks a description. The error joins a [FieldError] for each
// field that cannot be. L + E·cos a must be at least a tenth of L: below that
// a small slip of the hand or of a length makes a large torque.
func NewAdapter(d AdapterDescription) (Adapter, error) {
	var p problems
	length := p.number("length", d.Length)
	extension := p.number("extension", d.Extension)
	degrees := new(big.Rat)
	if d.AngleDegrees != "" {
		degrees = p.number("angle", d.AngleDegrees)
	}
	if int(d.Unit) >= len(lengthWords) {
		p.add("length_unit", RuleUnknownWord, "write mm, cm, m, in or ft")
	}
	if err := p.err(); err != nil {
		return Adapter{}, err
	}
	p.checkLever(length, extension, degrees)
	if err := p.err(); err != nil {
		return Adapter{}, err
	}
	return newAdapter(&p, d.Unit.millimeters(length), d.Unit.millimeters(extension), degrees)
}

func (p *problems) checkLever(length, extension, degrees *big.Rat) {
	if length.Sign() <= 0 {
		p.add("length", RuleOutsideRange, "the length of the wrench is above 0")
	}
	if extension.Sign() < 0 {
		p.add("extension", RuleOutsideRange, "an extension is not negative: one that points back has the angle 180")
	}
	if new(big.Rat).Abs(degrees).Cmp(big.NewRat(360, 1)) > 0 {
		p.add("angle", RuleOutsideRange, "write an angle from -360 to 360 degrees")
	}
}

func newAdapter(p *problems, length, extension, degrees *big.Rat) (Adapter, error) {
	cosLow, cosHigh := cosine(degrees)
	relative := new(big.Rat).Quo(extension, length)
	one := big.NewRat(1, 1)
	// (L + E·cos a)/L, enclosed.
	shortest := new(big.Rat).Add(one, cosLow.Mul(cosLow, relative))
	longest := new(big.Rat).Add(one, cosHigh.Mul(cosHigh, relative))
	if shortest.Cmp(leastLever) < 0 {
		p.add("extension", RuleOutsideRange, "L + E·cos a is %s of the length of the wrench, it must be at least a tenth: turn the adapter or take a longer wrench",
			shortest.FloatString(3))
		return Adapter{}, p.err()
	}
	return Adapter{low: longest.Inv(longest), high: shortest.Inv(shortest)}, nil
}

// number reads a decimal of any sign.
func (p *problems) number(path, digits string) *big.Rat {
	if digits == "" {
		p.add(path, RuleMissing, "write a plain decimal such as 12.5")
		return new(big.Rat)
	}
	value, err := readRat(digits)
	if err != nil {
		p.add(path, RuleMalformedNumber, "%v", err)
		return new(big.Rat)
	}
	return value
}

// IsExact reports whether results are exact rationals, as they are at the
// multiples of 60° and 90°; else they are right to 45 digits.
func (a Adapter) IsExact() bool { return a.low == nil || a.low.Cmp(a.high) == 0 }

// Factor returns L/(L + E·cos a), the setting for one unit of torque.
func (a Adapter) Factor() float64 {
	factor, _ := a.factor().Float64()
	return factor
}

func (a Adapter) factor() *big.Rat {
	if a.low == nil {
		return big.NewRat(1, 1)
	}
	middle := new(big.Rat).Add(a.low, a.high)
	return middle.Quo(middle, big.NewRat(2, 1))
}

// Setting returns the setting S for a torque T at the fastener, which must be
// above zero. The error is a [FieldError] of the path "torque".
func (a Adapter) Setting(at torque.Figure) (ExactSetting, error) {
	value, err := positive(at)
	if err != nil {
		return ExactSetting{}, err
	}
	if a.IsExact() {
		exact := value.Mul(value, a.factor())
		return newSetting(exact, exact, at.Unit()), nil
	}
	low := new(big.Rat).Mul(value, a.low)
	return newSetting(low, value.Mul(value, a.high), at.Unit()), nil
}

// Applied returns the torque T that comes to the fastener at a setting S, by
// the same rules.
func (a Adapter) Applied(setting torque.Figure) (ExactSetting, error) {
	value, err := positive(setting)
	if err != nil {
		return ExactSetting{}, err
	}
	if a.IsExact() {
		exact := value.Quo(value, a.factor())
		return newSetting(exact, exact, setting.Unit()), nil
	}
	low := new(big.Rat).Quo(value, a.high)
	return newSetting(low, value.Quo(value, a.low), setting.Unit()), nil
}

func positive(figure torque.Figure) (*big.Rat, error) {
	value := figure.Rat()
	if value.Sign() <= 0 {
		return nil, &FieldError{Path: "torque", Rule: RuleOutsideRange,
			Text: fmt.Sprintf("write a torque above 0, not %v", figure)}
	}
	return value, nil
}

// With returns the same tool with an adapter on its drive. Windows, aims and
// what is delivered then mean the torque at the fastener; marks, settings and
// the range of use stay those of the tool. The permitted deviation is relative
// and stays the same, as long as the hand pulls at the center of the grip. The
// zero Adapter takes an adapter off again.
func (w *Wrench) With(a Adapter) *Wrench {
	fitted := *w
	if a.low == nil {
		fitted.bare()
		return &fitted
	}
	fitted.lever = ratioBetween(a.low, a.high)
	fitted.allowing = newDelivery(&w.grid, a.low, a.high, w.deviation)
	fitted.trusting = newDelivery(&w.grid, a.low, a.high, 0)
	return &fitted
}

// bare works out what the tool delivers without an adapter.
func (w *Wrench) bare() {
	w.lever = ratio{1, 1, 1}
	w.allowing = plainDelivery(&w.grid, w.deviation)
	w.trusting = plainDelivery(&w.grid, 0)
}
