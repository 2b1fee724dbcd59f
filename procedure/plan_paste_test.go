package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"pgregory.net/rapid"
)

// clampBench is an invented clamp: paste (or not) goes between bar and stem in
// one step, and a later one tightens it.
func clampBench(face procedure.Prep, pasted []string) procedure.Definition {
	return procedure.Definition{
		ID: "clamp", Title: "Clamp", Edition: 1, Risk: procedure.SafetyCritical, Source: source(),
		Minutes: 20, LeastMinutes: 5, Roles: []string{"bar", "stem"},
		Steps: []procedure.Step{
			{ID: "faces", Title: "Prepare the faces", Do: "Wipe.", Why: "Grip.", Accept: "Even.", Parts: pasted,
				Prep:   &procedure.PrepRule{Face: []procedure.PrepChoice{{Use: face, Why: "grip"}}, Where: "bore"},
				Checks: []procedure.Check{{ID: "even", Kind: procedure.Look, Ask: "Even"}}},
			{ID: "tighten", Title: "Tighten", Do: "Pull.", Why: "Hold.", Accept: "It holds.", Parts: []string{"bar", "stem"},
				Prep:   &procedure.PrepRule{Thread: []procedure.PrepChoice{{Use: procedure.Grease, Why: "the figure assumes it"}}},
				Torque: &procedure.TorqueRule{Joints: []procedure.JointChoice{{Joint: "plate"}}, Bolts: []string{"1"}, Passes: []int{100}}},
		},
	}
}

func clampPlan(t require.TestingT, d procedure.Definition, bar, stem []procedure.PrintedFigure) (*procedure.Plan, *procedure.PlannedTorque) {
	r, err := procedure.Resolve(&d, []procedure.JointRow{{ID: "plate", Title: "Plate", Thread: "M5x0.8", Window: "4-6 N·m",
		Limits: []string{"bar", "stem"}, ThreadPrep: procedure.Grease, Risk: procedure.SafetyCritical, Source: source()}})
	require.NoError(t, err)
	sheet := &procedure.Sheet{Build: "b-9", Parts: []procedure.Part{
		{Role: "bar", Material: "carbon", Printed: bar}, {Role: "stem", Material: "alloy", Printed: stem}}}
	p, err := procedure.NewPlan(r, sheet, nil, monday, procedure.Policy{})
	require.NoError(t, err)
	step, ok := p.Step("tighten")
	require.True(t, ok)
	require.NotNil(t, step.Torque)
	return p, step.Torque
}

func plateFigure(marking string, less int) []procedure.PrintedFigure {
	return []procedure.PrintedFigure{{Joint: "plate", Marking: marking, Seen: procedure.Printed, Where: "beside the clamp", PasteLess: less}}
}

var both = []string{"bar", "stem"}

// The arithmetic is worked by hand: 5 N·m less 20 % is 4 N·m, and the table's
// least of 4 N·m less 20 % is 3.2 N·m.
func TestLessWithPasteOnlyWhereTheMakerAllowsIt(t *testing.T) {
	nm := func(tenths int64) torque.Torque { return torque.Torque(tenths) * torque.NewtonMeter / 10 }
	for _, tt := range []struct {
		name           string
		face           procedure.Prep
		pasted         []string
		bar, stem      []procedure.PrintedFigure
		low, high, aim torque.Torque
		says           string
	}{
		{"paste and allowed", procedure.CarbonPaste, both, plateFigure("5 N·m", 20), nil, nm(32), nm(50), nm(40), "the bar allows 20 % less with carbon paste (printed, beside the clamp)"},
		{"paste and nothing said", procedure.CarbonPaste, both, plateFigure("5 N·m", 0), nil, nm(40), nm(50), nm(45), ""},
		{"allowed and dry", procedure.Dry, both, plateFigure("5 N·m", 20), nil, nm(40), nm(50), nm(45), ""},
		{"paste on another face of the bar", procedure.CarbonPaste, []string{"bar", "lever"}, plateFigure("5 N·m", 20), nil, nm(40), nm(50), nm(45), ""},
		{"allowed by a part that does not govern", procedure.CarbonPaste, both, plateFigure("5.5 N·m", 20), plateFigure("5 N·m", 0), nm(40), nm(50), nm(45), ""},
		{"another maker's least stands", procedure.CarbonPaste, both, plateFigure("6 N·m", 20), plateFigure("4.5-8 N·m", 0), nm(45), nm(60), nm(48), "allows 20 % less"},
		{"another maker asks for more", procedure.CarbonPaste, both, plateFigure("5 N·m", 20), plateFigure("4.5-8 N·m", 0), nm(45), nm(50), nm(475) / 10, "so nothing is lowered"},
		{"its own least goes with it", procedure.CarbonPaste, both, plateFigure("5-6 N·m", 20), nil, nm(40), nm(60), nm(48), "allows 20 % less"},
		{"an aim below stays", procedure.CarbonPaste, both, plateFigure("8 N·m", 10), plateFigure("4-9 N·m", 0), nm(40), nm(80), nm(60), "allows 10 % less"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, pt := clampPlan(t, clampBench(tt.face, tt.pasted), tt.bar, tt.stem)
			low, _ := pt.Window.Min()
			high, _ := pt.Window.Max()
			require.Equal(t, []torque.Torque{tt.low, tt.high, tt.aim}, []torque.Torque{low, high, pt.Aim}, pt.Governs)
			require.Contains(t, pt.Governs, tt.says)
			if tt.says == "" {
				require.NotContains(t, pt.Governs, "paste")
			}
		})
	}
}

