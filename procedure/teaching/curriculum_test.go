package teaching_test

import (
	"encoding/json"
	"math/big"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/teaching"
)

func curriculum(t testing.TB, findings []audit.Finding, o teaching.Options) *teaching.Curriculum {
	t.Helper()
	c, err := teaching.New(builtIn(t), findings, o)
	require.NoError(t, err)
	return c
}

// place returns the number of the module that teaches a skill, 0 for none.
func place(c *teaching.Curriculum, skill string) int {
	for _, m := range c.Modules {
		if slices.ContainsFunc(m.Skills, func(s procedure.Skill) bool { return s.ID == skill }) {
			return m.Number
		}
	}
	return 0
}

func requireOrder(t require.TestingT, c *teaching.Curriculum, held []string) {
	done := map[string]bool{}
	for _, id := range held {
		done[id] = true
	}
	for i, m := range c.Modules {
		require.Equal(t, i+1, m.Number)
		require.NotEmpty(t, m.Skills)
		for _, s := range m.Skills {
			require.False(t, done[s.ID], "%s is taught twice, or is held", s.ID)
			for _, need := range s.Needs {
				require.True(t, done[need], "%s comes before %s", s.ID, need)
			}
			done[s.ID] = true
		}
	}
}

// The built-in procedures: every skill once, after what it builds on, with the
// hours of the skill list and a test for each.
func TestCurriculumOfTheCatalogue(t *testing.T) {
	skills := catalogueSkills(t)
	c := curriculum(t, nil, teaching.Options{Also: skills})
	requireOrder(t, c, nil)
	hours := new(big.Rat)
	for _, s := range skills {
		require.NotZero(t, place(c, s.ID), s.ID)
		hours.Add(hours, rat(s.Hours))
	}
	require.Equal(t, 0, hours.Cmp(rat(c.Hours)), "%v and %s", hours, c.Hours)
	asked := map[string]bool{}
	for _, m := range c.Modules {
		require.LessOrEqual(t, rat(m.Hours).Cmp(rat("8")), 0, "%s takes %s h", m.ID, m.Hours) // a wheel takes a day
		require.NotEmpty(t, m.Test.Tasks)
		require.NotEmpty(t, m.Questions, "%s asks nothing", m.ID)
		for i := range m.Questions {
			q := &m.Questions[i]
			require.False(t, asked[q.ID], "%s is asked twice", q.ID)
			asked[q.ID] = true
			requireSound(t, q)
		}
	}
	for skill, context := range map[string]string{"threads": teaching.Bench, "fit-frame": teaching.Bench, "fit-drivetrain": teaching.Bench,
		"cassette": "cassette", "group-tightening": teaching.Bench, "bottom-bracket": "bottom-bracket"} {
		require.Equal(t, context, c.Modules[place(c, skill)-1].Context, skill)
	}
	require.Less(t, place(c, "cranks"), place(c, "front-derailleurs"), "safety-critical work comes first where the order allows it")
	cranks := c.Modules[place(c, "cranks")-1]
	require.Equal(t, procedure.SafetyCritical, cranks.Risk)
	require.Equal(t, teaching.SafetyRuns, cranks.Test.Runs)
	require.NotEmpty(t, cranks.Test.Criteria)
	require.NotEmpty(t, cranks.Test.Fails)
	require.NotEmpty(t, cranks.LayOut.Parts)
	require.NotNil(t, cranks.Fault)
}

