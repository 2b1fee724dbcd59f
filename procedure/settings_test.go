package procedure_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"pgregory.net/rapid"
)

// drawTool is a tool with some scale in some unit.
func drawTool(rt *rapid.T) procedure.Tool {
	cal := procedure.Calibration{At: monday.AddDate(0, -6, 0), Due: monday.AddDate(0, 6, 0), Hands: []joint.Hand{joint.RightHand},
		DeviationPercent: rapid.SampledFrom([]string{"", "1", "4", "6", "10", "0.5"}).Draw(rt, "deviation")}
	unit := rapid.SampledFrom([]torque.Unit{torque.NewtonMeters, torque.PoundForceInches, torque.PoundForceFeet, torque.KilogramForceCentimeters}).Draw(rt, "unit")
	top := map[torque.Unit]int{torque.NewtonMeters: 25, torque.PoundForceInches: 220, torque.PoundForceFeet: 20, torque.KilogramForceCentimeters: 250}[unit]
	t := procedure.Tool{ID: "drawn", Unit: unit, Calibrations: []procedure.Calibration{cal},
		Kind: rapid.SampledFrom([]procedure.ToolKind{procedure.Setting, procedure.Indicating, procedure.Fixed}).Draw(rt, "kind"),
		Min:  fmt.Sprint(rapid.IntRange(1, top/5).Draw(rt, "min")), Max: fmt.Sprint(top),
		Graduation: rapid.SampledFrom([]string{"0.1", "0.25", "1", "2", "0.05"}).Draw(rt, "graduation")}
	if t.Kind == procedure.Fixed {
		t.Min = fmt.Sprint(rapid.IntRange(1, top).Draw(rt, "value"))
		t.Max, t.Graduation = t.Min, ""
	}
	return t
}

func drawMarking(rt *rapid.T) string {
	low := rapid.IntRange(60, 150).Draw(rt, "low")
	high := low + rapid.IntRange(0, 60).Draw(rt, "width")
	switch rapid.IntRange(0, 3).Draw(rt, "form") {
	case 0:
		return fmt.Sprintf("%d.%d-%d.%d Nm", low/10, low%10, high/10, high%10)
	case 1:
		return fmt.Sprintf("%d-%d in-lb", low, high)
	case 2:
		return fmt.Sprintf("%d ± %d kgf.cm", low, (high-low)/2)
	}
	return fmt.Sprintf("max %d.%d Nm", high/10, high%10)
}

// TestWhatThePlanSetsTheBenchTakes plans one joint with any tool and any
// printed window. Where the plan offers a setting, pulls at it are evidence.
func TestWhatThePlanSetsTheBenchTakes(t *testing.T) {
	able := 0
	rapid.Check(t, func(rt *rapid.T) {
		tool := drawTool(rt)
		require.NoError(rt, tool.Check())
		s := sheet()
		s.Parts[1].Printed[0].Marking = drawMarking(rt)
		d := crank()
		d.Allowance = rapid.SampledFrom([]procedure.Allowance{procedure.AllowTool, procedure.AllowNone}).Draw(rt, "allowance")
		d.Steps[3].Torque.Passes = rapid.SampledFrom([][]int{{100}, {50, 100}, {30, 60, 100}}).Draw(rt, "passes")
		p, err := procedure.NewPlan(resolve(t, d), s, []procedure.Tool{tool}, monday, procedure.Policy{})
		require.NoError(rt, err)
		pinch, _ := p.Step("pinch")
		if p.Blocked() || !pinch.Torque.Choices[0].Can() {
			return
		}
		able++
		c := pinch.Torque.Choices[0]
		require.Len(rt, c.Passes, len(pinch.Torque.Passes))
		b := newBench(t)
		b.do("ana", procedure.OpenJob{Job: "crank", Plan: p})
		b.upToPinch()
		call := func() procedure.Call {
			k := b.call("ana")
			k.Tools = func(string) (*procedure.Tool, bool) { return &tool, true }
			return k
		}
		for _, f := range append(c.Passes, *c.Setting) {
			for _, bolt := range []string{"A", "B"} {
				r := procedure.TakeReading{Job: "crank", Step: "pinch", Bolt: bolt, Figure: f, Tool: "drawn"}
				e, err := b.build.Decide(r, call())
				require.NoError(rt, err)
				require.NoError(rt, b.build.Apply(e))
				jd := judgement(rt, e)
				require.True(rt, jd.Counts, "%v: %s", f, jd.Text)
				if jd.Pass == len(c.Passes)-1 {
					require.Equal(rt, verdictBy(c, e), jd.Verdict, "%v in %v", f, pinch.Torque.Window)
				}
			}
		}
		require.True(rt, step(t, b, "crank", "pinch").Group.Closed)
	})
	require.Positive(t, able)
	t.Logf("%d tools could", able)
}

// verdictBy is what the plan's own limits say of a reading.
func verdictBy(c procedure.ToolChoice, e procedure.Entry) procedure.Verdict {
	value := e.Payload.(procedure.ReadingTaken).Value
	switch {
	case c.Accept != nil && c.Accept.Contains(value):
		return procedure.Conforming
	case c.Possible != nil && c.Possible.Contains(value):
		return procedure.Undecided
	}
	return procedure.Nonconforming
}
