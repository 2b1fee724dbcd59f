package wrench_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// rack is an invented rack, all good on monday in both directions unless the
// name says otherwise.
func rack(tb testing.TB) []*wrench.Wrench {
	tb.Helper()
	both := []wrench.Direction{{Hand: joint.RightHand}, {Hand: joint.LeftHand}}
	good := func() *wrench.Calibration { return &wrench.Calibration{At: lastYear, Directions: both} }
	descriptions := []wrench.Description{
		{ID: "coarse", Kind: wrench.Setting, Min: "10", Max: "60", Graduation: "1", Calibration: good()},
		{ID: "fine-near-its-end", Kind: wrench.Setting, Min: "3", Max: "13", Graduation: "0.1", Calibration: good()},
		{ID: "fine-in-the-middle", Kind: wrench.Setting, Min: "4", Max: "21", Graduation: "0.1", Calibration: good()},
		{ID: "fine-and-better", Kind: wrench.Setting, Min: "4", Max: "21", Graduation: "0.1", DeviationPercent: "2", Calibration: good()},
		{ID: "fixed", Kind: wrench.Fixed, Min: "12.8", Max: "12.8", Calibration: good()},
		{ID: "fixed-elsewhere", Kind: wrench.Fixed, Min: "5", Max: "5", Calibration: good()},
		{ID: "never", Kind: wrench.Setting, Min: "4", Max: "21", Graduation: "0.1"},
		{ID: "overdue", Kind: wrench.Setting, Min: "4", Max: "21", Graduation: "0.1",
			Calibration: &wrench.Calibration{At: lastYear, Due: monday, Directions: both}},
		{ID: "tomorrow", Kind: wrench.Setting, Min: "4", Max: "21", Graduation: "0.1",
			Calibration: &wrench.Calibration{At: monday.Add(time.Second), Directions: both}},
		{ID: "right-only", Kind: wrench.Indicating, Min: "0", Max: "20", Graduation: "0.01",
			Calibration: &wrench.Calibration{At: lastYear, Directions: both[:1]}},
		{ID: "drifted", Kind: wrench.Setting, Min: "4", Max: "21", Graduation: "0.1",
			Calibration: &wrench.Calibration{At: lastYear, Directions: []wrench.Direction{{Hand: joint.LeftHand, DeviationPercent: "-6.5421"}}}},
		{ID: "large-and-overdue", Kind: wrench.Setting, Min: "80", Max: "400", Graduation: "5",
			Calibration: &wrench.Calibration{At: lastYear, Due: lastYear.AddDate(0, 1, 0), Directions: both}},
	}
	tools := []*wrench.Wrench{nil}
	for _, d := range descriptions {
		tools = append(tools, tool(tb, d))
	}
	return tools
}

func TestRank(t *testing.T) {
	task := wrench.Task{Window: window(t, "12", "14"), Aim: 13 * torque.NewtonMeter, Hand: joint.LeftHand, At: monday}
	var got []string
	for _, r := range wrench.Rank(rack(t), task) {
		line := r.Tool + ":"
		if r.Able {
			line += " " + r.Choice.Mark.String()
		}
		for _, reason := range r.Reasons {
			line += " " + reason.Rule
			require.NotEmpty(t, reason.Error())
		}
		got = append(got, line)
	}
	require.Equal(t, []string{
		"fixed: 12.8 N·m",
		"fine-and-better: 13.0 N·m",
		"fine-in-the-middle: 13.0 N·m",
		"fine-near-its-end: 13.0 N·m",
		"coarse: 13 N·m",
		"fixed-elsewhere: tool-out-of-range",
		"never: tool-never-calibrated",
		"overdue: tool-overdue",
		"tomorrow: tool-never-calibrated",
		"right-only: tool-not-calibrated-in-this-direction",
		"drifted: tool-out-of-tolerance",
		"large-and-overdue: tool-overdue tool-out-of-range",
	}, got)
}

func TestRankTellsReasonsInWords(t *testing.T) {
	task := wrench.Task{Window: window(t, "12", "14"), Hand: joint.LeftHand, At: monday}
	var text []string
	for _, r := range wrench.Rank(rack(t), task) {
		for _, reason := range r.Reasons {
			text = append(text, reason.Error())
		}
	}
	require.Equal(t, strings.Split(strings.TrimSpace(`
fixed-elsewhere is used from 5 N·m to 5 N·m: at 5 N·m the joint may get only 4.717 N·m, 7.283 N·m under the minimum
never has no calibration on record by then: take another tool
overdue was due for calibration on 2025-03-03: take another tool
tomorrow has no calibration on record by then: take another tool
right-only was not calibrated in the left-hand direction: take one that was
drifted was found -6.5421 % off, permitted is 4 %: take another tool
large-and-overdue was due for calibration on 2024-05-03: take another tool
large-and-overdue is used from 80 N·m to 400 N·m: at 80 N·m the joint may get 83.333 N·m, 69.333 N·m over the maximum
`), "\n"), text)
}

