package wrench_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

func BenchmarkChoose(b *testing.B) {
	pinch := window(b, "12", "14")
	a, err := wrench.NewAdapter(wrench.AdapterDescription{Length: "250", Extension: "40", AngleDegrees: "30"})
	require.NoError(b, err)
	pounds := tool(b, wrench.Description{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "20", Max: "240", Graduation: "1"})
	for _, bb := range []struct {
		name string
		w    *wrench.Wrench
	}{
		{"newton meters", setting(b, "4", "20", "0.1")},
		{"pound-force inches", pounds},
		{"with an adapter", pounds.With(a)},
		{"refused", setting(b, "2", "10", "0.1")},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = bb.w.Choose(pinch, 13*torque.NewtonMeter, wrench.AllowTool)
			}
		})
	}
}

// A plan asks a rack of ten tools for each of five steps.
func BenchmarkRankTenToolsFiveSteps(b *testing.B) {
	tools := rack(b)[1:11]
	var tasks []wrench.Task
	for _, limits := range [][2]string{{"4", "5"}, {"5", "7"}, {"12", "14"}, {"30", "40"}, {"40", "50"}} {
		tasks = append(tasks, wrench.Task{Window: window(b, limits[0], limits[1]), Hand: joint.RightHand, At: monday})
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, task := range tasks {
			_ = wrench.Rank(tools, task)
		}
	}
}

func BenchmarkJudge(b *testing.B) {
	pinch, u := window(b, "12", "14"), (4 * wrench.Percent).Uncertainty()
	b.ReportAllocs()
	for b.Loop() {
		_, _ = wrench.Level{}.Judge(pinch, 13*torque.NewtonMeter, u)
	}
}

func BenchmarkAcceptance(b *testing.B) {
	pinch := window(b, "12", "14")
	for _, bb := range []struct {
		name string
		d    wrench.Deviation
	}{{"one tail counts", wrench.Percent}, {"both tails count", 6 * wrench.Percent}, {"nothing conforms", 20 * wrench.Percent}} {
		b.Run(bb.name, func(b *testing.B) {
			u := bb.d.Uncertainty()
			b.ReportAllocs()
			for b.Loop() {
				_, _ = wrench.Level{}.Acceptance(pinch, u)
			}
		})
	}
}

func BenchmarkDecide(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = wrench.Decide(wrench.Question{Min: "5", Max: "7", Reading: "6.9", U: "0.1"})
	}
}

func BenchmarkAdapter(b *testing.B) {
	wanted := figure(b, "135", torque.PoundForceInches)
	b.ReportAllocs()
	for b.Loop() {
		a, _ := wrench.NewAdapter(wrench.AdapterDescription{Length: "10", Extension: "1.5", AngleDegrees: "45", Unit: wrench.Inches})
		_, _ = a.Setting(wanted)
	}
}

func BenchmarkNew(b *testing.B) {
	d := wrench.Description{ID: "blue-1", Kind: wrench.Setting, Min: "2", Max: "25", Graduation: "0.1", Calibration: calibrated()}
	b.ReportAllocs()
	for b.Loop() {
		_, _ = wrench.New(d)
	}
}
