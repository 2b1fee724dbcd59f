package drawing_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// requireSound holds a drawing to what all of them keep: it can be read as XML
// and every coordinate is a number. Where figures are of a size that a bench
// sees, no text is lost either.
func requireSound(t *rapid.T, svg []byte, isUsual bool) {
	for _, e := range requireWellFormed(t, svg) {
		for _, a := range e.Attr {
			for _, word := range strings.FieldsFunc(a.Value, func(r rune) bool { return r == ' ' || r == ',' }) {
				require.NotContains(t, []string{"NaN", "Inf", "+Inf", "-Inf"}, word, "%s of %s", a.Name.Local, e.Name.Local)
			}
		}
	}
	if isUsual {
		requireRoom(t, svg)
	}
}

// magnitude draws a figure of any size between two, evenly on a logarithmic
// scale.
func magnitude(t *rapid.T, low, high float64, name string) float64 {
	return min(high, max(low, math.Exp(rapid.Float64Range(math.Log(low), math.Log(high)).Draw(t, name))))
}

func newtonMeters(t *rapid.T, low, high float64, name string) torque.Torque {
	value, err := torque.FromNewtonMeters(magnitude(t, low, high, name))
	require.NoError(t, err)
	return value
}

// band draws a band around a figure.
func band(t *rapid.T, low, high float64, name string) joint.Band {
	x := magnitude(t, low, high, name)
	return joint.Band{Low: x * rapid.Float64Range(0.1, 1).Draw(t, name+" low"), Nominal: x, High: x * rapid.Float64Range(1, 10).Draw(t, name+" high")}
}

func TestAnyJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mu := rapid.Float64Range(0.01, 0.5).Draw(t, "friction")
		f, err := joint.NewFrictionBand(mu*rapid.Float64Range(0.1, 1).Draw(t, "low"), mu, mu*rapid.Float64Range(1, 1.9).Draw(t, "high"))
		require.NoError(t, err)
		b := joint.Bolt{
			Thread:         thread(t, rapid.SampledFrom([]string{"M2", "M5", "M8x1", "M39"}).Draw(t, "thread")),
			Class:          class(t, rapid.SampledFrom([]string{"", "8.8", "12.9", "AL6"}).Draw(t, "class")),
			ThreadFriction: f, ToolDeviation: rapid.Float64Range(0, 0.5).Draw(t, "tool"),
		}
		isUsual := rapid.Bool().Draw(t, "usual")
		at := newtonMeters(t, 1e-8, 1e6, "torque")
		if isUsual {
			at = newtonMeters(t, 0.1, 1000, "torque")
		}
		got, err := b.AtTorque(at)
		if err != nil {
			t.Skip(err) // no strength is stated for that class and size
		}
		svg, err := drawing.Joint(got)
		require.NoError(t, err)
		requireSound(t, svg, isUsual)
	})
}

func TestAnyClamp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := joint.Clamp{
			TubeDiameterMM: magnitude(t, 0.1, 500, "tube"), LengthMM: magnitude(t, 0.1, 1000, "length"),
			Bolts: rapid.IntRange(1, 16).Draw(t, "bolts"), BoltPreloadNewtons: band(t, 1e-3, 1e7, "preload"),
			Contact: joint.Contact(rapid.IntRange(1, 4).Draw(t, "contact")),
			Demand:  joint.Demand{},
		}
		isUsual := rapid.Bool().Draw(t, "usual")
		if isUsual {
			c.TubeDiameterMM, c.LengthMM = magnitude(t, 5, 100, "tube"), magnitude(t, 2, 200, "length")
			c.BoltPreloadNewtons = band(t, 10, 1e5, "preload")
		}
		if rapid.Bool().Draw(t, "pulls") {
			c.Demand.AxialNewtons = magnitude(t, 1e-6, 1e8, "axial")
		}
		if rapid.Bool().Draw(t, "twists") {
			c.Demand.TorqueNewtonMeters = magnitude(t, 1e-6, 1e6, "around")
		}
		limit := rapid.SampledFrom([]float64{0, 1e-3, 60, 1e5}).Draw(t, "limit")
		svg, err := drawing.Clamp(grip(t, c), limit)
		require.NoError(t, err)
		requireSound(t, svg, isUsual)
	})
}

