package joint

import (
	"fmt"
	"math"
	"strconv"
)

// A Band is a figure with the range it lies in: Low ≤ Nominal ≤ High, all in
// the unit its name says. The zero Band is "not given".
type Band struct {
	Low     float64 `json:"low"`
	Nominal float64 `json:"nominal"`
	High    float64 `json:"high"`
}

// Exactly returns the band of a figure that is taken as it is.
func Exactly(x float64) Band { return Band{x, x, x} }

// IsZero reports whether b is "not given".
func (b Band) IsZero() bool { return b == Band{} }

// Times returns b with every figure multiplied by factor, which is at least 0.
func (b Band) Times(factor float64) Band {
	return Band{b.Low * factor, b.Nominal * factor, b.High * factor}
}

// product multiplies two bands of figures that are at least 0, end by end: the
// corners, not a likely range.
func (b Band) product(c Band) Band {
	return Band{b.Low * c.Low, b.Nominal * c.Nominal, b.High * c.High}
}

// quotient divides by a band of figures above 0, ends crossed.
func (b Band) quotient(c Band) Band {
	return Band{b.Low / c.High, b.Nominal / c.Nominal, b.High / c.Low}
}

// HalfWidth returns half the width of the band as a share of the nominal, 0.25
// for ±25 %. Without a nominal it is 0.
func (b Band) HalfWidth() float64 {
	if b.Nominal == 0 {
		return 0
	}
	return (b.High - b.Low) / 2 / math.Abs(b.Nominal)
}

// isOrdered reports whether all figures are finite, at least 0 and in order.
func (b Band) isOrdered() bool {
	return 0 <= b.Low && b.Low <= b.Nominal && b.Nominal <= b.High && !math.IsInf(b.High, 1)
}

// A Standing says where a band lies against a limit.
type Standing uint8

const (
	// NotCompared is the zero value: there is no limit to compare with.
	NotCompared Standing = iota
	// Below: the whole band is under the limit.
	Below
	// BelowAtNominal: the nominal figure is under the limit, the high end not.
	BelowAtNominal
	// AboveAtNominal: the nominal figure is at or over the limit, the low end not.
	AboveAtNominal
	// Above: the whole band is at or over the limit.
	Above
)

// Against compares the whole band with a limit.
func (b Band) Against(limit float64) Standing {
	switch {
	case b.Low >= limit:
		return Above
	case b.Nominal >= limit:
		return AboveAtNominal
	case b.High >= limit:
		return BelowAtNominal
	}
	return Below
}

var standingNames = [...]string{
	NotCompared: "not compared", Below: "below", BelowAtNominal: "below at nominal",
	AboveAtNominal: "above at nominal", Above: "above",
}

// String returns the standing in a few words: "below at nominal".
func (s Standing) String() string {
	if int(s) < len(standingNames) {
		return standingNames[s]
	}
	return "standing " + strconv.Itoa(int(s))
}

// MarshalText writes the standing as [Standing.String] does.
func (s Standing) MarshalText() ([]byte, error) {
	if int(s) >= len(standingNames) {
		return nil, fmt.Errorf("no such standing: %d", uint8(s))
	}
	return []byte(s.String()), nil
}
