package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
)

// Every flag stands for attributes that its rules ask for, in the form the
// vocabulary has, and names every word that may be chosen; every attribute that a
// rule cannot do without has a flag.
func TestFitQuestionsAskWhatTheRulesWant(t *testing.T) {
	vocab, err := fitVocabulary()
	require.NoError(t, err)
	for _, q := range fitQuestions() {
		for _, place := range []string{"front", "rear"} {
			t.Run(q.name+" "+place, func(t *testing.T) {
				given := map[string]fitField{}
				for _, f := range q.fields {
					for _, keys := range f.keys {
						for _, key := range strings.Split(at(keys, place), "|") {
							given[key] = f
						}
					}
				}
				wanted := map[string]bool{}
				for _, ask := range q.asks {
					questions, ok := procedure.FitQuestions(at(ask.rule, place), vocab)
					require.True(t, ok, ask.rule)
					for _, asked := range questions {
						wanted[asked.Key] = true
						f, known := given[asked.Key]
						require.True(t, known || !asked.Required, "%s has no flag", asked.Key)
						if known && !f.hidden {
							requireSameForm(t, f, asked.Attribute)
						}
					}
				}
				for key, f := range given {
					require.True(t, wanted[key], "%s of --%s is asked by no rule", key, f.flag)
				}
			})
		}
	}
}

func requireSameForm(t *testing.T, f fitField, a procedure.PartAttribute) {
	t.Helper()
	switch a.Form {
	case "length":
		require.True(t, f.form == inMM || f.pair, f.flag)
	case "thread":
		require.Equal(t, aThread, f.form, f.flag)
	case "choice":
		if !strings.Contains(f.about, "one of") { // the flag before it names them
			for _, word := range a.Choices {
				isOther := f.flag == "kind" && strings.HasPrefix(word, "disc-") // rim-brake is about rim brakes
				require.True(t, isOther || strings.Contains(f.about, word), "%s does not name %s", f.flag, word)
			}
		}
	}
}

// Every rule has a question, but those about wear and spokes that a rider does not
// ask, and the disc brake, which has one of its own.
func TestEveryFitRuleHasAQuestion(t *testing.T) {
	var asked []string
	for _, q := range fitQuestions() {
		for _, a := range q.asks {
			for _, place := range []string{"front", "rear"} {
				asked = append(asked, at(a.rule, place))
			}
		}
	}
	for _, rule := range procedure.FitRules() {
		if !strings.HasPrefix(rule, "spoke-limit-") {
			require.True(t, slices.Contains(asked, rule), rule)
		}
	}
}

// The examples of the help are questions that can be asked.
func TestFitExamplesAnswer(t *testing.T) {
	t.Chdir("../..")
	for _, c := range commands(t) {
		if !strings.HasPrefix(c.CommandPath(), "tightwright fit ") {
			continue
		}
		for line := range strings.Lines(c.Example) {
			args, ok := readmeArgs(strings.ReplaceAll(strings.TrimSpace(line), "'", `"`))
			require.True(t, ok, line)
			if strings.Contains(line, "<") || strings.Contains(line, "bike.yaml") {
				continue
			}
			got := tightwright(t, "", args...)
			require.Contains(t, []int{codeOK, codeFinding}, got.code, "%s%s", line, got.stderr)
			require.NotEmpty(t, got.stdout)
			require.Empty(t, got.stderr)
		}
	}
}

// Common practice, no source: an extender helps the largest sprocket and not the
// capacity.
func TestExtenderOnTheCommandLine(t *testing.T) {
	ask := func(args ...string) []any {
		got := tightwright(t, "", append([]string{"fit", "derailleur", "--json", "--rings", "50/34", "--sprockets", "11-40", "--largest", "36"}, args...)...)
		return answers(t, got.stdout)[0]["results"].([]any)
	}
	verdict := func(r any) any { return r.(map[string]any)["verdict"] }
	without, with := ask("--capacity", "40"), ask("--capacity", "40", "--extender", "20")
	require.Equal(t, "does not fit", verdict(without[0]))
	require.Equal(t, without[0], with[0])
	require.Equal(t, "does not fit", verdict(without[1]))
	require.Equal(t, "fits with", verdict(with[1]))
}
