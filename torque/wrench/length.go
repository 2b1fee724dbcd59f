package wrench

import "math/big"

// LengthUnit is a unit of length. The zero value is the millimeter.
type LengthUnit uint8

// The units in which wrenches and adapters are measured.
const (
	Millimeters LengthUnit = iota
	Centimeters
	Meters
	Inches // 25.4 mm, exactly (international yard and pound agreement, 1959)
	Feet   // 12 inches
)

var lengthWords = []string{"mm", "cm", "m", "in", "ft"}

// lengthMicrometers holds the exact factors by unit.
var lengthMicrometers = []int64{1_000, 10_000, 1_000_000, 25_400, 304_800}

// String returns "mm", "cm", "m", "in" or "ft".
func (u LengthUnit) String() string { return word(lengthWords, u) }

// MarshalText writes what [LengthUnit.String] returns.
func (u LengthUnit) MarshalText() ([]byte, error) {
	return wordText("unit of length", lengthWords, u)
}

// UnmarshalText reads what [LengthUnit.MarshalText] writes.
func (u *LengthUnit) UnmarshalText(text []byte) (err error) {
	*u, err = parseWord[LengthUnit]("unit of length", lengthWords, string(text))
	return err
}

// millimeters returns a length in this unit, exactly; value is overwritten.
func (u LengthUnit) millimeters(value *big.Rat) *big.Rat {
	return value.Mul(value, big.NewRat(lengthMicrometers[u], 1000))
}
