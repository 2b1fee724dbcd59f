package fit_test

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

func ExampleBodyLength() {
	r, err := fit.BodyLength(36750*fit.Micrometer, 34900*fit.Micrometer, 0, fit.Caliper())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r)
	// Output: body-length: fits with 1.85 mm spacer behind the cassette. The stack is filled up by 1.85 mm of spacers. Without them it stays loose under the lockring.
}

func ExamplePedalThread() {
	arm, err := joint.ParseThread("9/16 in x 20 tpi")
	if err != nil {
		fmt.Println(err)
		return
	}
	axle, err := joint.ParseThread("M14x1.25")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := fit.PedalThread(fit.Pedal{Side: fit.Right, Axle: axle, Arm: arm})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Verdict)
	fmt.Println(r.Why)
	// Output:
	// does not fit
	// M14x1.25 RH in 9/16 in x 20 tpi RH starts by hand and then binds: the turns are 0.19 mm apart after 12 mm. Forced, it ruins the thread.
}

func ExampleBarClamp() {
	bar := fit.Bar{Diameter: 31700 * fit.Micrometer, Bore: 31800 * fit.Micrometer}
	for _, ins := range []fit.Instrument{fit.Marked(), fit.Caliper()} {
		r, err := fit.BarClamp(bar, ins)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s, margin %s: %s\n", ins.Name, r.Margin, r.Verdict)
	}
	// Output:
	// read off the part, margin 0 mm: fits
	// vernier caliper, margin 0 mm: try and measure
}

func ExampleParseLength() {
	for _, text := range []string{"36,75 mm", "1.37 in", "9/16 in"} {
		l, err := fit.ParseLength(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(l)
	}
	// Output:
	// 36.75 mm
	// 34.798 mm
	// 14.2875 mm
}
