package wrench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/torque"
)

// Deviation is a relative deviation of a tool in parts per million of the
// reference value, used like [time.Duration]: 4 * wrench.Percent. The zero
// value is no deviation.
//
// ISO 6789 counts a deviation from the set or indicated value x_a to the
// reference value x_r and relates it to the reference: a_s = (x_a - x_r)/x_r
// (base: ISO 6789:2003, as reviewed in a torque tool user manual; formula in
// ISO 6789-1:2017 7.1 from memory). A tool that delivers too much therefore
// has a negative deviation, and a tool permitted ±d that is set to S delivers
// from S/(1+d) to S/(1-d).
type Deviation int32

// Percent is one percent.
const Percent Deviation = 10_000

// deviationWhole is a deviation of 100 %, the denominator of every fraction.
const deviationWhole = 100 * Percent

// MaxDeviation is the largest deviation that is read: beyond half of the
// torque it is no torque tool.
const MaxDeviation = 50 * Percent

const deviationPlaces = 4

// ParseDeviation reads percent digits, "4", "3.5" or "-6.542": a plain decimal
// with at most four places, within ±50. It never rounds.
func ParseDeviation(percentDigits string) (Deviation, error) {
	d, err := parseDecimal(percentDigits)
	if err != nil {
		return 0, fmt.Errorf("deviation in percent: %w", err)
	}
	if d.places > deviationPlaces {
		return 0, fmt.Errorf("deviation in percent: %s has more than four decimals", clip(percentDigits))
	}
	if d.coefficient > uint64(MaxDeviation) || d.at(deviationPlaces) > uint64(MaxDeviation) {
		return 0, fmt.Errorf("deviation in percent: %s is beyond 50 %%", clip(percentDigits))
	}
	parts := Deviation(d.at(deviationPlaces))
	if d.negative {
		parts = -parts
	}
	return parts, nil
}

// String returns the deviation for people, "4 %" or "-6.542 %".
func (d Deviation) String() string { return d.percent() + " %" }

// Fraction returns the deviation as a fraction of the reference value.
func (d Deviation) Fraction() float64 { return float64(d) / float64(deviationWhole) }

// MarshalText writes percent digits, "4" or "-6.542".
func (d Deviation) MarshalText() ([]byte, error) { return []byte(d.percent()), nil }

// UnmarshalText reads what [ParseDeviation] reads.
func (d *Deviation) UnmarshalText(text []byte) (err error) {
	*d, err = ParseDeviation(string(text))
	return err
}

func (d Deviation) percent() string {
	sign, parts := "", int64(d)
	if parts < 0 {
		sign, parts = "-", -parts
	}
	text := sign + strconv.FormatInt(parts/int64(Percent), 10)
	if rest := parts % int64(Percent); rest != 0 {
		text += "." + strings.TrimRight(fmt.Sprintf("%0*d", deviationPlaces, rest), "0")
	}
	return text
}

// size is the deviation without its sign, held within [MaxDeviation].
func (d Deviation) size() uint64 { return uint64(min(max(d, -d), MaxDeviation)) }

// Delivered returns what a tool set to this torque may deliver when it is off
// by no more than d either way: from S/(1+d), rounded down, to S/(1-d),
// rounded up, in whole nanonewton meters. The sign of d does not matter. A
// setting that is not positive delivers nothing.
func (d Deviation) Delivered(setting torque.Torque) (least, most torque.Torque) {
	if setting <= 0 {
		return 0, 0
	}
	whole := product(uint64(setting), uint64(deviationWhole))
	least = torque.Torque(whole.floorOver(uint64(deviationWhole) + d.size()).clamped())
	most = torque.Torque(whole.ceilOver(uint64(deviationWhole) - d.size()).clamped())
	return least, most
}

// Uncertainty returns the standard uncertainty of a torque from a tool that is
// within d: d times the torque divided by √3, because all that is known is the
// half-width of the interval (rectangular distribution, JCGM 100:2008 4.3.7).
func (d Deviation) Uncertainty() Uncertainty {
	return Uncertainty{share: float64(d.size()) / float64(deviationWhole) / math.Sqrt(3)}
}
