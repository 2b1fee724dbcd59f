package joint_test

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

func ExampleBolt_AtTorque() {
	thread, _ := joint.ParseThread("M5")
	class, _ := joint.ParseClass("8.8")
	greased, err := joint.NewFrictionBand(0.08, 0.12, 0.16)
	if err != nil {
		fmt.Println(err)
		return
	}
	bolt := joint.Bolt{Thread: thread, Class: class, ThreadFriction: greased, ToolDeviation: 0.06}
	got, err := bolt.AtTorque(5 * torque.NewtonMeter)
	if err != nil {
		fmt.Println(err)
		return
	}
	text, _ := joint.ForceText(got.PreloadBandNewtons, 0)
	fmt.Println("preload:", text)
	fmt.Printf("of the yield: %.0f %% to %.0f %%\n", 100*got.YieldUtilization.Low, 100*got.YieldUtilization.High)
	fmt.Println(got.Use)
	// Output:
	// preload: 6.2 kN (4.5 kN to 9.1 kN)
	// of the yield: 60 % to 109 %
	// explanation only: it sets no window, no plan and no wrench; the maker's printed figure comes first
}

func ExamplePrepQuestion_Compare() {
	thread, err := joint.ParseThread("M5")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := joint.PrepQuestion{
		Bolt: joint.Bolt{Thread: thread}, Surface: joint.ZincPlated,
		Stated: joint.Dry, Torque: 5 * torque.NewtonMeter,
	}.Compare()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range c.Rows {
		text, _ := joint.ForceText(r.PreloadBandNewtons, 0)
		fmt.Printf("%s: %s, %.1f times what was meant\n", r.Prep, text, r.PreloadRatio.Nominal)
	}
	// Output:
	// dry: 4.3 kN (3.3 kN to 5.4 kN), 1.0 times what was meant
	// grease: 6.2 kN (4.8 kN to 8.6 kN), 1.4 times what was meant
	// anti-seize: 9.5 kN (7.2 kN to 14 kN), 2.2 times what was meant
	// threadlocker: 4.3 kN (3.3 kN to 5.4 kN), 1.0 times what was meant
}

func ExampleClamp_Grip() {
	k, err := joint.NewNutFactorBand(0.13, 0.16, 0.20)
	if err != nil {
		fmt.Println(err)
		return
	}
	pull, err := k.Preload(5, 5*torque.NewtonMeter)
	if err != nil {
		fmt.Println(err)
		return
	}
	grip, err := joint.Clamp{
		Style: joint.SingleSlit, TubeDiameterMM: 27.2, LengthMM: 22, Bolts: 1,
		BoltPreloadNewtons: pull, Contact: joint.CarbonDry,
		Demand: joint.Demand{AxialNewtons: 1000},
	}.Grip()
	if err != nil {
		fmt.Println(err)
		return
	}
	text, _ := joint.ForceText(grip.AxialSlipNewtons, 0)
	fmt.Println("slips at", text)
	fmt.Println(grip.Verdict)
	// Output:
	// slips at 5 kN (2 kN to 10 kN)
	// holds over the whole band
}

func ExampleSprocketStack_Load() {
	crank, err := joint.RiderTorque(90, 175, 1.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, name := range []string{"AW-7075", "TiAl6V4"} {
		body, err := joint.ParseMaterial(name)
		if err != nil {
			fmt.Println(err)
			return
		}
		load, err := joint.SprocketStack{
			CrankTorque: crank, ChainringTeeth: 34, SprocketTeeth: 25,
			LockringTorque: 40 * torque.NewtonMeter, Body: body,
		}.Load()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %s\n", body, load.Verdict)
	}
	// Output:
	// AW-7075: marks the body at nominal, not at the low end
	// TiAl6V4: no mark over the whole band
}
