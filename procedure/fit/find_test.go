package fit_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// findBody returns the choice of a pattern and length.
func findBody(t testing.TB, bodies []fit.BodyChoice, id, length string) fit.BodyChoice {
	t.Helper()
	for _, b := range bodies {
		if b.Body.ID == id && b.Length.String() == length {
			return b
		}
	}
	require.Fail(t, "no such body", id+" "+length)
	return fit.BodyChoice{}
}

// The spacers of the table of body lengths: common practice, no source.
func TestBodiesForACassette(t *testing.T) {
	for _, tt := range []struct {
		name                  string
		cassette              fit.Cassette
		onShort, onLong       fit.Verdict
		shortNeeds, longNeeds []string
	}{
		{"made for the short body", fit.Cassette{Splines: "9-spline", MadeFor: fit.FromMillimeters(34.9), SmallestSprocket: 11},
			fit.Fits, fit.FitsWith, nil, []string{"1.85 mm spacer behind the cassette"}},
		{"thin one with its own spacer", fit.Cassette{Splines: "9-spline", MadeFor: fit.FromMillimeters(34.9), OwnSpacer: fit.FromMillimeters(1)},
			fit.FitsWith, fit.FitsWith, []string{"the cassette's own 1 mm spacer"}, []string{"1.85 mm spacer behind the cassette", "the cassette's own 1 mm spacer"}},
		{"made for the long body", fit.Cassette{Splines: "9-spline", MadeFor: fit.FromMillimeters(36.75)},
			fit.DoesNotFit, fit.Fits, nil, nil},
		{"ten teeth on nine splines", fit.Cassette{Splines: "9-spline", MadeFor: fit.FromMillimeters(34.9), SmallestSprocket: 10},
			fit.DoesNotFit, fit.DoesNotFit, nil, []string{"1.85 mm spacer behind the cassette"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			bodies, err := fit.FindBodies(tt.cassette, fit.Marked())
			require.NoError(t, err)
			short, long := findBody(t, bodies, "9-spline", "34.9 mm"), findBody(t, bodies, "9-spline", "36.75 mm")
			require.Equal(t, tt.onShort, short.Verdict(), short.Results)
			require.Equal(t, tt.onLong, long.Verdict(), long.Results)
			require.Equal(t, tt.shortNeeds, short.Results[len(short.Results)-1].Needs)
			require.Equal(t, tt.longNeeds, long.Results[len(long.Results)-1].Needs)
			require.Equal(t, fit.DoesNotFit, findBody(t, bodies, "deep-8-spline", "0 mm").Verdict())
		})
	}
}

// The best answers come first, every body of the list is in the answer once, and
// a body of another pattern never takes a cassette.
func TestBodiesAreAllListed(t *testing.T) {
	for _, d := range fit.DriveInterfaces() {
		bodies, err := fit.FindBodies(fit.Cassette{Splines: d.ID, MadeFor: fit.FromMillimeters(34.9)}, fit.Marked())
		require.NoError(t, err)
		require.Len(t, bodies, len(fit.DriveInterfaces())+1) // one pattern has two lengths
		for i, b := range bodies {
			require.Equal(t, b.Body.ID == d.ID, b.Verdict() != fit.DoesNotFit, b.Body.ID)
			require.NotEmpty(t, b.Results)
			if i > 0 {
				require.LessOrEqual(t, bodies[i-1].Verdict(), b.Verdict())
			}
		}
	}
}

func TestBodyInputs(t *testing.T) {
	for _, tt := range []struct {
		name     string
		cassette fit.Cassette
		path     string
	}{
		{"no pattern", fit.Cassette{MadeFor: fit.FromMillimeters(34.9)}, "splines"},
		{"no length for a pattern with two", fit.Cassette{Splines: "9-spline"}, "made_for_length"},
		{"length", fit.Cassette{Splines: "23-spline", MadeFor: fit.FromMillimeters(9)}, "made_for_length"},
		{"spacer", fit.Cassette{Splines: "23-spline", OwnSpacer: fit.FromMillimeters(6)}, "own_spacer"},
		{"teeth", fit.Cassette{Splines: "23-spline", SmallestSprocket: 3}, "smallest_sprocket"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := fit.FindBodies(tt.cassette, fit.Marked())
			found, ok := errors.AsType[*fit.FieldError](err)
			require.True(t, ok)
			require.Equal(t, tt.path, found.Path)
		})
	}
}