// A shop's findings bring the work they are about to the front, with its steps,
// its questions and the reason.
func TestFindingsComeFirst(t *testing.T) {
	found := []audit.Finding{
		{Rule: audit.RulePrep, Procedure: "cassette-splined-body", Step: "prepare-splines-and-thread", Status: audit.Reworked},
		{Rule: audit.RulePrep, Procedure: "cassette-splined-body", Step: "prepare-splines-and-thread", Status: audit.Open},
		{Rule: audit.RuleVoid, Procedure: "cassette-splined-body", Step: "fit-spacer", Status: audit.Open},
		{Rule: audit.RuleFromMemory, Procedure: "pedals", Step: "tighten-left", Note: true},
		{Rule: audit.RuleVoid, Procedure: "not-taught-here", Step: "x"},
	}
	c := curriculum(t, found, teaching.Options{Seed: 7})
	requireOrder(t, c, nil)
	require.Less(t, place(c, "cassette"), place(c, "cranks"))
	m := c.Modules[place(c, "cassette")-1]
	require.Contains(t, m.Why[0], "prep not as planned (2)")
	require.Len(t, m.Focus, 2)
	require.NotEmpty(t, m.Focus[0].Title)
	m.Focus[0].Title, m.Focus[1].Title = "", ""
	require.Equal(t, []teaching.Focus{
		{Procedure: "cassette-splined-body", Step: "prepare-splines-and-thread", Findings: 2, Why: "prep not as planned (2)"},
		{Procedure: "cassette-splined-body", Step: "fit-spacer", Findings: 1, Why: "void not retaken (1)"},
	}, m.Focus)
	require.Equal(t, teaching.PrepChoice, m.Questions[0].Kind)
	require.Equal(t, "prepare-splines-and-thread", m.Questions[0].Step)
	require.Contains(t, m.Questions[0].Why, "2 findings of this shop in this step")
	require.Equal(t, teaching.VoidMap, m.Questions[1].Kind)
	require.Equal(t, "prepare-splines-and-thread", m.Fault.Step)
	require.Equal(t, "2 findings of this shop in this step", m.Fault.Why)

	for _, w := range c.Modules[place(c, "pedals")-1].Why {
		require.NotContains(t, w, "this shop", "a note is no fault")
	}

	needs := map[string]bool{"cassette": true}
	for i := m.Number - 1; i >= 0; i-- {
		for k := len(c.Modules[i].Skills) - 1; k >= 0; k-- {
			taught := c.Modules[i].Skills[k]
			require.True(t, i == m.Number-1 || needs[taught.ID], "%s comes before cassette, which does not build on it", taught.ID)
			for _, need := range taught.Needs {
				needs[need] = needs[need] || needs[taught.ID]
			}
		}
	}

	plain := curriculum(t, nil, teaching.Options{Seed: 7})
	require.Less(t, place(c, "cassette"), place(plain, "cassette"))
}

// The stem says of the bike whatever decides the answer.
func TestPrepQuestionSaysWhatDecides(t *testing.T) {
	byID := map[string]teaching.Question{}
	for _, q := range ask(t, 1, teaching.PrepChoice) {
		byID[q.ID] = q
	}
	first := byID["prep-choice/stem-plate/prepare/thread-1"]
	require.Contains(t, first.Stem, "the material of the stem is titanium")
	require.Equal(t, "anti-seize", first.Answer)
	require.NotContains(t, byID["prep-choice/stem-plate/prepare/thread-3"].Options, "anti-seize", "it would do as well")
	last := byID["prep-choice/stem-plate/prepare/thread-3"]
	require.Contains(t, last.Stem, "the material of the stem is not titanium, not stainless")
	require.Equal(t, "grease", last.Answer)
	require.NotContains(t, byID, "prep-choice/stem-plate/prepare/thread-2", "an earlier choice always holds")
}

// Whatever is held and found, the order holds, nothing held is taught, and the
// same arguments give the same curriculum.
func TestCurriculumAlwaysHolds(t *testing.T) {
	procedures, skills := append(builtIn(t), pair(t)...), catalogueSkills(t)
	rapid.Check(t, func(rt *rapid.T) {
		o := teaching.Options{Seed: rapid.Uint64().Draw(rt, "seed"), Also: skills,
			Questions: rapid.IntRange(1, 8).Draw(rt, "questions"), ModuleHours: rapid.IntRange(1, 10).Draw(rt, "hours")}
		for _, s := range skills {
			if rapid.IntRange(0, 3).Draw(rt, "held") == 0 {
				o.Held = append(o.Held, s.ID)
			}
		}
		var found []audit.Finding
		for range rapid.IntRange(0, 4).Draw(rt, "findings") {
			p := rapid.SampledFrom(procedures).Draw(rt, "procedure")
			found = append(found, audit.Finding{Rule: rapid.SampledFrom(audit.Rules()).Draw(rt, "rule").Code, Procedure: p.ID,
				Step: rapid.SampledFrom(p.Steps).Draw(rt, "step").ID, Tool: rapid.SampledFrom([]string{"", "tw"}).Draw(rt, "tool")})
		}
		c, err := teaching.New(procedures, found, o)
		require.NoError(rt, err)
		requireOrder(rt, c, o.Held)
		again, err := teaching.New(procedures, found, o)
		require.NoError(rt, err)
		require.Equal(rt, c, again)
	})
}

