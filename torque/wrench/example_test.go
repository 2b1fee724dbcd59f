package wrench_test

import (
	"encoding/json"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

func Example() {
	w, err := wrench.New(wrench.Description{
		ID: "small", Kind: wrench.Setting, Unit: torque.NewtonMeters, Min: "2", Max: "10", Graduation: "0.1",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	window, _ := torque.NewWindow(5*torque.NewtonMeter, 6*torque.NewtonMeter)
	choice, err := w.Choose(window, 5500*torque.MillinewtonMeter, wrench.AllowTool)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w)
	fmt.Println("set", choice.Mark, "of", choice.Settings)
	// Output:
	// small, 2.0 N·m to 10.0 N·m, ± 6 %
	// set 5.5 N·m of 5.3 N·m to 5.64 N·m
}

func ExampleWrench_Choose_refused() {
	w, _ := wrench.New(wrench.Description{ID: "large", Kind: wrench.Setting, Min: "10", Max: "60", Graduation: "1"})
	window, _ := torque.NewWindow(13*torque.NewtonMeter, 14200*torque.MillinewtonMeter)
	_, err := w.Choose(window, 0, wrench.AllowTool)
	fmt.Println(err)
	// Output:
	// no mark of large keeps the torque within 13 N·m to 14.2 N·m: at 14 N·m the joint may get 14.583 N·m, 0.383 N·m over the maximum
}

func ExampleNew_mistakes() {
	_, err := wrench.New(wrench.Description{Kind: wrench.Setting, Min: "2", Max: "25 N·m", Graduation: "0"})
	for _, mistake := range wrench.FieldErrors(err) {
		fmt.Println(mistake)
	}
	// Output:
	// max: not a plain decimal: write digits with at most one decimal point, as in 5 or 5.0, not "25 N·m"
}

// 135 lbf·in at the bolt, a wrench of 10 in and a crow-foot of 1.5 in straight
// out: a worked example of a rotorcraft maintenance manual of 2010.
func ExampleAdapter_Setting() {
	adapter, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "10", Extension: "1.5", AngleDegrees: "0", Unit: wrench.Inches})
	if err != nil {
		fmt.Println(err)
		return
	}
	wanted, _ := torque.ParseFigure("135", torque.PoundForceInches)
	setting, _ := adapter.Setting(wanted)
	fmt.Printf("%.2f, exactly %s\n", setting.Setting, setting.Exact)

	w, _ := wrench.New(wrench.Description{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "30", Max: "200", Graduation: "5"})
	setting, _ = setting.MarkOn(w, wrench.Maximum)
	fmt.Println("as a maximum set", setting.Mark)
	// Output:
	// 117.39, exactly 2700/23
	// as a maximum set 115
}

// A wrench of 250 mm with a crow-foot of 40 mm at a right angle needs no other
// setting; pointing straight out it does.
func ExampleWrench_With() {
	w, _ := wrench.New(wrench.Description{Kind: wrench.Setting, Min: "4", Max: "20", Graduation: "0.2"})
	window, _ := torque.NewWindow(12*torque.NewtonMeter, 14*torque.NewtonMeter)
	for _, angle := range []string{"90", "0"} {
		adapter, _ := wrench.NewAdapter(wrench.AdapterDescription{Length: "250", Extension: "40", AngleDegrees: angle})
		choice, _ := w.With(adapter).Choose(window, 13*torque.NewtonMeter, wrench.AllowTool)
		fmt.Printf("%s°: set %v, the bolt gets %.2v to %.2v\n", angle, choice.Mark, choice.Least, choice.Most)
	}
	// Output:
	// 90°: set 13.0 N·m, the bolt gets 12.50 N·m to 13.54 N·m
	// 0°: set 11.2 N·m, the bolt gets 12.49 N·m to 13.53 N·m
}

func ExampleRank() {
	calibration := &wrench.Calibration{
		At:         time.Date(2025, time.January, 15, 0, 0, 0, 0, time.UTC),
		Directions: []wrench.Direction{{Hand: joint.RightHand}},
	}
	var rack []*wrench.Wrench
	for _, d := range []wrench.Description{
		{ID: "large", Kind: wrench.Setting, Min: "10", Max: "60", Graduation: "1", Calibration: calibration},
		{ID: "small", Kind: wrench.Setting, Min: "4", Max: "20", Graduation: "0.1", Calibration: calibration},
		{ID: "preset", Kind: wrench.Fixed, Min: "5", Max: "5", Calibration: calibration},
	} {
		w, _ := wrench.New(d)
		rack = append(rack, w)
	}
	window, _ := torque.NewWindow(12*torque.NewtonMeter, 14*torque.NewtonMeter)
	task := wrench.Task{Window: window, Aim: 13 * torque.NewtonMeter, At: time.Date(2025, time.March, 3, 9, 0, 0, 0, time.UTC)}
	for _, r := range wrench.Rank(rack, task) {
		if r.Able {
			fmt.Println(r.Tool, "set to", r.Choice.Mark)
		} else {
			fmt.Println(r.Reasons[0])
		}
	}
	// Output:
	// small set to 13.0 N·m
	// large set to 13 N·m
	// preset is used from 5 N·m to 5 N·m: at 5 N·m the joint may get only 4.717 N·m, 7.283 N·m under the minimum
}

func ExampleCompare() {
	set, _ := torque.ParseFigure("40", torque.NewtonMeters)
	delivered, _ := torque.ParseFigure("38.4", torque.NewtonMeters)
	comparison, _ := wrench.Compare(set, delivered)
	fmt.Println(comparison.Percent(2), "% of the reference, within 4 %:", comparison.IsWithin(4*wrench.Percent))
	// Output:
	// 4.17 % of the reference, within 4 %: false
}

func ExampleDecide() {
	decision, err := wrench.Decide(wrench.Question{Min: "5", Max: "7", Reading: "6.9", U: "0.1"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f %v\n", decision.Probability, decision.Outcome)
	// Output:
	// 0.8413 undecided
}

func ExampleLevel_Acceptance() {
	window, _ := torque.NewWindow(12*torque.NewtonMeter, 14*torque.NewtonMeter)
	limits, _ := wrench.Level{}.Acceptance(window, (4 * wrench.Percent).Uncertainty())
	fmt.Printf("conforming %v\n", limits.Conforming)
	fmt.Println(limits.Outcome(13*torque.NewtonMeter), limits.Outcome(14*torque.NewtonMeter), limits.Outcome(15*torque.NewtonMeter))

	limits, _ = wrench.Level{}.Acceptance(window, (12 * wrench.Percent).Uncertainty())
	text, _ := json.Marshal(limits.HasConforming)
	fmt.Printf("with a tool of 12 %%: %s\n", text)
	// Output:
	// conforming 12.47383458 N·m to 13.487651754 N·m
	// conforming undecided nonconforming
	// with a tool of 12 %: false
}
