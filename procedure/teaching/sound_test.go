package teaching_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/teaching"
)

// allQuestions returns every question on the built-in procedures.
func allQuestions(t testing.TB) []teaching.Question {
	t.Helper()
	qs, err := teaching.Questions(builtIn(t), nil, teaching.Options{Seed: 5}, 1_000_000)
	require.NoError(t, err)
	return qs
}

// Every question that there is to ask is sound, not only those of a module.
func TestEveryQuestionIsSound(t *testing.T) {
	qs := allQuestions(t)
	require.Greater(t, len(qs), 1000)
	for i := range qs {
		requireSound(t, &qs[i])
	}
}

// A part is spoken of in words: the front axle, not axle-front.
func TestStemsHoldNoIDs(t *testing.T) {
	c, err := catalogue.Load()
	require.NoError(t, err)
	var ids []string
	for _, r := range c.Vocabulary.Roles {
		for _, a := range r.Attributes {
			ids = append(ids, r.Role+"."+a.Name)
		}
		for _, place := range r.Places {
			ids = append(ids, r.Role+"-"+place, r.Role+" "+place+" is")
		}
	}
	for _, p := range builtIn(t) {
		for i := range p.Steps {
			ids = append(ids, p.ID+"/"+p.Steps[i].ID)
		}
	}
	for _, q := range allQuestions(t) {
		for _, id := range ids {
			require.NotContains(t, q.Stem, id, q.ID)
		}
	}
}

// A mechanic who answers in good faith what does as well is not marked down
// (common practice, no source: anti-seize does what grease does; a thread with
// its own compound goes in dry).
func TestNoOptionDoesAsWell(t *testing.T) {
	asWell := map[string]string{
		procedure.Grease.Words():     procedure.AntiSeize.Words(),
		procedure.Dry.Words():        procedure.PreApplied.Words(),
		procedure.PreApplied.Words(): procedure.Dry.Words(),
	}
	asked := map[teaching.Kind]int{}
	for _, q := range allQuestions(t) {
		asked[q.Kind]++
		if q.Kind == teaching.PrepChoice {
			require.NotContains(t, q.Options, asWell[q.Answer], q.ID)
		}
		if q.Kind == teaching.BoltOrder {
			for _, w := range q.Wrong {
				require.False(t, facesPairs(w.Text, q.Answer), "%s: %s would close the parts evenly too", q.ID, w.Text)
			}
		}
	}
	require.NotZero(t, asked[teaching.PrepChoice])
	require.NotZero(t, asked[teaching.BoltOrder])
}

// facesPairs reports whether an order takes, two by two, the same pairs as
// another.
func facesPairs(order, other string) bool {
	a, b := strings.Split(order, ", "), strings.Split(other, ", ")
	partner := map[string]string{}
	for i := 0; i+1 < len(b); i += 2 {
		partner[b[i]], partner[b[i+1]] = b[i+1], b[i]
	}
	for i := 0; i+1 < len(a); i += 2 {
		if partner[a[i]] != a[i+1] {
			return false
		}
	}
	return true
}

// No wrench is set on a joint that is found by feel.
func TestNoSettingByFeel(t *testing.T) {
	byFeel := 0
	all := builtIn(t)
	for _, q := range allQuestions(t) {
		if q.Step == "" || q.Joint == "" {
			continue
		}
		if rule := stepOf(t, all, &q).Torque; rule != nil && rule.ByFeel {
			byFeel++
			require.Equal(t, teaching.LowestGoverns, q.Kind, q.ID)
		}
	}
	require.NotZero(t, byFeel)
}