func TestCurriculumRefuses(t *testing.T) {
	with := func(skills ...procedure.Skill) *procedure.Resolved {
		return &procedure.Resolved{Definition: procedure.Definition{ID: "p", Title: "p", Skills: skills}}
	}
	tests := []struct {
		name       string
		procedures []*procedure.Resolved
		options    teaching.Options
		rules      []string
		text       string
	}{
		{"a circle", []*procedure.Resolved{with(procedure.Skill{ID: "a", Needs: []string{"b"}}, procedure.Skill{ID: "b", Needs: []string{"c"}}, procedure.Skill{ID: "c", Needs: []string{"a"}})},
			teaching.Options{}, []string{"circular-needs"}, "a → b → c → a"},
		{"a need that nothing teaches", []*procedure.Resolved{with(procedure.Skill{ID: "a", Needs: []string{"z"}})}, teaching.Options{}, []string{"unknown-skill"}, `"z"`},
		{"one procedure twice", []*procedure.Resolved{with(), with()}, teaching.Options{}, []string{"duplicate-id"}, `"p"`},
		{"one skill in other words", []*procedure.Resolved{with(procedure.Skill{ID: "a", Title: "x"}), {Definition: procedure.Definition{ID: "q", Skills: []procedure.Skill{{ID: "a", Title: "y"}}}}},
			teaching.Options{}, []string{"skill-differs"}, `"x" and "y"`},
		{"options", []*procedure.Resolved{with()}, teaching.Options{Questions: -1, ModuleHours: 99, Held: []string{"nope"}, Tools: []procedure.Tool{{ID: "x"}}},
			[]string{"out-of-range", "out-of-range", "missing", "missing"}, "questions"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := teaching.New(tt.procedures, nil, tt.options)
			var rules []string
			for _, fe := range procedure.FieldErrors(err) {
				rules = append(rules, fe.Rule)
			}
			require.Subset(t, rules, tt.rules)
			require.ErrorContains(t, err, tt.text)
		})
	}
}

// Skills without a procedure, and a procedure without skills, are still taught.
func TestBareProcedure(t *testing.T) {
	p := pair(t)[1]
	p.Skills = nil
	c, err := teaching.New([]*procedure.Resolved{p}, nil, teaching.Options{Also: []procedure.Skill{{ID: "wrench-care", Title: "care", Hours: "1"}}})
	require.NoError(t, err)
	require.Len(t, c.Modules, 2)
	require.Equal(t, "lock a ring", c.Modules[0].Title)
	require.NotEmpty(t, c.Modules[0].Questions)
	require.Equal(t, "1", c.Hours)
}

// All kinds come once before one is repeated, and another seed asks otherwise.
func TestQuestionsAreSpread(t *testing.T) {
	procedures := append(builtIn(t), pair(t)...)
	n := len(teaching.Kinds())
	qs, err := teaching.Questions(procedures, nil, teaching.Options{Seed: 3}, n)
	require.NoError(t, err)
	kinds := map[teaching.Kind]bool{}
	for _, q := range qs {
		kinds[q.Kind] = true
	}
	require.Len(t, kinds, n)
	other, err := teaching.Questions(procedures, nil, teaching.Options{Seed: 4}, n)
	require.NoError(t, err)
	require.NotEqual(t, qs, other)

	all, err := teaching.Questions(procedures, nil, teaching.Options{}, 1_000_000)
	require.NoError(t, err)
	ids := map[string]bool{}
	for _, q := range all {
		require.False(t, ids[q.ID], q.ID)
		require.False(t, ids[q.Stem], q.Stem)
		ids[q.ID], ids[q.Stem] = true, true
	}
}

// The members that a caller reads have these names.
func TestQuestionAsJSON(t *testing.T) {
	q := ask(t, 1, teaching.Pulls)[0]
	data, err := json.Marshal(q)
	require.NoError(t, err)
	var m map[string]any
	require.NoError(t, json.Unmarshal(data, &m))
	for _, name := range []string{"id", "kind", "text", "options", "answer", "solution", "wrong", "given", "source", "caution"} {
		require.Contains(t, m, name)
	}
	c, err := teaching.New(pair(t), nil, teaching.Options{})
	require.NoError(t, err)
	data, err = json.Marshal(c)
	require.NoError(t, err)
	var back teaching.Curriculum
	require.NoError(t, json.Unmarshal(data, &back))
	require.Equal(t, *c, back)
}
