package teaching_test

import (
	"fmt"
	"math/big"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/procedure/teaching"
	"github.com/tightwright/tightwright/torque"
)

// Each row of teaching_questions.csv names where its answer comes from; the
// functions and questions that give answers are held against it.
func TestAnswersOfVectors(t *testing.T) {
	for _, row := range readCSV(t, "teaching_questions.csv") {
		t.Run(row["id"], func(t *testing.T) {
			answer, ok := answers[row["quantity"]]
			require.True(t, ok, row["quantity"])
			require.Equal(t, row["expected"], answer(t, row))
		})
	}
}

var answers = map[string]func(t testing.TB, row map[string]string) string{
	"convert": func(t testing.TB, row map[string]string) string {
		t.Helper()
		from, err := torque.ParseUnit(row["b"])
		require.NoError(t, err)
		to, err := torque.ParseUnit(row["c"])
		require.NoError(t, err)
		e, err := torque.Convert(row["a"], from, to)
		require.NoError(t, err)
		return e.RoundPlaces(places(t, row))
	},
	"lowest-setting": func(t testing.TB, row map[string]string) string {
		t.Helper()
		tool := setting(row["a"], row["b"], "")
		return question(t, oneJoint(t, "5 N·m to 6 N·m", ""), teaching.LowestSetting, tool).Answer
	},
	"delivered": func(t testing.TB, row map[string]string) string {
		t.Helper()
		return deliveredQuestion(t, row).Answer
	},
	"delivered-of-set": func(t testing.TB, row map[string]string) string {
		t.Helper()
		for _, w := range deliveredQuestion(t, row).Wrong {
			if w.Mistake == "counts the deviation from the set value" {
				return w.Text
			}
		}
		return ""
	},
	"highest-aim": func(t testing.TB, row map[string]string) string {
		t.Helper()
		return highestOf(t, row, "")
	},
	"highest-aim-of-set": func(t testing.TB, row map[string]string) string {
		t.Helper()
		return highestOf(t, row, "takes the deviation as a part of the set value")
	},
	"worst": func(t testing.TB, row map[string]string) string {
		t.Helper()
		return worstOf(t, row)
	},
	"deviation": func(t testing.TB, row map[string]string) string {
		t.Helper()
		// The question draws a factor; its answer is held against the row of the
		// same factor.
		factor := new(big.Rat).Quo(rat(row["b"]), rat(row["a"])).FloatString(2)
		for seed := range uint64(200) {
			qs, err := teaching.Questions(oneJoint(t, "4 N·m to 6 N·m", row["a"]+" N·m"), nil, teaching.Options{Seed: seed}, 1000)
			require.NoError(t, err)
			for _, q := range qs {
				if q.Kind == teaching.Deviation && given(q, "delivered") == new(big.Rat).Mul(rat(row["a"]), rat(factor)).FloatString(2)+" N·m" {
					return q.Answer
				}
			}
		}
		return ""
	},
	"spacer": func(t testing.TB, row map[string]string) string {
		t.Helper()
		total, ok := teaching.SpacersFor(length(t, row["a"]), length(t, row["b"]), length(t, row["c"]))
		require.True(t, ok)
		return total.String()
	},
	"shell-spacers": func(t testing.TB, row map[string]string) string {
		t.Helper()
		count, _, ok := teaching.ShellSpacersFor(length(t, row["a"]), length(t, row["b"]))
		require.True(t, ok)
		return count
	},
	"pulls": func(t testing.TB, row map[string]string) string {
		t.Helper()
		var n [3]int
		for i, column := range []string{"a", "b", "c"} {
			v, err := strconv.Atoi(row[column])
			require.NoError(t, err)
			n[i] = v
		}
		return fmt.Sprint(teaching.PullCount(n[0], n[1], n[2]))
	},
	"release": func(t testing.TB, row map[string]string) string {
		t.Helper()
		length, err := time.ParseDuration(row["a"])
		require.NoError(t, err)
		w := procedure.Wait{For: procedure.Duration(length)}
		prep := procedure.PrepDone{Metal: "steel"}
		if row["b"] != "" {
			times, err := strconv.Atoi(row["b"])
			require.NoError(t, err)
			celsius, err := strconv.Atoi(row["c"])
			require.NoError(t, err)
			below := celsius + 5
			w.Longer = []procedure.Longer{{BelowCelsius: &below, Times: times}}
			prep.Celsius = &celsius
		}
		return fmt.Sprintf("%dh", w.Least(prep)/time.Hour)
	},
}

