package sketch_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/sketch"
)

var update = flag.Bool("update", false, "write what was drawn into testdata")

// samples are steps of which each drawing is kept.
var samples = []struct{ procedure, step, sheet string }{
	{"stem-on-steerer", "tighten-stem", "../../testdata/sheets/whole-road.yaml"},
	{"handlebar", "tighten-faceplate", "../../testdata/sheets/whole-road.yaml"},
	{"handlebar", "check-gaps", ""},
	{"rotor-front", "tighten-rotor", ""},
	{"levers", "tighten-grips-two-rings", ""},
	{"levers", "prepare-clamp-faces", "../../testdata/sheets/whole-road.yaml"},
	{"pedals", "tighten-left", "../../testdata/sheets/whole-road.yaml"},
	{"bottom-bracket-threaded", "tighten-drive-side", ""},
	{"cassette-splined-body", "prepare-splines-and-thread", "../../testdata/sheets/whole-road.yaml"},
	{"cassette-splined-body", "stack-height", "../../testdata/sheets/whole-road.yaml"},
	{"rear-derailleur", "align-hanger", "../../testdata/sheets/whole-road.yaml"},
	{"crank-square-taper", "prepare-right-bolt", ""},
}

func TestGolden(t *testing.T) {
	for _, s := range samples {
		var drawings []sketch.Drawing
		var err error
		if s.sheet == "" {
			drawings, err = sketch.Taught(resolve(t, s.procedure), s.step)
		} else {
			drawings, err = sketch.Step(plan(t, s.procedure, s.sheet), s.step)
		}
		require.NoError(t, err)
		require.NotEmpty(t, drawings)
		for _, d := range drawings {
			name := s.procedure + "-" + s.step + "-" + d.Name
			t.Run(name, func(t *testing.T) {
				file := filepath.Join("testdata", name+".svg")
				if *update {
					require.NoError(t, os.WriteFile(file, d.SVG, 0o644))
				}
				want, err := os.ReadFile(file)
				require.NoError(t, err)
				require.Equal(t, string(want), string(d.SVG), "run the tests with -update, and look at the drawing")
				requireSound(t, d.SVG)
			})
		}
	}
}
