package wrench

import "github.com/tightwright/tightwright/torque"

// Class is a class of ISO 6789-1:2017, which narrows the kind down. The zero
// value is not stated.
type Class uint8

// The classes. Their names, and the deviations in the table below, are from
// memory; what is confirmed stands at [Class.Permitted].
const (
	IA  Class = iota + 1 // torsion or flexion bar
	IB                   // rigid housing with scale, dial or display
	IC                   // rigid housing with electronic measurement
	ID                   // screwdriver with scale, dial or display
	IE                   // screwdriver with electronic measurement
	IIA                  // wrench, adjustable, graduated or with display
	IIB                  // wrench, fixed adjustment
	IIC                  // wrench, adjustable, not graduated
	IID                  // screwdriver, adjustable, graduated or with display
	IIE                  // screwdriver, fixed adjustment
	IIF                  // screwdriver, adjustable, not graduated
	IIG                  // flexion bar, adjustable, graduated

	classCount
)

var classWords = []string{"", "I-A", "I-B", "I-C", "I-D", "I-E",
	"II-A", "II-B", "II-C", "II-D", "II-E", "II-F", "II-G"}

// String returns "II-A" and the like, or nothing.
func (c Class) String() string { return word(classWords, c) }

// MarshalText writes what [Class.String] returns.
func (c Class) MarshalText() ([]byte, error) { return wordText("class of tool", classWords, c) }

// UnmarshalText reads what [Class.MarshalText] writes.
func (c *Class) UnmarshalText(text []byte) (err error) {
	*c, err = parseWord[Class]("class of tool", classWords, string(text))
	return err
}

// Kind returns the kind a class belongs to. What is adjustable but not
// graduated is set on a tester, so at the bench it is fixed.
func (c Class) Kind() Kind {
	switch c {
	case IA, IB, IC, ID, IE:
		return Indicating
	case IIA, IID, IIG:
		return Setting
	case IIB, IIC, IIE, IIF:
		return Fixed
	default:
		return 0
	}
}

// Where a permitted deviation comes from.
const (
	// BasisCalibrated is the deviation the tool was held to at calibration.
	BasisCalibrated = "as calibrated"
	// BasisDeclared is the deviation the description states.
	BasisDeclared = "as declared for the tool"
	// BasisRead was read in a review of the standard.
	BasisRead = "ISO 6789:2003, table of maximum permissible deviations, as reviewed in a torque tool user manual"
	// BasisRecalled was not read.
	BasisRecalled = "ISO 6789-1:2017 5.1.5, from memory"
	// BasisTakenOver applies the figures of one class to a tool without one.
	BasisTakenOver = "as ISO 6789:2003 has it for setting tools with a graduated scale; the class of the tool is not stated"
)

// Permitted returns the permitted deviation of a class for a tool with this
// maximum, and where it comes from. Confirmed is class II-A, ±4 %, and ±6 %
// where the maximum of the tool is 10 N·m or less (ISO 6789:2003). The other
// classes are from memory. The zero Class is treated as II-A.
func (c Class) Permitted(max torque.Torque) (Deviation, string) {
	switch c {
	case 0:
		return bySize(max), BasisTakenOver
	case IIA:
		return bySize(max), BasisRead
	case IB, IC, IE, IIB, IIC:
		return bySize(max), BasisRecalled
	default:
		return 6 * Percent, BasisRecalled
	}
}

// smallTool is the largest maximum of a tool that still counts as small. 10
// N·m itself belongs to the small ones, and it is the tool's maximum that
// counts, never the reading (ISO 6789:2003, as reviewed in a torque tool user
// manual; that the 2017 edition kept it is from memory).
const smallTool = 10 * torque.NewtonMeter

func bySize(max torque.Torque) Deviation {
	if max <= smallTool {
		return 6 * Percent
	}
	return 4 * Percent
}

// Classes returns all classes in order.
func Classes() []Class {
	var all []Class
	for c := IA; c < classCount; c++ {
		all = append(all, c)
	}
	return all
}
