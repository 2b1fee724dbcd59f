package catalogue_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	"pgregory.net/rapid"
)

func ask(t require.TestingT, c *procedure.Vocabulary, rule string, values map[string]string, ins *fit.Instrument) []fit.Result {
	a, err := procedure.AskFit(rule, values, c, ins)
	require.NoError(t, err)
	return a.Results
}

// Every question of every rule has a word in the vocabulary, so that a rider can
// be asked it, and says how to find the answer.
func TestEveryFitQuestionIsInTheVocabulary(t *testing.T) {
	vocab := load(t).Vocabulary
	for _, rule := range procedure.FitRules() {
		questions, ok := procedure.FitQuestions(rule, vocab)
		require.True(t, ok)
		require.True(t, questions[0].Required, rule)
		for _, q := range questions {
			require.NotEmpty(t, q.Part, "%s: %s", rule, q.Key)
			require.NotEmpty(t, q.Attribute.How, "%s: %s", rule, q.Key)
		}
	}
	_, ok := procedure.FitQuestions("wings", vocab)
	require.False(t, ok)
}

// The worked examples for derailleur and cassette give the same answer asked as a
// rider's question (testdata/vectors/fit_examples.csv names the source of each:
// common practice, no source).
func TestWorkedExamplesAsQuestions(t *testing.T) {
	file, err := os.Open("../../testdata/vectors/fit_examples.csv")
	require.NoError(t, err)
	defer func() { require.NoError(t, file.Close()) }()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	keys := map[string]map[string]string{
		"derailleur-capacity": {"marked": "rear-derailleur.capacity"},
		"largest-sprocket":    {"sprocket": "cassette.largest", "marked": "rear-derailleur.largest_sprocket", "extender": "hanger.extender_drop"},
		"body-length":         {"body": "freehub-body.length", "made for": "cassette.made_for_length", "own spacer": "cassette.own_spacer"},
	}
	vocab, asked := load(t).Vocabulary, 0
	for _, row := range rows[1:] {
		rule, known := row[1], keys[row[1]]
		if known == nil || row[2] == "stack" {
			continue
		}
		t.Run(row[0], func(t *testing.T) {
			values := map[string]string{}
			for pair := range strings.SplitSeq(row[3], "; ") {
				key, value, _ := strings.Cut(pair, "=")
				switch key {
				case "rings":
					values["crankset.largest_ring"], values["crankset.smallest_ring"], _ = strings.Cut(value, "/")
				case "sprockets":
					values["cassette.smallest"], values["cassette.largest"], _ = strings.Cut(value, "-")
				default:
					require.Contains(t, known, key)
					values[known[key]] = value
				}
			}
			got := ask(t, vocab, rule, values, nil)
			require.Len(t, got, 1)
			require.Equal(t, row[5], got[0].Verdict.String())
			if row[6] != "" {
				require.Equal(t, row[6], got[0].Margin.String())
			}
		})
		asked++
	}
	require.GreaterOrEqual(t, asked, 8)
}

// Common practice, no source: a hanger extender of about 2 cm helps the largest
// sprocket and never the capacity, so both limits are answered apart.
func TestExtenderHelpsTheSprocketOnly(t *testing.T) {
	vocab := load(t).Vocabulary
	rapid.Check(t, func(t *rapid.T) {
		drop := rapid.IntRange(0, 30).Draw(t, "drop")
		marked, largest := rapid.IntRange(25, 40).Draw(t, "marked"), rapid.IntRange(25, 50).Draw(t, "largest")
		plain := map[string]string{"cassette.largest": strconv.Itoa(largest), "rear-derailleur.largest_sprocket": strconv.Itoa(marked)}
		extended := map[string]string{"cassette.largest": strconv.Itoa(largest), "rear-derailleur.largest_sprocket": strconv.Itoa(marked), "hanger.extender_drop": strconv.Itoa(drop) + " mm"}
		a, b := ask(t, vocab, "largest-sprocket", plain, nil)[0], ask(t, vocab, "largest-sprocket", extended, nil)[0]
		require.LessOrEqual(t, b.Verdict, max(a.Verdict, fit.FitsWith))
	})
	_, err := procedure.AskFit("derailleur-capacity", map[string]string{"hanger.extender_drop": "20 mm"}, vocab, nil)
	require.ErrorContains(t, err, "hanger.extender_drop: the rule does not ask for this")
}

// Common practice, no source: a wider tyre is checked at fork, chainstays and
// seatstays, and each place can be the one that stops it.
func TestTireIsCheckedAtThreePlaces(t *testing.T) {
	vocab := load(t).Vocabulary
	rear := map[string]string{"tire-rear.nominal": "32 mm", "tire-rear.bead_seat": "622 mm", "rim-rear.bead_seat": "622 mm",
		"rim-rear.inner_width": "21 mm", "tire-rear.width": "32 mm", "frame.kind": "racing", "frame.gap_rear": "44 mm", "frame.gap_seatstays": "44 mm"}
	front := map[string]string{"tire-front.nominal": "32 mm", "tire-front.bead_seat": "622 mm", "rim-front.bead_seat": "622 mm",
		"rim-front.inner_width": "21 mm", "tire-front.width": "32 mm", "frame.kind": "racing", "fork.gap": "44 mm"}
	verdicts := func(rule string, values map[string]string) map[string]fit.Verdict {
		out := map[string]fit.Verdict{}
		for _, r := range ask(t, vocab, rule, values, nil) {
			out[r.Check] = r.Verdict
		}
		return out
	}
	require.Equal(t, map[string]fit.Verdict{"bead seat": fit.Fits, "chainstays": fit.Fits, "seatstays": fit.Fits}, verdicts("tire-rear", rear))
	require.Equal(t, map[string]fit.Verdict{"bead seat": fit.Fits, "fork legs": fit.Fits}, verdicts("tire-front", front))
	for key, check := range map[string]string{"frame.gap_rear": "chainstays", "frame.gap_seatstays": "seatstays"} {
		narrow := map[string]string{}
		for k, v := range rear {
			narrow[k] = v
		}
		narrow[key] = "36 mm"
		got := verdicts("tire-rear", narrow)
		require.Equal(t, fit.DoesNotFit, got[check])
	}
}

