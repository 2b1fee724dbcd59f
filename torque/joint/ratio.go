package joint

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"
)

// ErrRatio says that two numbers make no usable ratio.
var ErrRatio = errors.New("no such ratio")

// A Ratio is an exact rational number, used here for lengths in millimeters.
// Values made by this package are in lowest terms with Den above zero, so ==
// compares them by value. The zero Ratio stands for "not given" and counts as 0.
type Ratio struct{ Num, Den int64 }

// NewRatio returns num/den in lowest terms. A denominator of zero, or terms
// beyond ±10¹² (which no thread needs), give an error wrapping [ErrRatio].
func NewRatio(num, den int64) (Ratio, error) {
	const most = 1_000_000_000_000
	if den == 0 || num > most || num < -most || den > most || den < -most {
		return Ratio{}, fmt.Errorf("%w: %d/%d", ErrRatio, num, den)
	}
	return reduced(num, den), nil
}

// reduced returns num/den in lowest terms; den must not be zero.
func reduced(num, den int64) Ratio {
	if num == 0 {
		return Ratio{}
	}
	if den < 0 {
		num, den = -num, -den
	}
	a, b := max(num, -num), den
	for b != 0 {
		a, b = b, a%b
	}
	return Ratio{Num: num / a, Den: den / a}
}

// IsZero reports whether r is not given (or 0).
func (r Ratio) IsZero() bool { return r.Num == 0 || r.Den == 0 }

// Float64 returns the nearest float64, 0 for the zero Ratio.
func (r Ratio) Float64() float64 {
	if r.IsZero() {
		return 0
	}
	return float64(r.Num) / float64(r.Den)
}

// Rat returns r as a [big.Rat] of its own, for exact arithmetic.
func (r Ratio) Rat() *big.Rat {
	if r.IsZero() {
		return new(big.Rat)
	}
	return big.NewRat(r.Num, r.Den)
}

// Cmp returns -1, 0 or +1 as r is less than, equal to or greater than s. It is
// exact for every value.
func (r Ratio) Cmp(s Ratio) int { return r.Rat().Cmp(s.Rat()) }

// String writes r as a plain decimal where it has one of at most nine places
// ("1.25") and as a fraction otherwise ("127/120").
func (r Ratio) String() string {
	if text, ok := r.decimal(9); ok {
		return text
	}
	return strconv.FormatInt(r.Num, 10) + "/" + strconv.FormatInt(r.Den, 10)
}

// hasPlaces reports whether r is a decimal with at most the given number of
// places, up to 18.
func (r Ratio) hasPlaces(places int) bool {
	power := int64(1)
	for range places {
		power *= 10
	}
	return r.IsZero() || power%r.Den == 0
}

// decimal writes r exactly with at most the given number of decimal places, or
// reports false.
func (r Ratio) decimal(places int) (string, bool) {
	if !r.hasPlaces(places) {
		return "", false
	}
	text := r.Rat().FloatString(places)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text, true
}
