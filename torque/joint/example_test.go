package joint_test

import (
	"fmt"

	"github.com/tightwright/tightwright/torque/joint"
)

func ExampleParseThread() {
	for _, text := range []string{"1.37in×24tpi LH", "M5x0,8", "36 mm x 24 tpi"} {
		t, err := joint.ParseThread(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s: %s mm by %s mm, %s\n", t, t.Diameter(), t.Pitch(), t.Hand())
	}
	// Output:
	// 1.37 in x 24 tpi LH: 34.798 mm by 127/120 mm, left-hand
	// M5x0.8: 5 mm by 0.8 mm, right-hand
	// 36 mm x 24 tpi: 36 mm by 127/120 mm, right-hand
}

func ExampleThread_BasicProfile() {
	t, err := joint.ParseThread("M8x1.25")
	if err != nil {
		fmt.Println(err)
		return
	}
	p := t.BasicProfile()
	fmt.Printf("pitch diameter %.3f mm, stress area %.1f mm²\n", p.PitchDiameterMM, p.StressAreaMM2)
	// Output: pitch diameter 7.188 mm, stress area 36.6 mm²
}

func ExampleLookAlikes() {
	// A pedal axle: 13.9 mm over the crests, the 1.25 mm leaf of the gauge fits.
	m := joint.Measured{DiameterMM: 13.9, PitchMM: 1.25, DiameterErrorMM: 0.1}
	list, err := joint.LookAlikes(m, 12, joint.KnownThreads())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range list[:2] {
		fmt.Println(l.Why)
	}
	// Output:
	// may be M14x1.25: diameter, pitch and hand agree within the error of the instruments
	// near M14x1.25 LH but the other hand: the first turn bites askew and ruins the thread
}
