package torque_test

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

func Example() {
	// The maker's figure on the part, and the limit of the part it clamps.
	marking, err := torque.ParseMarking("5-7 Nm")
	if err != nil {
		fmt.Println(err)
		return
	}
	part, _ := marking.Window()
	clamped, _ := torque.AtMost(6 * torque.NewtonMeter)
	joint, err := part.Intersect(clamped)
	if err != nil {
		fmt.Println(err)
		return
	}
	// The lowest maximum governs; on this wrench that is at most 53 lbf·in.
	marks, _ := joint.RoundInward(torque.Scale{Unit: torque.PoundForceInches, Step: "1"})
	fmt.Println(joint)
	fmt.Println(marks.Min, "to", marks.Max)
	// Output:
	// 5 N·m to 6 N·m
	// 45 lbf·in to 53 lbf·in
}

func ExampleTorque() {
	aim := 5 * torque.NewtonMeter
	reading := 5*torque.NewtonMeter + 120*torque.MillinewtonMeter
	fmt.Println(reading - aim)
	fmt.Println(reading > aim)
	// Output:
	// 0.12 N·m
	// true
}

func ExampleTorque_Format() {
	reading := 5*torque.NewtonMeter + 250*torque.MillinewtonMeter
	fmt.Printf("%v, %.1v, %+v, %.1f, %d\n", reading, reading, reading, reading, reading)
	// Output:
	// 5.25 N·m, 5.2 N·m, +5.25 N·m, 5.2, 5250000000
}

func ExampleTorque_MarshalText() {
	data, _ := json.Marshal(map[string]torque.Torque{"aim": 5 * torque.NewtonMeter})
	fmt.Println(string(data))
	// Output:
	// {"aim":"5 N.m"}
}

func ExampleFromNewtonMeters() {
	reading, err := torque.FromNewtonMeters(5.1)
	fmt.Println(reading, err)
	_, err = torque.FromNewtonMeters(2e6)
	fmt.Println(errors.Is(err, torque.ErrOutOfRange))
	// Output:
	// 5.1 N·m <nil>
	// true
}

func ExampleParse() {
	value, _ := torque.Parse("44 lbf·in")
	fmt.Println(value)
	// Output:
	// 4.971332477 N·m
}

func ExampleUnit() {
	unit := torque.PoundForceInches
	fmt.Println(unit.Symbol(), unit.UCUM(), unit.Name(), unit.Factor())
	// Output:
	// lbf·in [lbf_av].[in_i] pound-force inch 1129848290276167/10000000000000000
}

func ExampleParseUnit() {
	for _, text := range []string{"N.m", "in-lb", "kgf.cm"} {
		unit, _ := torque.ParseUnit(text)
		fmt.Println(unit)
	}
	_, err := torque.ParseUnit("nm")
	fmt.Println(errors.Is(err, torque.ErrUnknownUnit))
	// Output:
	// N·m
	// lbf·in
	// kgf·cm
	// true
}

func ExampleFigure() {
	reading, _ := torque.ParseFigure("5.0", torque.NewtonMeters)
	data, _ := json.Marshal(reading)
	fmt.Println(string(data))
	fmt.Println(reading.In(torque.PoundForceInches).RoundSignificant(3))
	// Output:
	// {"value":"5.0","unit":"N.m"}
	// 44.3
}

func ExampleConvert() {
	exact, _ := torque.Convert("44", torque.PoundForceInches, torque.NewtonMeters)
	fmt.Println(exact)
	exact, _ = torque.Convert("1", torque.NewtonMeters, torque.KilogramForceCentimeters)
	fmt.Println(exact)
	// Output:
	// 4.9713324772151348 N·m
	// 2000000/196133 kgf·cm
}

func ExampleExact_RoundSignificant() {
	source, _ := torque.ParseFigure("50", torque.KilogramForceCentimeters)
	exact := source.In(torque.NewtonMeters)
	fmt.Println(exact.Text())
	fmt.Println(exact.RoundSignificant(exact.DigitsByFirst(source)))
	fmt.Println("as a maximum", exact.FloorPlaces(1), "as a minimum", exact.CeilPlaces(1))
	// Output:
	// 4.903325
	// 4.90
	// as a maximum 4.9 as a minimum 5.0
}

func ExampleWindow() {
	stated, _ := torque.PlusMinus(8*torque.NewtonMeter, torque.NewtonMeter)
	fmt.Println(stated, stated.Contains(9*torque.NewtonMeter))
	data, _ := json.Marshal(stated)
	fmt.Println(string(data))
	// Output:
	// 8 N·m ± 1 N·m true
	// {"min":"7 N.m","max":"9 N.m","nominal":"8 N.m"}
}

func ExampleWindow_Intersect() {
	stem, _ := torque.NewWindow(5*torque.NewtonMeter, 6*torque.NewtonMeter)
	bar, _ := torque.AtMost(4 * torque.NewtonMeter)
	_, err := stem.Intersect(bar)
	fmt.Println(errors.Is(err, torque.ErrDisjoint))
	fmt.Println(err)
	// Output:
	// true
	// 5 N·m to 6 N·m and at most 4 N·m: windows have no torque in common
}

func ExampleWindow_RoundInward() {
	narrow, _ := torque.NewWindow(5*torque.NewtonMeter, 5050*torque.MillinewtonMeter)
	_, err := narrow.RoundInward(torque.Scale{Unit: torque.PoundForceInches, Step: "1"})
	fmt.Println(errors.Is(err, torque.ErrVanishes))
	marks, _ := narrow.RoundInward(torque.Scale{Unit: torque.PoundForceInches, Step: "0.1"})
	fmt.Println(marks.Min, "to", marks.Max)
	// Output:
	// true
	// 44.3 lbf·in to 44.6 lbf·in
}

func ExampleFigureWindow_RoundInward() {
	marking, _ := torque.ParseMarking("44-62 in-lb")
	marks, _ := marking.FigureWindow().RoundInward(torque.Scale{Unit: torque.NewtonMeters, Step: "0.5", First: "2", Last: "20"})
	fmt.Println(marks.Min, "to", marks.Max)
	// Output:
	// 5.0 N·m to 7.0 N·m
}

func ExampleParseMarking() {
	for _, text := range []string{"MAX. 5 N·m", "44–62 in.lbs", "8 ± 1 Nm", "5 Nm (44 in-lb)", "5 nm"} {
		marking, err := torque.ParseMarking(text)
		var refused *torque.MarkingError
		if errors.As(err, &refused) {
			fmt.Println(refused.Reason)
			continue
		}
		fmt.Println(marking.Kind, marking)
	}
	// Output:
	// max max 5 N·m
	// range 44 lbf·in to 62 lbf·in
	// nominal_pm 8 N·m ± 1 N·m
	// nominal 5 N·m
	// ambiguous_unit
}