// Common practice, no source: individually mounted sprockets mark a soft body.
// The figures are those of package joint for the case that the note states: 591 MPa
// against 410 MPa (VDI 2230-1:2003 table A9, as quoted in a public table).
func TestLooseSprocketNote(t *testing.T) {
	note := fit.LooseSprocketNote()
	require.Contains(t, note, "mark a body of soft alloy")
	crank, err := joint.RiderTorque(90, 175, 1.5)
	require.NoError(t, err)
	body, err := joint.ParseMaterial("AW-7075")
	require.NoError(t, err)
	load, err := joint.SprocketStack{CrankTorque: crank, ChainringTeeth: 34, SprocketTeeth: 25, LockringTorque: 40e9, Body: body}.Load()
	require.NoError(t, err)
	require.InDelta(t, 591, load.FlankPressureMPa.Nominal, 0.5)
	require.Contains(t, note, "about 590 MPa")
	require.Contains(t, note, "AW-7075 bears 410 MPa")
}

func findShell(t testing.TB, shells []fit.ShellChoice, id, width string) fit.ShellChoice {
	t.Helper()
	for _, s := range shells {
		if s.Shell.ID == id && s.Width.String() == width {
			return s
		}
	}
	require.Fail(t, "no such shell", id+" "+width)
	return fit.ShellChoice{}
}

// Off-road 24 mm spindles that need 75.5 mm take three spacers of 2.5 mm in a shell
// of 68 mm and one in a shell of 73 mm: 68 + 3 x 2.5 = 73 + 2.5 (public spacer
// charts; common practice, no source).
func TestShellsForACrank(t *testing.T) {
	shells, err := fit.FindShells(fit.Crank{Spindle: "24 mm", Width: fit.FromMillimeters(75.5), Spacer: fit.FromMillimeters(2.5)}, fit.Marked())
	require.NoError(t, err)
	small := findShell(t, shells, "threaded 1.37 in", "68 mm")
	require.Equal(t, fit.FitsWith, small.Verdict())
	require.Equal(t, "3", small.Results[1].Numbers["spacer_count"])
	require.Equal(t, "1", findShell(t, shells, "threaded 1.37 in", "73 mm").Results[1].Numbers["spacer_count"])
	require.Equal(t, fit.DoesNotFit, findShell(t, shells, "threaded 1.37 in", "83 mm").Verdict())
	require.Equal(t, fit.TryAndMeasure, findShell(t, shells, "pressed 41 mm cups, wide", "92 mm").Verdict(), "its bearings sit inside: another width is meant")
	require.Equal(t, fit.DoesNotFit, findShell(t, shells, "threaded 35 mm, both right-hand", "68 mm").Verdict(), "no 24 mm bearing exists")
	for i := range shells[1:] {
		require.LessOrEqual(t, shells[i].Verdict(), shells[i+1].Verdict())
	}
}

// Common practice, no source: a newer chainset runs in an older threaded shell,
// whatever the number of sprockets; the question does not even take that number.
func TestNewerChainsetInOlderShell(t *testing.T) {
	shells, err := fit.FindShells(fit.Crank{Spindle: "24 mm", Width: fit.FromMillimeters(68)}, fit.Marked())
	require.NoError(t, err)
	require.Equal(t, fit.Fits, findShell(t, shells, "threaded 1.37 in", "68 mm").Verdict())
	require.Contains(t, fit.OlderShellNote(), "whatever the number of sprockets")
}

// Nothing fits plainly while the width is not looked up, and a spindle without a
// bearing for the shell never fits.
func TestShellsWithoutWidth(t *testing.T) {
	for _, spindle := range fit.Spindles() {
		shells, err := fit.FindShells(fit.Crank{Spindle: spindle}, fit.Marked())
		require.NoError(t, err)
		for _, s := range shells {
			require.GreaterOrEqual(t, s.Verdict(), fit.TryAndMeasure)
		}
	}
	_, err := fit.FindShells(fit.Crank{Spindle: "23 mm", Width: fit.FromMillimeters(10), Spacer: fit.FromMillimeters(30)}, fit.Marked())
	require.ErrorContains(t, err, "spindle")
	require.ErrorContains(t, err, "needs_width")
	require.ErrorContains(t, err, "spacer")
}

