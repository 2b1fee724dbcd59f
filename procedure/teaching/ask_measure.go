package teaching

import (
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/procedure"
)

// verdictWords are what a verdict means at the bench.
var verdictWords = [...]string{
	procedure.Conforming:    "it holds",
	procedure.Undecided:     "the instrument cannot tell: measure again with a finer one",
	procedure.Nonconforming: "it does not hold: follow the rework path",
}

// measureVerdict asks what a reading near a limit proves.
func measureVerdict(at place, c *procedure.Check, d *dice) (Question, bool) {
	value := nearLimit(c, d)
	if value.Sign() < 0 || (c.Min == "" && c.Max == "") || (isExact(c) && !isCounted(c)) {
		return Question{}, false // what is worked out is as good as what went in
	}
	reading := decimalText(value)
	verdict, err := procedure.JudgeMeasure(reading, c.Min, c.Max, c.Error)
	if err != nil {
		return Question{}, false
	}
	source := at.source()
	if c.Source != nil {
		source = *c.Source
	}
	q := Question{
		Stem:     fmt.Sprintf("%s %s %s What does that prove?", c.Ask, limitWords(c.Min, c.Max, c.Unit), readWords(c, reading)),
		Answer:   verdictWords[verdict],
		Solution: "Well inside the limits it holds; within the instrument's error of a limit nobody can tell; beyond that it does not hold. A count has no error.",
		Source:   source, Caution: BenchFirst,
	}
	q.give("value", reading)
	q.give("min", c.Min)
	q.give("max", c.Max)
	q.give("error", c.Error)
	q.wrong(verdictWords[procedure.Conforming], "asks only whether it is inside")
	q.wrong(verdictWords[procedure.Undecided], "takes every reading near a limit for doubtful")
	q.wrong(verdictWords[procedure.Nonconforming], "takes nearly outside for outside")
	return q, true
}

// isExact reports whether a check's figure has no error of its own.
func isExact(c *procedure.Check) bool { return decimal(c.Error).Sign() == 0 }

// isCounted reports whether a check counts whole things.
func isCounted(c *procedure.Check) bool {
	return c.Unit == "count" || c.Unit == "turns" || c.Unit == "teeth"
}

// readWords says what was read with what, or how many were counted.
func readWords(c *procedure.Check, reading string) string {
	if isExact(c) {
		return fmt.Sprintf("You count %s.", procedure.MeasureWords(reading, c.Unit))
	}
	return fmt.Sprintf("You read %s (%s, up to %s off).", procedure.MeasureWords(reading, c.Unit), c.Instrument, procedure.MeasureWords(c.Error, c.Unit))
}

// nearLimit draws a reading: well inside a limit, within the error of it on
// either side, or beyond.
func nearLimit(c *procedure.Check, d *dice) *big.Rat {
	e := decimal(c.Error)
	step := new(big.Rat).Set(e)
	if step.Sign() == 0 {
		step.SetInt64(1) // a count
	}
	far := new(big.Rat).Mul(step, big.NewRat(int64(pick(d, -3, -2, 2)), 1))
	near := new(big.Rat).Mul(e, big.NewRat(int64(pick(d, -1, 1)), 2))
	off := pick(d, far, near, near)
	if c.Max != "" && (c.Min == "" || d.below(2) == 0 || decimal(c.Min).Sign() == 0) {
		return new(big.Rat).Add(decimal(c.Max), off)
	}
	return new(big.Rat).Sub(decimal(c.Min), off)
}
