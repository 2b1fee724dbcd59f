package teaching

import (
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// Delivered returns what a tool delivers at least and at most when it is set to
// a torque and may be off by the fraction d of what it delivers: set/(1+d) and
// set/(1-d), in newton meters (deviation as in ISO 6789-1:2017, relative to the
// reference value). d lies between 0 and 1.
func Delivered(set torque.Torque, d *big.Rat) (low, high *big.Rat) {
	one := big.NewRat(1, 1)
	low = new(big.Rat).Quo(set.Rat(), new(big.Rat).Add(one, d))
	high = new(big.Rat).Quo(set.Rat(), new(big.Rat).Sub(one, d))
	return low, high
}

// deliveredRange asks what a tool may deliver at the aim of a joint.
func (m *maker) deliveredRange(j jointRow, t *procedure.Tool) (Question, bool) {
	at := m.options.At
	if t.Kind != procedure.Setting || len(outOfUse(t, j, at)) > 0 {
		return Question{}, false
	}
	d := t.PermittedDeviation(at)
	low, high := Delivered(j.aim, d)
	one := big.NewRat(1, 1)
	q := Question{
		Stem: fmt.Sprintf("%s is set to %v for the %s. It may deliver %s %% more or less, as a part of what it delivers. Between what does the joint end?",
			capital(toolWords(t)), j.aim, j.name(), percentText(d)),
		Answer: rangeText(low, high),
		Solution: fmt.Sprintf("%v / %s and %v / %s: the deviation counts from what is delivered, not from what is set.",
			j.aim, decimalText(new(big.Rat).Add(one, d)), j.aim, decimalText(new(big.Rat).Sub(one, d))),
	}
	q.give("set", j.aim.String())
	q.give("deviation_percent", percentText(d))
	q.wrong(rangeText(scaled(j.aim, new(big.Rat).Sub(one, d), false), scaled(j.aim, new(big.Rat).Add(one, d), false)), "counts the deviation from the set value")
	q.wrong(rangeText(j.aim.Rat(), j.aim.Rat()), "takes the set value for what is delivered")
	q.wrong(rangeText(scaled(j.aim, one, false), high), "thinks that a tool can only deliver too much")
	return q, true
}

// rangeText writes two torques with two decimals.
func rangeText(low, high *big.Rat) string {
	write := func(r *big.Rat) string { return r.FloatString(2) } // a half is rounded up, as at school
	if low.Cmp(high) == 0 {
		return write(low) + " N·m exactly"
	}
	return fmt.Sprintf("%s N·m to %s N·m", write(low), write(high))
}

// deviation asks for a tool's deviation and its sign.
func (j *jointRow) deviation(d *dice) (Question, bool) {
	factor := pick(d, "0.92", "0.94", "1.05", "1.07")
	// The answer is worked out from what the question shows.
	delivered := decimal(decimalText(new(big.Rat).Mul(j.aim.Rat(), decimal(factor))))
	deviation := deviationOf(j.aim.Rat(), delivered)
	shop := new(big.Rat).Sub(decimal(factor), big.NewRat(1, 1))
	q := Question{
		Stem: fmt.Sprintf("A wrench set to %v for the %s delivers %s %v on the tester. What is its deviation as ISO 6789 counts it?",
			j.aim, j.name(), decimalText(delivered), torque.NewtonMeters),
		Answer: signedPercent(deviation),
		Solution: fmt.Sprintf("Deviation is (set - delivered)/delivered: (%s - %s)/%s. In the shop one says that it delivers %s %% of what it is set to.",
			decimalText(j.aim.Rat()), decimalText(delivered), decimalText(delivered), percentText(decimal(factor))),
	}
	q.give("set", j.aim.String())
	q.give("delivered", decimalText(delivered)+" N·m")
	q.wrong(signedPercent(shop), "counts from the set value, and the other way round")
	q.wrong(signedPercent(new(big.Rat).Neg(shop)), "counts from the set value")
	q.wrong(signedPercent(new(big.Rat).Neg(deviation)), "takes the sign the wrong way round")
	return q, true
}

// deviationOf is (set - delivered)/delivered (ISO 6789-1:2017, relative to the
// reference value).
func deviationOf(set, delivered *big.Rat) *big.Rat {
	r := new(big.Rat).Sub(set, delivered)
	return r.Quo(r, delivered)
}

// signedPercent writes a fraction in percent with one decimal and its sign.
func signedPercent(r *big.Rat) string {
	text := new(big.Rat).Mul(r, big.NewRat(100, 1)).FloatString(1)
	if r.Sign() > 0 {
		text = "+" + text
	}
	return text + " %"
}

// worstCase asks what a joint got from a tool that was found off.
func (j *jointRow) worstCase(d *dice) (Question, bool) {
	factor := pick(d, "0.90", "0.93", "1.05", "1.07", "1.10")
	worst := new(big.Rat).Mul(j.aim.Rat(), decimal(factor))
	q := Question{
		Stem: fmt.Sprintf("Last week you set %v on the %s, whose window is %v. Today the wrench was found to deliver %s times what it is set to. What do you hold the joint to have got, and is that inside?",
			j.aim, j.name(), j.window, factor),
		Answer:   j.worstText(worst),
		Solution: fmt.Sprintf("Worst case: the wrench was off by all of it already then. %v x %s is %s N·m.", j.aim, factor, decimalText(worst)),
	}
	q.give("set", j.aim.String())
	q.give("factor", factor)
	q.give("min", j.low.String())
	q.give("max", j.high.String())
	q.wrong(j.worstText(j.aim.Rat()), "takes the set value for what was delivered")
	q.wrong(j.worstText(new(big.Rat).Quo(j.aim.Rat(), decimal(factor))), "divides where the factor multiplies")
	half := new(big.Rat).Add(decimal(factor), big.NewRat(1, 1))
	q.wrong(j.worstText(half.Mul(half, new(big.Rat).Mul(j.aim.Rat(), big.NewRat(1, 2)))), "guesses that it had drifted half way")
	return q, true
}

// worstText writes a torque and how it lies to the window.
func (j *jointRow) worstText(v *big.Rat) string {
	text := decimalText(v) + " N·m, "
	switch {
	case v.Cmp(j.high.Rat()) > 0:
		return text + decimalText(new(big.Rat).Sub(v, j.high.Rat())) + " N·m over"
	case v.Cmp(j.low.Rat()) < 0:
		return text + decimalText(new(big.Rat).Sub(j.low.Rat(), v)) + " N·m short"
	}
	return text + "inside"
}