func places(t testing.TB, row map[string]string) int {
	t.Helper()
	n, err := strconv.Atoi(row["places"])
	require.NoError(t, err)
	return n
}

func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return new(big.Rat)
	}
	return r
}

func length(t testing.TB, text string) fit.Length {
	t.Helper()
	l, err := fit.ParseLength(text)
	require.NoError(t, err)
	return l
}

// setting is a setting tool held to a deviation in percent.
func setting(low, high, percent string) procedure.Tool {
	at := practiceDay
	return procedure.Tool{ID: "tool", Kind: procedure.Setting, Unit: torque.NewtonMeters, Min: low, Max: high, Graduation: "0.01",
		Calibrations: []procedure.Calibration{{At: at.AddDate(0, -1, 0), Due: at.AddDate(1, 0, 0), Hands: bothHands, DeviationPercent: percent}}}
}

// oneJoint is a procedure with one bolt.
func oneJoint(t testing.TB, window, aim string) []*procedure.Resolved {
	t.Helper()
	def := &procedure.Definition{ID: "one", Title: "one bolt", Risk: procedure.SafetyCritical, Skills: []procedure.Skill{{ID: "one", Title: "one"}},
		Steps: []procedure.Step{{ID: "bolt", Title: "the bolt", Torque: &procedure.TorqueRule{Bolts: []string{"A"}, Passes: []int{100},
			Joints: []procedure.JointChoice{{Joint: "row"}}}}}}
	r, err := procedure.Resolve(def, []procedure.JointRow{{ID: "row", Title: "joint", Thread: "M6x1", Window: window, Aim: aim,
		Source: procedure.Source{Text: "the row of the vector", Confidence: procedure.Documented}}})
	require.NoError(t, err)
	return []*procedure.Resolved{r}
}

// question returns the first question of a kind that one tool gives rise to.
func question(t testing.TB, procedures []*procedure.Resolved, kind teaching.Kind, tool procedure.Tool) teaching.Question {
	t.Helper()
	qs, err := teaching.Questions(procedures, nil, teaching.Options{Tools: []procedure.Tool{tool}, At: practiceDay}, 1000)
	require.NoError(t, err)
	for _, q := range qs {
		if q.Kind == kind {
			return q
		}
	}
	require.Fail(t, "no question of kind "+string(kind))
	return teaching.Question{}
}

func deliveredQuestion(t testing.TB, row map[string]string) teaching.Question {
	t.Helper()
	aim := row["a"] + " N·m"
	window := fmt.Sprintf("%s N·m to %s N·m", new(big.Rat).Mul(rat(row["a"]), rat("0.8")).FloatString(1), new(big.Rat).Mul(rat(row["a"]), rat("1.2")).FloatString(1))
	return question(t, oneJoint(t, window, aim), teaching.DeliveredRange, setting("1", new(big.Rat).Mul(rat(row["a"]), rat("2")).FloatString(0), row["b"]))
}

// highestOf returns the upper end of the settings that a question gives as its
// answer, or as the wrong answer of a mistake.
func highestOf(t testing.TB, row map[string]string, mistake string) string {
	t.Helper()
	q := question(t, oneJoint(t, "1 N·m to "+row["a"]+" N·m", "4 N·m"), teaching.SettingRange, setting("1", "10", row["b"]))
	text := q.Answer
	for _, w := range q.Wrong {
		if w.Mistake == mistake {
			text = w.Text
		}
	}
	var low, high string
	_, err := fmt.Sscanf(text, "%s N·m to %s N·m", &low, &high)
	require.NoError(t, err, text)
	return high
}

// worstOf finds the question of the row's factor, by drawing seeds.
func worstOf(t testing.TB, row map[string]string) string {
	t.Helper()
	for seed := range uint64(200) {
		qs, err := teaching.Questions(oneJoint(t, row["c"], row["a"]+" N·m"), nil, teaching.Options{Seed: seed}, 1000)
		require.NoError(t, err)
		for _, q := range qs {
			if q.Kind == teaching.WorstCase && given(q, "factor") == row["b"] {
				return q.Answer
			}
		}
	}
	return ""
}

func given(q teaching.Question, name string) string {
	for _, g := range q.Given {
		if g.Name == name {
			return g.Value
		}
	}
	return ""
}
