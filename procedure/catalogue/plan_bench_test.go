package catalogue_test

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// BenchmarkPlan plans the built-in crank with pinch bolts for a bike of the
// invented week with the whole rack: fit, windows, prep, settings and
// acceptance limits of every tool.
func BenchmarkPlan(b *testing.B) {
	c, err := catalogue.Load()
	require.NoError(b, err)
	res, err := c.Resolve("crank-two-pinch-bolts")
	require.NoError(b, err)
	data, err := os.ReadFile("../../testdata/week/bikes/b-04.yaml")
	require.NoError(b, err)
	sheet, err := procedure.ReadSheet("b-04.yaml", data, c.Vocabulary)
	require.NoError(b, err)
	data, err = os.ReadFile("../../testdata/week/tools.yaml")
	require.NoError(b, err)
	tools, err := procedure.ReadTools("tools.yaml", data)
	require.NoError(b, err)
	at := time.Date(2025, 3, 4, 15, 0, 0, 0, time.UTC)
	b.ReportAllocs()
	for b.Loop() {
		p, err := procedure.NewPlan(res, sheet, tools, at, procedure.Policy{})
		if err != nil || p.Blocked() {
			b.Fatal(err, p.Findings)
		}
	}
}
