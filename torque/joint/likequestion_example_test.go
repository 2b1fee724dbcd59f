package joint_test

import (
	"fmt"

	"github.com/tightwright/tightwright/torque/joint"
)

// A pedal axle under caliper and gauge: 14.2 mm, and 20 turns in an inch.
func ExampleLookAlikeQuestion_Find() {
	answer, err := joint.LookAlikeQuestion{DiameterMM: 14.2, TurnsPerInch: 20, EngagedMM: 12.5}.Find(joint.KnownThreads())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range answer.MayBe {
		fmt.Println(l.Known.Thread, "-", l.Known.Use)
	}
	for _, l := range answer.Wrecks {
		if l.Match == joint.OtherPitch && l.Known.Thread.Diameter().Float64() == 14 {
			fmt.Println(l.Why)
		}
	}
	// Output:
	// 9/16 in x 20 tpi - pedal, right
	// starts with M14x1.25, then binds: the pitches differ by 0.020 mm, which adds up to 0.20 mm over the engaged length
}
