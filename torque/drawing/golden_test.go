package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

var update = flag.Bool("update", false, "write what was drawn into testdata")

// samples are drawings of each kind and of each shape that they can take.
var samples = []struct {
	name string
	draw func(tb rapid.TB) ([]byte, error)
}{
	{"joint", func(tb rapid.TB) ([]byte, error) {
		return drawing.Joint(tightened(tb, joint.Bolt{
			Thread: thread(tb, "M8x1.25"), Class: class(tb, "8.8"), ThreadFriction: friction(tb, 0.12, 0.12, 0.12),
		}, 24600*torque.NewtonMeter/1000))
	}},
	{"joint-overtightened", func(tb rapid.TB) ([]byte, error) {
		return drawing.Joint(tightened(tb, joint.Bolt{
			Thread: thread(tb, "M5x0.8"), Class: class(tb, "A2-70"), ThreadFriction: friction(tb, 0.08, 0.12, 0.16),
			Seat: material(tb, "AW-6061"), ToolDeviation: 0.06,
		}, 9*torque.NewtonMeter))
	}},
	{"joint-without-class", func(tb rapid.TB) ([]byte, error) {
		return drawing.Joint(tightened(tb, joint.Bolt{
			Thread: thread(tb, "M5"), ThreadFriction: friction(tb, 0.1, 0.14, 0.2),
		}, 500*torque.NewtonMeter/1000))
	}},
	{"clamp-seat-post", func(tb rapid.TB) ([]byte, error) {
		return drawing.Clamp(grip(tb, joint.Clamp{
			TubeDiameterMM: 27.2, LengthMM: 22, Bolts: 1, BoltPreloadNewtons: joint.Spread(5556, 0.25), Contact: joint.CarbonPaste,
			TubeWallMM: 2, Demand: joint.SecurityLoads()[0],
		}), 0)
	}},
	{"clamp-stem", func(tb rapid.TB) ([]byte, error) {
		return drawing.Clamp(grip(tb, joint.Clamp{
			Style: joint.TwoPiece, TubeDiameterMM: 31.8, LengthMM: 42, Bolts: 4, BoltPreloadNewtons: joint.Spread(4200, 0.25),
			Contact: joint.AlloyDry, Demand: joint.Demand{TorqueNewtonMeters: 80},
		}), 60)
	}},
	{"clamp-both", func(tb rapid.TB) ([]byte, error) {
		return drawing.Clamp(grip(tb, joint.Clamp{
			TubeDiameterMM: 28.6, LengthMM: 20, Bolts: 2, BoltPreloadNewtons: joint.Spread(5000, 0.25), Contact: joint.AlloyGreased,
			Demand: joint.Demand{AxialNewtons: 2000, TorqueNewtonMeters: 50},
		}), 0)
	}},
	{"clamp-without-demand", func(tb rapid.TB) ([]byte, error) {
		return drawing.Clamp(grip(tb, joint.Clamp{
			TubeDiameterMM: 22.2, LengthMM: 20, Bolts: 1, BoltPreloadNewtons: joint.Exactly(900), Contact: joint.AlloyDry,
		}), 0)
	}},
	{"spline-loose-sprocket", func(tb rapid.TB) ([]byte, error) {
		return drawing.Spline(load(tb, joint.SprocketStack{
			CrankTorque: 232 * torque.NewtonMeter, ChainringTeeth: 34, SprocketTeeth: 25,
			LockringTorque: 40 * torque.NewtonMeter, Body: material(tb, "AW-7075"),
		}))
	}},
	{"spline-slack-lockring", func(tb rapid.TB) ([]byte, error) {
		return drawing.Spline(load(tb, joint.SprocketStack{
			CrankTorque: 232 * torque.NewtonMeter, ChainringTeeth: 34, SprocketTeeth: 34, WidthMM: 9, Body: material(tb, "titanium"),
		}))
	}},
	{"spline-without-body", func(tb rapid.TB) ([]byte, error) {
		return drawing.Spline(load(tb, joint.SprocketStack{
			CrankTorque: 20 * torque.NewtonMeter, ChainringTeeth: 34, SprocketTeeth: 13, LockringTorque: 40 * torque.NewtonMeter,
		}))
	}},
	{"setting-window", func(tb rapid.TB) ([]byte, error) {
		return drawing.Setting(chosen(tb, wrench.AdapterDescription{Length: "250", Extension: "25", AngleDegrees: "90"},
			wrench.Description{Kind: wrench.Setting, Unit: torque.NewtonMeters, Min: "2", Max: "20", Graduation: "0.2"},
			figure(tb, "6", torque.NewtonMeters), 5*torque.NewtonMeter, 7*torque.NewtonMeter))
	}},
	{"setting-adapter", func(tb rapid.TB) ([]byte, error) {
		a := wrench.AdapterDescription{Length: "10", Extension: "1.5", AngleDegrees: "0", Unit: wrench.Inches}
		adapter, err := wrench.NewAdapter(a)
		require.NoError(tb, err)
		at := figure(tb, "135", torque.PoundForceInches)
		s, err := adapter.Setting(at)
		require.NoError(tb, err)
		return drawing.Setting(drawing.SettingView{At: at, Setting: s, Adapter: &a})
	}},
	{"setting-mark", func(tb rapid.TB) ([]byte, error) {
		at := figure(tb, "6.3", torque.NewtonMeters)
		s, err := wrench.Adapter{}.Setting(at)
		require.NoError(tb, err)
		w, err := wrench.New(wrench.Description{Kind: wrench.Setting, Unit: torque.NewtonMeters, Min: "2", Max: "20", Graduation: "0.2"})
		require.NoError(tb, err)
		s, err = s.MarkOn(w, wrench.Maximum)
		require.NoError(tb, err)
		return drawing.Setting(drawing.SettingView{At: at, Setting: s, Wrench: w, Graduation: figure(tb, "0.2", torque.NewtonMeters)})
	}},
	{"setting-back", func(tb rapid.TB) ([]byte, error) {
		return drawing.Setting(chosen(tb, wrench.AdapterDescription{Length: "10", Extension: "4.5", AngleDegrees: "150", Unit: wrench.Inches},
			wrench.Description{Kind: wrench.Setting, Unit: torque.NewtonMeters, Min: "10", Max: "60", Graduation: "0.25"},
			figure(tb, "180", torque.PoundForceInches), 15*torque.NewtonMeter, 25*torque.NewtonMeter))
	}},
}

func TestGolden(t *testing.T) {
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			svg, err := s.draw(t)
			require.NoError(t, err)
			file := filepath.Join("testdata", s.name+".svg")
			if *update {
				require.NoError(t, os.WriteFile(file, svg, 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			require.Equal(t, string(want), string(svg), "run the tests with -update, and look at the drawing")
			requireWellFormed(t, svg)
		})
	}
}

// requireWellFormed reads a drawing to its end as XML and returns its elements.
func requireWellFormed(tb rapid.TB, svg []byte) []xml.StartElement {
	tb.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	var elements []xml.StartElement
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return elements
		}
		require.NoError(tb, err, string(svg))
		if e, ok := token.(xml.StartElement); ok {
			elements = append(elements, e.Copy())
		}
	}
}
