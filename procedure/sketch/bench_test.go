package sketch_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/sketch"
)

// BenchmarkStep draws four bolts with their passes and direction, as the tablet
// asks for it when a step is opened.
func BenchmarkStep(b *testing.B) {
	p := plan(b, "handlebar", "../../testdata/sheets/whole-road.yaml")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sketch.Step(p, "tighten-faceplate"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlan draws every step of a cassette, for the printed card.
func BenchmarkPlan(b *testing.B) {
	p := plan(b, "cassette-splined-body", "../../testdata/sheets/whole-road.yaml")
	size := 0
	b.ReportAllocs()
	for b.Loop() {
		size = 0
		for i := range p.Steps {
			drawings, err := sketch.Step(p, p.Steps[i].ID)
			require.NoError(b, err)
			for _, d := range drawings {
				size += len(d.SVG)
			}
		}
	}
	b.ReportMetric(float64(size), "svg-bytes")
}