func TestRankedJSON(t *testing.T) {
	task := wrench.Task{Window: window(t, "12", "14"), Aim: 13 * torque.NewtonMeter, Hand: joint.RightHand, At: monday}
	ranked := wrench.Rank([]*wrench.Wrench{rack(t)[3], rack(t)[6]}, task)
	text, err := json.Marshal(ranked)
	require.NoError(t, err)
	require.JSONEq(t, `[
		{"tool":"fine-in-the-middle","able":true,"graduation":"0.1 N.m","share":0.6190476190476191,"margin":"0.458333333 N.m",
		 "choice":{"mark":{"value":"13.0","unit":"N.m"},"setting":"13 N.m","settings":{"min":"12.48 N.m","max":"13.44 N.m"},
		           "least":"12.5 N.m","most":"13.541666667 N.m","deviation_percent":"4"}},
		{"tool":"fixed-elsewhere","able":false,"graduation":"0 N.m","share":0,"margin":"0 N.m",
		 "reasons":[{"rule":"tool-out-of-range","text":"fixed-elsewhere is used from 5 N·m to 5 N·m: at 5 N·m the joint may get only 4.717 N·m, 7.283 N·m under the minimum",
		             "nearest":{"value":"5","unit":"N.m"},"side":"too-low","by":"7.283018868 N.m"}]}
	]`, string(text))
}

func TestRankWithoutALimit(t *testing.T) {
	ranked := wrench.Rank(rack(t), wrench.Task{Hand: joint.RightHand, At: monday})
	require.Len(t, ranked, 12)
	for _, r := range ranked {
		last := r.Reasons[len(r.Reasons)-1]
		require.Equal(t, wrench.RuleNoLimit, last.Rule)
		require.Contains(t, last.Error(), "no maximum is known")
	}
	require.Empty(t, wrench.Rank(nil, wrench.Task{}))
}

// Whatever the rack: all tools come back once, the able ones first and in the
// order that the keys give, and each says what it says when asked alone.
func TestRankOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var tools []*wrench.Wrench
		for i := range rapid.IntRange(0, 8).Draw(t, "tools") {
			top := rapid.Int64Range(5, 60).Draw(t, "top")
			w, err := wrench.New(wrench.Description{ID: decimal(int64(i), 0), Kind: wrench.Setting, Min: "1", Max: decimal(top, 0),
				Graduation:       rapid.SampledFrom([]string{"0.1", "0.10", "0.5", "1"}).Draw(t, "graduation"),
				DeviationPercent: rapid.SampledFrom([]string{"1", "4", "6"}).Draw(t, "deviation"),
				Calibration: &wrench.Calibration{At: rapid.SampledFrom([]time.Time{lastYear, monday.AddDate(0, 0, 1)}).Draw(t, "at"),
					Directions: []wrench.Direction{{Hand: joint.RightHand}}}})
			require.NoError(t, err)
			tools = append(tools, w)
		}
		low := torque.Torque(rapid.Int64Range(1, 50).Draw(t, "low")) * torque.NewtonMeter
		limits, err := torque.NewWindow(low, low+5*torque.NewtonMeter)
		require.NoError(t, err)
		task := wrench.Task{Window: limits, Hand: joint.RightHand, At: monday}
		ranked := wrench.Rank(tools, task)
		require.Len(t, ranked, len(tools))
		seen := map[string]bool{}
		for i, r := range ranked {
			seen[r.Tool] = true
			require.Equal(t, r.Able, len(r.Reasons) == 0)
			alone, err := r.Wrench.Choose(limits, 0, wrench.AllowTool)
			require.Equal(t, r.Able, err == nil && len(r.Wrench.Faults(0, joint.RightHand, monday)) == 0)
			if r.Able {
				require.Equal(t, alone, r.Choice)
				require.GreaterOrEqual(t, r.Margin, torque.Torque(0))
			}
			if i > 0 && r.Able {
				require.True(t, ranked[i-1].Able)
				require.LessOrEqual(t, ranked[i-1].Graduation, r.Graduation)
			}
		}
		require.Len(t, seen, len(tools))
	})
}

func TestFaultsOfAReading(t *testing.T) {
	w := rack(t)[3]
	require.Empty(t, w.Faults(13*torque.NewtonMeter, joint.RightHand, monday))
	faults := w.Faults(4100*torque.MillinewtonMeter, 9, monday)
	require.Len(t, faults, 2)
	require.Equal(t, wrench.RuleDirection, faults[0].Rule)
	require.EqualError(t, faults[1], "fine-in-the-middle is used from 4.2 N·m to 21 N·m: 4.1 N·m is outside")
	unnamed := tool(t, wrench.Description{Kind: wrench.Fixed, Min: "5", Max: "5"})
	require.EqualError(t, unnamed.Faults(0, 0, monday)[0], "the tool has no calibration on record by then: take another tool")
}