func TestAnySpline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := joint.SprocketStack{
			CrankTorque:    newtonMeters(t, 1e-6, 1e6, "crank"),
			ChainringTeeth: rapid.IntRange(5, 200).Draw(t, "chainring"), SprocketTeeth: rapid.IntRange(5, 200).Draw(t, "sprocket"),
			WidthMM:        magnitude(t, 0.01, 100, "width"),
			LockringTorque: rapid.SampledFrom([]torque.Torque{0, 1, 40 * torque.NewtonMeter, 1e6 * torque.NewtonMeter}).Draw(t, "lockring"),
			Body:           rapid.SampledFrom(append(joint.Materials(), joint.Material{})).Draw(t, "body"),
		}
		isUsual := rapid.Bool().Draw(t, "usual")
		if isUsual {
			s.CrankTorque, s.WidthMM = newtonMeters(t, 1, 500, "crank"), magnitude(t, 1, 20, "width")
		}
		svg, err := drawing.Spline(load(t, s))
		require.NoError(t, err)
		requireSound(t, svg, isUsual)
	})
}

func TestAnySetting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		decimal := func(low, high float64, name string) string {
			return strconv.FormatFloat(magnitude(t, low, high, name), 'f', 6, 64)
		}
		a := wrench.AdapterDescription{
			Length: decimal(0.001, 1e6, "length"), Extension: decimal(1e-6, 1e6, "extension"),
			AngleDegrees: strconv.Itoa(rapid.IntRange(-360, 360).Draw(t, "angle")), Unit: wrench.LengthUnit(rapid.IntRange(0, 4).Draw(t, "unit")),
		}
		adapter, err := wrench.NewAdapter(a)
		if err != nil {
			t.Skip(err) // the adapter takes nearly all of the lever
		}
		isUsual := rapid.Bool().Draw(t, "usual")
		at := figure(t, decimal(0.001, 1e5, "torque"), rapid.SampledFrom(torque.Units()).Draw(t, "torque unit"))
		if isUsual {
			at = figure(t, decimal(1, 200, "torque"), torque.NewtonMeters)
		}
		setting, err := adapter.Setting(at)
		require.NoError(t, err)
		v := drawing.SettingView{At: at, Setting: setting, Adapter: &a}
		addChoice(t, &v, adapter)
		svg, err := drawing.Setting(v)
		require.NoError(t, err)
		requireSound(t, svg, isUsual)
	})
}

// addChoice lets one of some wrenches be chosen for a window around the torque,
// where it can be.
func addChoice(t *rapid.T, v *drawing.SettingView, adapter wrench.Adapter) {
	tool := rapid.SampledFrom([]wrench.Description{
		{Kind: wrench.Setting, Unit: torque.NewtonMeters, Min: "2", Max: "20", Graduation: "0.1"},
		{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "20", Max: "200", Graduation: "5"},
		{Kind: wrench.Indicating, Unit: torque.NewtonMeters, Min: "0.001", Max: "100000"},
		{Kind: wrench.Fixed, Unit: torque.NewtonMeters, Min: "5", Max: "5"},
	}).Draw(t, "tool")
	w, err := wrench.New(tool)
	require.NoError(t, err)
	aim, err := v.At.Torque()
	if err != nil || aim < 100 {
		return
	}
	window, err := torque.AtMost(aim + aim/3)
	if rapid.Bool().Draw(t, "two limits") {
		window, err = torque.NewWindow(aim-aim/3, aim+aim/3)
	}
	if err != nil {
		return // beyond the largest torque
	}
	choice, err := w.With(adapter).Choose(window, aim, wrench.AllowTool)
	v.Wrench = w
	if tool.Graduation != "" {
		v.Graduation = figure(t, tool.Graduation, tool.Unit)
	}
	if err == nil {
		v.Window, v.Choice = window, &choice
	}
}

func TestNotDrawable(t *testing.T) {
	for _, tt := range []struct {
		name string
		draw func() ([]byte, error)
	}{
		{"no number", func() ([]byte, error) {
			return drawing.Joint(joint.Tightened{PreloadBandNewtons: joint.Exactly(math.NaN())})
		}},
		{"no end", func() ([]byte, error) {
			return drawing.Spline(joint.SplineLoad{FlankPressureMPa: joint.Exactly(math.Inf(1))})
		}},
		{"no limit", func() ([]byte, error) { return drawing.Clamp(joint.ClampGrip{}, math.NaN()) }},
		{"nothing", func() ([]byte, error) { return drawing.Setting(drawing.SettingView{}) }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.draw()
			require.ErrorIs(t, err, drawing.ErrNotDrawable)
		})
	}
}

// Results of nothing at all are drawn as scales without bars worth seeing.
func TestEmptyResultsAreDrawn(t *testing.T) {
	for _, draw := range []func() ([]byte, error){
		func() ([]byte, error) { return drawing.Joint(joint.Tightened{}) },
		func() ([]byte, error) { return drawing.Clamp(joint.ClampGrip{}, 0) },
		func() ([]byte, error) { return drawing.Spline(joint.SplineLoad{}) },
	} {
		svg, err := draw()
		require.NoError(t, err)
		requireWellFormed(t, svg)
	}
}
