package joint

import "strconv"

// TorqueWrenchScatter is the share by which the preload of a bolt tightened with
// a torque wrench lies off either way when the friction is estimated: ±25 %.
//
// Source: Machinery's Handbook, table of preload uncertainty, as quoted; NASA
// tables after NSTS 08307 say the same for lubricated and ±35 % for
// unlubricated bolts.
const TorqueWrenchScatter = 0.25

// Spread returns the band of a preload that scatters by a share either way:
// F·(1−s), F, F·(1+s). The form is that of NASA-STD-5020, as quoted. Shares
// below 0 count as 0 and above 1 as 1.
func Spread(newtons, share float64) Band {
	s := min(1, max(0, share))
	return Band{newtons * (1 - s), newtons, newtons * (1 + s)}
}

// TighteningFactor returns the α_A of VDI 2230, largest over smallest preload,
// for a scatter of ±share: (1+s)/(1−s).
func TighteningFactor(share float64) float64 { return (1 + share) / (1 - share) }

// ScatterShare is the inverse of [TighteningFactor]: (α−1)/(α+1).
func ScatterShare(alpha float64) float64 { return (alpha - 1) / (alpha + 1) }

// SmallestPreload returns F_max/α_A, the least preload to count on when the
// largest is the one worked out (VDI 2230 R3/R8).
func SmallestPreload(largestNewtons, alpha float64) float64 { return largestNewtons / alpha }

// A Method is a way of tightening a bolt, known for how far its preloads scatter.
type Method uint8

const (
	// MethodUnknown is the zero value.
	MethodUnknown Method = iota
	// ByFeel is a plain key in a practiced hand.
	ByFeel
	// ByTorqueWrench is a torque wrench with estimated friction.
	ByTorqueWrench
	// ByTorqueWrenchDry is the same on unlubricated bolts.
	ByTorqueWrenchDry
	// ByTestedTorque is a torque found by tests on the joint itself.
	ByTestedTorque
	// ByTurnOfNut is an angle past snug.
	ByTurnOfNut
	// ByYieldOrAngle is a tool that stops at yield or at an angle.
	ByYieldOrAngle
	// ByElongation measures how much longer the bolt has become.
	ByElongation
	// ByImpact is an impact driver or a spanner without a torque reading.
	ByImpact
	methodCount
)

var methods = [methodCount]struct {
	name      string
	low, high float64 // scatter as a share either way
	source    string
}{
	MethodUnknown:     {name: "not known"},
	ByFeel:            {"by feel", 0.35, 0.35, "Machinery's Handbook, as quoted"},
	ByTorqueWrench:    {"torque wrench, friction estimated", 0.23, 0.28, "VDI 2230:1986 guide values, quoted in a public manufacturer table"},
	ByTorqueWrenchDry: {"torque wrench, unlubricated", 0.35, 0.35, "NASA table after NSTS 08307, as quoted"},
	ByTestedTorque:    {"torque wrench, torque from tests on the joint", 0.17, 0.23, "VDI 2230:1986 guide values, quoted in a public manufacturer table"},
	ByTurnOfNut:       {"turn of nut", 0.15, 0.15, "Machinery's Handbook, as quoted"},
	ByYieldOrAngle:    {"yield or angle controlled", 0.05, 0.12, "VDI 2230:1986 guide values, quoted in a public manufacturer table"},
	ByElongation:      {"bolt elongation measured", 0.03, 0.05, "Machinery's Handbook, as quoted"},
	ByImpact:          {"impact driver, or a spanner without a reading", 0.60, 0.60, "public manufacturer table of a gear manual, α_A = 4"},
}

// String returns the method in plain words.
func (m Method) String() string {
	if m < methodCount {
		return methods[m].name
	}
	return "method " + strconv.Itoa(int(m))
}

// Scatter returns the smallest and largest published share by which the preload
// of m lies off either way, and where that is from. It is 0 for an unknown
// method.
func (m Method) Scatter() (low, high float64, source string) {
	if m >= methodCount {
		return 0, 0, ""
	}
	return methods[m].low, methods[m].high, methods[m].source
}
