package main

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/torque"
)

// A roundingWish is how an answer is to be rounded.
type roundingWish struct {
	wanted   bool
	bySource bool // --digits auto
	byDigits bool // count is a number of digits, else of decimals
	count    int
	limit    string // max, min or empty for the nearest
}

// roundingOf reads digits, places and as.
func roundingOf(in inputs) (roundingWish, error) {
	digits, places, limit := strings.TrimSpace(in["digits"]), strings.TrimSpace(in["places"]), strings.TrimSpace(in["as"])
	var wish roundingWish
	switch {
	case digits != "" && places != "":
		return wish, wrong(reasonBadOption, "digits and places are both given: give one of them")
	case limit != "" && limit != "max" && limit != "min":
		return wish, wrong(reasonBadOption, "as %q: write max or min", clipped(limit))
	case limit != "" && digits == "" && places == "":
		return wish, wrong(reasonBadOption, "as %s rounds a limit: say with places or digits how finely", limit)
	case digits == "" && places == "":
		return wish, nil
	}
	wish = roundingWish{wanted: true, limit: limit, byDigits: digits != "", bySource: digits == "auto"}
	if wish.bySource {
		return wish, nil
	}
	var err error
	wish.count, err = strconv.Atoi(digits + places)
	const most = torque.MaxFigureDigits
	switch {
	case wish.byDigits && (err != nil || wish.count < 1 || wish.count > most):
		return wish, wrong(reasonBadOption, "digits %q: write a whole number from 1 to %d, or auto", clipped(digits), most)
	case !wish.byDigits && (err != nil || wish.count < -most || wish.count > most):
		return wish, wrong(reasonBadOption, "places %q: write a whole number from -%d to %d", clipped(places), most, most)
	}
	return wish, nil
}

// apply rounds the value that was converted from source, and says how.
func (w roundingWish) apply(value torque.Exact, source torque.Figure) (rounded, how string, err error) {
	if !w.wanted {
		return "", "", nil
	}
	count := w.count
	if w.bySource {
		count = sourceDigits(source, value)
	}
	places := count
	if w.byDigits {
		places = count - 1 - leadingPlace(value)
	}
	if !canRound(places) {
		return "", "", wrong(torque.ReasonOutOfRange, "the value is too large or too small to be rounded to %d digits", count)
	}
	how = placesWords(places)
	if w.byDigits {
		how = "to " + counted(count, "digit")
	}
	switch {
	case w.limit == "max":
		return value.FloorPlaces(places), "a maximum, rounded down " + how, nil
	case w.limit == "min":
		return value.CeilPlaces(places), "a minimum, rounded up " + how, nil
	case w.byDigits:
		return value.RoundSignificant(count), "rounded " + how, nil
	}
	return value.RoundPlaces(places), "rounded " + how, nil
}

// sourceDigits is how many digits a converted value keeps: as many as the
// source has, and one more where it begins with a smaller digit than the
// source. Trailing zeros of the source count. (The first-digit rule of NIST SP
// 1038 4.4 and FED-STD-376B; both attributions from memory.)
func sourceDigits(source torque.Figure, value torque.Exact) int {
	written := strings.TrimLeft(strings.Replace(source.Digits(), ".", "", 1), "-0")
	if written == "" {
		return 1
	}
	begins := leadingDigit(value)
	if begins < written[0] {
		return len(written) + 1
	}
	return len(written)
}

// leadingDigit is the first digit of a value that is not zero.
func leadingDigit(value torque.Exact) byte {
	rat := value.Rat()
	magnitude := torque.NewExact(rat.Abs(rat), value.Unit())
	text := strings.TrimLeft(magnitude.FloorPlaces(-leadingPlace(value)), "0.")
	if text == "" {
		return '0'
	}
	return text[0]
}

// canRound reports whether package torque rounds to that many places.
func canRound(places int) bool {
	return -torque.MaxFigureDigits <= places && places <= torque.MaxFigureDigits
}

// leadingPlace is the power of ten of the first digit: 1 for 44, -1 for 0.5,
// and 0 for zero.
func leadingPlace(value torque.Exact) int {
	rat := value.Rat()
	if rat.Sign() == 0 {
		return 0
	}
	magnitude := rat.Abs(rat)
	place := len(magnitude.Num().String()) - len(magnitude.Denom().String())
	if magnitude.Cmp(tenTo(place)) < 0 {
		place--
	}
	return place
}

func tenTo(n int) *big.Rat {
	power := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(n, -n))), nil))
	if n < 0 {
		return power.Inv(power)
	}
	return power
}

func placesWords(places int) string {
	switch {
	case places > 0:
		return "to " + counted(places, "decimal")
	case places == 0:
		return "to a whole number"
	}
	return "to a multiple of " + tenTo(-places).RatString()
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