// The maximum never moves, the aim never rises, and without paste in the plan or
// without the maker's word nothing moves at all.
func TestPasteNeverRaises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(41, 90).Draw(t, "tenths")
		less := rapid.IntRange(0, 30).Draw(t, "less")
		stem := plateFigure(torque.Torque(rapid.Int64Range(41, 90).Draw(t, "stem")*int64(torque.NewtonMeter)/10).String(), rapid.IntRange(0, 30).Draw(t, "stem less"))
		marking := (torque.Torque(tenths) * torque.NewtonMeter / 10).String()
		face := rapid.SampledFrom([]procedure.Prep{procedure.Dry, procedure.CarbonPaste, procedure.Grease}).Draw(t, "face")
		_, plain := clampPlan(t, clampBench(procedure.Dry, both), plateFigure(marking, less), stem)
		_, got := clampPlan(t, clampBench(face, both), plateFigure(marking, less), stem)
		low, _ := got.Window.Min()
		high, _ := got.Window.Max()
		plainLow, _ := plain.Window.Min()
		plainHigh, _ := plain.Window.Max()
		require.Equal(t, plainHigh, high)
		require.LessOrEqual(t, got.Aim, plain.Aim)
		require.LessOrEqual(t, low, plainLow)
		require.True(t, got.Window.Contains(got.Aim))
		if face != procedure.CarbonPaste || less == 0 && stem[0].PasteLess == 0 {
			require.Equal(t, plain.Window, got.Window)
			require.Equal(t, plain.Aim, got.Aim)
			require.Equal(t, plain.Governs, got.Governs)
		}
	})
}

// What stands on a sheet is 1 to 30, and only where there is a maximum.
func TestPasteLessOnASheet(t *testing.T) {
	vocab := &procedure.Vocabulary{Materials: []string{"carbon"}, Roles: []procedure.PartRole{{Role: "bar", Title: "bar"}}}
	sheet := func(marking string, less int) *procedure.Sheet {
		return &procedure.Sheet{Parts: []procedure.Part{{Role: "bar", Material: "carbon", Printed: plateFigure(marking, less)}}}
	}
	for _, less := range []int{0, 1, 20, 30} {
		require.NoError(t, sheet("5 N·m", less).Normalize(vocab))
	}
	for _, tt := range []struct {
		marking string
		less    int
		rule    string
	}{{"5 N·m", -1, "out-of-range"}, {"5 N·m", 31, "out-of-range"}, {"min 5 N·m", 20, "no-maximum"}} {
		found := procedure.FieldErrors(sheet(tt.marking, tt.less).Normalize(vocab))
		require.Len(t, found, 1, tt.marking)
		require.Equal(t, tt.rule, found[0].Rule)
		require.Equal(t, "parts[0].printed[0].paste_less", found[0].Path)
	}
}