// A plain fit always has at least the instrument's error to spare.
func TestShellMarginHoldsTheInstrument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ins := rapid.SampledFrom(fit.Measuring()).Draw(t, "instrument").Instrument
		width := fit.Length(rapid.Int64Range(60_000, 110_000).Draw(t, "width")) * fit.Micrometer
		shells, err := fit.FindShells(fit.Crank{Spindle: "24 mm", Width: width}, ins)
		require.NoError(t, err)
		for _, s := range shells {
			for _, r := range s.Results {
				if r.Verdict == fit.Fits && r.Margin.Kind == fit.LengthMargin {
					require.GreaterOrEqual(t, r.Margin.Length, r.Uncertainty)
				}
			}
		}
	})
}

// Common practice, no source: from rim to disc brakes, frame, fork, levers,
// calipers and wheels all have to serve.
func TestDiscChange(t *testing.T) {
	rim := fit.DiscEnd{Mount: fit.NoMount, LeverBy: fit.ShortPull}
	needs, err := fit.DiscChange(rim, rim)
	require.NoError(t, err)
	var parts []string
	for _, n := range needs {
		parts = append(parts, n.Part)
		require.False(t, n.IsPresent(), n.Part)
		require.NotEmpty(t, n.Needs(), n.Part)
	}
	require.Equal(t, []string{"frame", "fork", "levers", "calipers", "wheels"}, parts)
	require.Equal(t, fit.DoesNotFit, needs[0].Verdict())

	ready := fit.DiscEnd{Mount: fit.FlatMount, Caliper: fit.FlatMount, CaliperBy: fit.MineralOil, HubSeat: fit.SixBolt, Rotor: fit.SixBolt, LeverBy: fit.MineralOil}
	needs, err = fit.DiscChange(ready, ready)
	require.NoError(t, err)
	for _, n := range needs {
		require.True(t, n.IsPresent(), n.Part)
		require.Empty(t, n.Needs())
	}
}

// What is missing is named at the end where it is missing, and fluids never mix.
func TestDiscChangeByEnd(t *testing.T) {
	ready := fit.DiscEnd{Mount: fit.FlatMount, Caliper: fit.FlatMount, CaliperBy: fit.MineralOil, HubSeat: fit.SixBolt, Rotor: fit.SixBolt, LeverBy: fit.MineralOil}
	change := func(set func(*fit.DiscEnd)) []fit.DiscNeed {
		front := ready
		set(&front)
		needs, err := fit.DiscChange(front, ready)
		require.NoError(t, err)
		return needs
	}
	for _, tt := range []struct {
		name    string
		set     func(*fit.DiscEnd)
		part    int
		verdict fit.Verdict
	}{
		{"fork without a mount", func(e *fit.DiscEnd) { e.Mount = fit.NoMount }, 1, fit.DoesNotFit},
		{"two fluids", func(e *fit.DiscEnd) { e.LeverBy = fit.Glycol }, 2, fit.DoesNotFit},
		{"cable lever on a hydraulic caliper", func(e *fit.DiscEnd) { e.LeverBy = fit.ShortPull }, 2, fit.DoesNotFit},
		{"no lever", func(e *fit.DiscEnd) { e.LeverBy = "" }, 2, fit.DoesNotFit},
		{"no caliper", func(e *fit.DiscEnd) { e.Caliper, e.CaliperBy = "", "" }, 3, fit.FitsWith},
		{"wheel without a seat", func(e *fit.DiscEnd) { e.HubSeat = "" }, 4, fit.FitsWith},
	} {
		t.Run(tt.name, func(t *testing.T) {
			needs := change(tt.set)
			require.Equal(t, tt.verdict, needs[tt.part].Verdict())
			require.True(t, needs[0].IsPresent(), "the rear has all it needs")
		})
	}
	_, err := fit.DiscChange(fit.DiscEnd{Mount: "glued", Caliper: fit.PostMount}, fit.DiscEnd{Mount: fit.FlatMount, CaliperBy: fit.Glycol})
	for _, path := range []string{"front.mount", "front.caliper_by", "rear.caliper_by"} {
		require.ErrorContains(t, err, path)
	}
}

func TestMeasuringInstruments(t *testing.T) {
	for _, m := range fit.Measuring() {
		require.Positive(t, m.Error)
		found, ok := fit.InstrumentNamed(m.Short)
		require.True(t, ok)
		require.Equal(t, m.Instrument, found)
	}
}
