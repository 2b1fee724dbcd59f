package wrench

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/tightwright/tightwright/torque"
)

// maxCoefficient keeps the digits of a decimal well inside 64 bits.
const maxCoefficient = 1_000_000_000_000_000

// decimal is a checked plain decimal, coefficient·10^-places.
type decimal struct {
	coefficient uint64
	places      int
	negative    bool
}

// parseDecimal reads digits with at most one point between them and an
// optional minus sign: no exponent, no grouping, at most 15 digits.
func parseDecimal(text string) (decimal, error) {
	var d decimal
	digits := strings.TrimPrefix(text, "-")
	d.negative = digits != text
	whole, fraction, hasPoint := strings.Cut(digits, ".")
	if whole == "" || hasPoint && fraction == "" || len(digits) > torque.MaxFigureDigits {
		return decimal{}, notDecimal(text)
	}
	d.places = len(fraction)
	for _, part := range [...]string{whole, fraction} {
		for i := range len(part) {
			if part[i] < '0' || part[i] > '9' {
				return decimal{}, notDecimal(text)
			}
			if d.coefficient = 10*d.coefficient + uint64(part[i]-'0'); d.coefficient >= maxCoefficient {
				return decimal{}, fmt.Errorf("%w: %s has more than 15 digits", torque.ErrNotDecimal, clip(text))
			}
		}
	}
	return d, nil
}

func notDecimal(text string) error { return fmt.Errorf("%w, not %s", torque.ErrNotDecimal, clip(text)) }

// compare returns -1, 0 or 1 as d is below, equal to or above e. Neither is
// negative, and both have few places.
func (d decimal) compare(e decimal) int {
	left, right := product(d.coefficient, power10(e.places)), product(e.coefficient, power10(d.places))
	switch {
	case left == right:
		return 0
	case left.less(right):
		return -1
	}
	return 1
}

// at returns the coefficient with that many places, which must not be fewer.
func (d decimal) at(places int) uint64 { return d.coefficient * power10(places-d.places) }

// power10 returns 10^n for 0 <= n <= 19.
func power10(n int) uint64 {
	p := uint64(1)
	for range n {
		p *= 10
	}
	return p
}

// readRat reads a plain decimal of up to [torque.MaxFigureDigits] digits.
func readRat(text string) (*big.Rat, error) {
	figure, err := torque.ParseFigure(text, torque.NewtonMeters) // the unit does not matter
	if err != nil {
		return nil, notDecimal(text)
	}
	return figure.Rat(), nil
}
