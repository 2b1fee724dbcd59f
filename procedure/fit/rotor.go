package fit

import (
	"fmt"
	"slices"
)

// rotorSizes are the rotor diameters in use, in millimeters. Source: common
// practice, no source.
func rotorSizes() []Length { return millimeters(140, 160, 180, 200, 203, 220) }

// A Rotor is a brake rotor and the mount its caliper is to reach it from.
type Rotor struct {
	Native    Length // rotor the bare mount is made for
	Size      Length // rotor that is to go on
	Max       Length // largest rotor printed on frame or fork; 0: none found
	FlatFront bool   // flat-mount front plate: one way round 140 mm, the other 160 mm
}

// RotorSize works out the adapter a rotor needs, (new − native)/2 in radius,
// and holds the size against the limit printed on frame or fork. That limit is
// one of strength: with none found the rule can't decide. 200 mm and 203 mm
// differ by 1.5 mm in radius and don't interchange. Source: common practice, no
// source; the limit is the maker's.
func RotorSize(rotor Rotor) (Result, error) {
	var in inputs
	in.rotor("native", rotor.Native)
	in.rotor("size", rotor.Size)
	if rotor.Max != 0 {
		in.length("max", rotor.Max, 100*Millimeter, 300*Millimeter)
	}
	if err := in.err("rotor-size"); err != nil {
		return Result{}, err
	}
	shift := (rotor.Size - rotor.Native) / 2
	r := Result{
		Rule: "rotor-size", Instrument: Marked(),
		Measured: fmt.Sprintf("mount for %s, rotor %s: caliper moves out by %s", rotor.Native, rotor.Size, shift),
		Limit:    "largest rotor printed on frame or fork " + rotor.Max.String(),
		Source:   "the limit printed on the part; sizes: " + sourcePractice, Confidence: CommonPractice,
	}
	r.judge(rotor.Max-rotor.Size, 0)
	r.length("adapter", shift)
	r.rotor(rotor, shift)
	return r, nil
}

func (in *inputs) rotor(path string, size Length) {
	if !slices.Contains(rotorSizes(), size) {
		in.add(path, "known", "%s is not a known rotor size; known are %v", size, rotorSizes())
	}
}

func (r *Result) rotor(rotor Rotor, shift Length) {
	switch {
	case rotor.Max == 0:
		r.Verdict, r.Margin, r.Limit = TryAndMeasure, Margin{}, "largest rotor printed on frame or fork: not found"
		r.Why = "No limit was found. Look on the fork, the frame and in their papers before a larger rotor goes on."
	case rotor.Size > rotor.Max:
		r.Why = "The rotor is larger than frame or fork is built for. That is a limit of strength, whatever adapter exists."
	case rotor.FlatFront && rotor.Native == 140*Millimeter && rotor.Size == 160*Millimeter:
		r.need("the front plate turned to its 160 mm side")
		r.Why = "The plate of a flat-mount fork has a side for each size."
	case shift < 0:
		r.Verdict, r.Margin = DoesNotFit, lengthMargin(shift)
		r.Why = "The mount is made for a larger rotor; the caliper can't move in."
	case shift != 0 && shift < 2*Millimeter:
		r.Verdict, r.Margin = DoesNotFit, Margin{}
		r.Why = "The pads would overhang the rotor by " + shift.String() + ". These two sizes don't interchange."
	case shift > 0:
		r.need("an adapter that moves the caliper out by " + shift.String())
		r.Why = "The adapter brings the pads to the larger rotor."
	default:
		r.Why = "The rotor has the size the mount is made for."
	}
}