// Whatever is measured with, a margin below its error is never a plain fit, and a
// coarser instrument never answers better.
func TestInstrumentDecidesWhatCanBeTold(t *testing.T) {
	vocab := load(t).Vocabulary
	rapid.Check(t, func(t *rapid.T) {
		post := fit.Length(rapid.Int64Range(26_800, 27_300).Draw(t, "post")) * fit.Micrometer
		values := map[string]string{"seatpost.shape": "round", "seatpost.diameter": post.String(), "frame.seat_tube_inner": "27.2 mm"}
		before := fit.NotChecked
		for _, m := range []fit.Instrument{fit.BoreGauge(), fit.CarefulCaliper(), fit.Caliper(), fit.SteelRule(), fit.Tape()} {
			r := ask(t, vocab, "seatpost", values, &m)[0]
			require.Equal(t, m, r.Instrument)
			if r.Verdict == fit.Fits {
				require.GreaterOrEqual(t, r.Margin.Length, m.Error)
			}
			if before != fit.NotChecked && before != fit.DoesNotFit {
				require.GreaterOrEqual(t, r.Verdict, before)
			}
			before = r.Verdict
		}
	})
}

func TestMistakesInAQuestion(t *testing.T) {
	vocab := load(t).Vocabulary
	for _, tt := range []struct {
		name, rule string
		values     map[string]string
		want       []string
	}{
		{"rule", "body-lengt", nil, []string{"rule unknown-rule"}},
		{"nothing given", "body-length", nil, []string{"freehub-body.length missing", "cassette.made_for_length missing"}},
		{"no unit", "body-length", map[string]string{"freehub-body.length": "36.75", "cassette.made_for_length": "34.9 mm"}, []string{"freehub-body.length malformed-length"}},
		{"not asked", "body-length", map[string]string{"freehub-body.length": "36.75 mm", "cassette.made_for_length": "34.9 mm", "stem.bolts": "x"}, []string{"stem.bolts unknown-attribute"}},
		{"choice", "lever-pull-front", map[string]string{"caliper-front.kind": "drum"}, []string{"caliper-front.kind unknown-choice"}},
		{"needed for this kind", "axle-rear", map[string]string{"hub-rear.axle_fixing": "thru-axle", "hub-rear.width": "142 mm", "frame.axle_width": "142 mm"},
			[]string{"axle-rear.thread missing", "frame.axle_thread missing"}},
		{"absurd", "body-length", map[string]string{"freehub-body.length": "900 mm", "cassette.made_for_length": "34.9 mm"}, []string{" range"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := procedure.AskFit(tt.rule, tt.values, vocab, nil)
			require.Equal(t, tt.want, rulesOf(err), err)
		})
	}
}

// On a whole bike every rule answers or says what it lacks, and an empty sheet
// lacks everything.
func TestSheetFit(t *testing.T) {
	c := load(t)
	const file = "../../testdata/sheets/whole-road.yaml"
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	sheet, err := procedure.ReadSheet(file, data, c.Vocabulary)
	require.NoError(t, err)
	answers := procedure.AskSheetFit(sheet, nil)
	require.Len(t, answers, len(procedure.FitRules()))
	asked := 0
	for _, a := range answers {
		require.Empty(t, a.Problem, a.Rule)
		if len(a.Results) > 0 {
			require.Empty(t, a.Missing)
			asked++
		}
	}
	require.Greater(t, asked, len(answers)/2)
	for _, a := range procedure.AskSheetFit(&procedure.Sheet{}, nil) {
		require.NotEmpty(t, a.Missing, a.Rule)
		require.Equal(t, fit.NotChecked, a.Verdict())
	}
}

func TestDiscChangeInWordsOfTheSheet(t *testing.T) {
	ready := procedure.DiscEnd{Mount: "flat", Caliper: "flat", CaliperBy: "mineral-oil", RotorSeat: "six-bolt", Rotor: "six-bolt", LeverBy: "mineral-oil"}
	needs, err := procedure.AskDiscChange(ready, ready)
	require.NoError(t, err)
	for _, n := range needs {
		require.True(t, n.IsPresent(), n.Part)
	}
	_, err = procedure.AskDiscChange(procedure.DiscEnd{}, procedure.DiscEnd{Mount: "post", Caliper: "flat", LeverBy: "rope"})
	require.Equal(t, []string{"front.mount missing", "rear.lever_by unknown-choice", "rear.caliper_by missing"}, rulesOf(err))
}
