package wrench

import (
	"errors"
	"math/big"
	"strconv"

	"github.com/tightwright/tightwright/torque"
)

// A Question is a reading to be decided on, as plain decimals in any one unit.
type Question struct {
	// Min and Max are the limits; one of them may be empty.
	Min string `json:"min,omitempty"`
	Max string `json:"max,omitempty"`
	// Reading is the measured value, U its standard uncertainty, not expanded.
	Reading string `json:"reading"`
	U       string `json:"u"`
	// Rule is how to decide.
	Rule Rule `json:"rule"`
	// Level is the probability, 0.5 or more and below 1; 0 is
	// [DefaultProbability].
	Level float64 `json:"level,omitempty"`
	// GuardFactor is r of the guard band w = r·U, where the expanded
	// uncertainty U is K times the standard uncertainty. Empty: w = z·u, which
	// asks for the Level at one limit.
	GuardFactor string `json:"guard_factor,omitempty"`
	// K is the coverage factor, 2 where empty.
	K string `json:"k,omitempty"`
}

// A Decision answers a [Question].
type Decision struct {
	// Probability is the conformance probability p_c: that what was measured
	// lies within the limits. Below and Above are the probabilities of lying
	// beyond them.
	Probability float64 `json:"probability"`
	Outcome     Outcome `json:"outcome"`
	Below       float64 `json:"below"`
	Above       float64 `json:"above"`
	// Within tells whether the reading itself is within the limits.
	Within bool    `json:"within"`
	Rule   Rule    `json:"rule"`
	Level  float64 `json:"level"`
	// GuardBand is w and AcceptMin and AcceptMax are the acceptance limits,
	// decimals or fractions, for the rules that have them. NoAcceptance says
	// that no reading at all could conform.
	GuardBand    string `json:"guard_band,omitempty"`
	AcceptMin    string `json:"accept_min,omitempty"`
	AcceptMax    string `json:"accept_max,omitempty"`
	NoAcceptance bool   `json:"no_acceptance,omitempty"`
	// Capability is C_m, 0 with one limit or without uncertainty.
	Capability float64 `json:"capability,omitempty"`
}

// question is a checked Question.
type question struct {
	limits Limits
	y, u   *big.Rat
	rule   Rule
	level  Level
	guard  *big.Rat
}

// Decide answers a question. Comparisons with the limits are exact, and a
// reading on a limit is inside. The error joins a [FieldError] for each field
// that cannot be.
//
//	rule               conforming        undecided          nonconforming
//	by-probability     p_c >= level      between            1 - p_c >= level
//	simple             within            -                  beyond
//	guarded            within by w       -                  else
//	guarded-both-ways  within by w       within w of limit  beyond by more than w
func Decide(q Question) (Decision, error) {
	c, err := q.check()
	if err != nil {
		return Decision{}, err
	}
	t := c.limits.Tails(c.y, c.u)
	d := Decision{
		Probability: t.Inside, Below: t.Below, Above: t.Above,
		Within: c.limits.Contain(c.y), Rule: c.rule, Level: c.level.Probability(),
	}
	d.Capability, _ = c.limits.Capability(c.u)
	switch c.rule {
	case ByProbability:
		d.Outcome = c.level.outcome(t)
		d.NoAcceptance = c.nothingConforms()
	case Simple:
		d.Outcome = either(d.Within)
		d.accept(c.limits, nil)
	default:
		d.Outcome = c.guarded(&d)
	}
	return d, nil
}

func either(conforms bool) Outcome {
	if conforms {
		return Conforming
	}
	return Nonconforming
}

// nothingConforms: p_c is greatest in the middle of the limits.
func (c *question) nothingConforms() bool {
	low, high := c.limits.min, c.limits.max
	if low == nil || high == nil {
		return false
	}
	middle := new(big.Rat).Add(low, high)
	middle.Quo(middle, big.NewRat(2, 1))
	return c.level.outcome(c.limits.Tails(middle, c.u)) != Conforming
}

func (c *question) guarded(d *Decision) Outcome {
	d.GuardBand = decimalText(c.guard)
	accept, err := c.limits.Guarded(c.guard)
	if errors.Is(err, ErrNoAcceptance) {
		d.NoAcceptance = true
	} else {
		d.accept(accept, c.guard)
	}
	conforms := !d.NoAcceptance && accept.Contain(c.y)
	if conforms || c.rule == Guarded {
		return either(conforms)
	}
	outer, _ := c.limits.Guarded(new(big.Rat).Neg(c.guard)) // wider, so never empty
	if outer.Contain(c.y) {
		return Undecided
	}
	return Nonconforming
}

// accept notes the acceptance limits.
func (d *Decision) accept(l Limits, guard *big.Rat) {
	if guard != nil {
		d.GuardBand = decimalText(guard)
	}
	if l.min != nil {
		d.AcceptMin = decimalText(l.min)
	}
	if l.max != nil {
		d.AcceptMax = decimalText(l.max)
	}
}

func decimalText(value *big.Rat) string {
	return torque.NewExact(value, torque.NewtonMeters).Text()
}

func (q Question) check() (question, error) {
	var p problems
	c := question{rule: q.Rule, y: p.number("reading", q.Reading), u: p.number("u", q.U)}
	if c.u.Sign() < 0 {
		p.add("u", RuleOutsideRange, "a standard uncertainty is zero or more, not %s", clip(q.U))
	}
	if q.Rule > GuardedBothWays {
		p.add("rule", RuleUnknownWord, "write by-probability, simple, guarded or guarded-both-ways")
	}
	q.checkLevel(&p, &c)
	c.guard = q.guardBand(&p, &c)
	low, high := p.optional("min", q.Min), p.optional("max", q.Max)
	if err := p.err(); err != nil {
		return question{}, err
	}
	var err error
	c.limits, err = NewLimits(low, high)
	return c, err
}

func (q Question) checkLevel(p *problems, c *question) {
	if q.Level == 0 {
		return
	}
	var err error
	if c.level, err = NewLevel(q.Level); err != nil {
		p.add("level", RuleOutsideRange, "%v", err)
	}
}

// zPlaces is how many decimals of z make a guard band, so that it stays short
// enough to be read.
const zPlaces = 15

// guardBand is r·k·u, exactly, or z·u.
func (q Question) guardBand(p *problems, c *question) *big.Rat {
	w := new(big.Rat)
	if q.GuardFactor == "" {
		if q.K != "" {
			p.add("k", RuleContradiction, "a coverage factor needs a guard factor")
		}
		w.SetString(strconv.FormatFloat(c.level.Z(), 'f', zPlaces, 64)) // cannot fail
		return w.Mul(w, c.u)
	}
	k := big.NewRat(2, 1)
	if q.K != "" {
		if k = p.number("k", q.K); k.Sign() <= 0 {
			p.add("k", RuleOutsideRange, "a coverage factor is above 0, not %s", clip(q.K))
		}
	}
	r := p.number("guard_factor", q.GuardFactor)
	if r.Sign() < 0 {
		p.add("guard_factor", RuleOutsideRange, "a guard factor is zero or more, not %s", clip(q.GuardFactor))
	}
	return w.Mul(r, w.Mul(k, c.u))
}

// optional reads a decimal, nil where there is none.
func (p *problems) optional(path, digits string) *big.Rat {
	if digits == "" {
		return nil
	}
	return p.number(path, digits)
}
