package fit

import "fmt"

// A Side is a side of the bicycle as the rider sits on it. The zero Side is
// "side not given", which rules refuse.
type Side uint8

const (
	// NoSide is the zero value.
	NoSide Side = iota
	// Right is the drive side.
	Right
	// Left is the side away from the drive.
	Left
)

// String returns "right", "left" or "side not given".
func (s Side) String() string {
	switch s {
	case NoSide:
		return "side not given"
	case Right:
		return "right"
	case Left:
		return "left"
	}
	return fmt.Sprintf("side %d", uint8(s))
}
