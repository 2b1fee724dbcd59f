package teaching

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// askPreps asks, for every choice of a prep rule, for the prep on a bike on
// which that choice holds.
func askPreps(at place) []candidate {
	rule := at.step.Prep
	if rule == nil {
		return nil
	}
	var out []candidate
	for _, s := range []surface{
		{"thread", "the thread", rule.Thread, rule.Face},
		{"face", "the contact face" + whereWords(rule.Where), rule.Face, rule.Thread},
	} {
		for i := range s.choices {
			out = append(out, at.candidate(PrepChoice, fmt.Sprintf("%s-%d", s.name, i+1), func(*dice) (Question, bool) { return prepChoice(at, s, i) }))
		}
	}
	return out
}

// A surface is one side of a prep rule, with the choices of the other side.
type surface struct {
	name, words    string
	choices, other []procedure.PrepChoice
}

// whereWords adds where the contact face is, if the rule says so.
func whereWords(where string) string {
	if where == "" {
		return ""
	}
	return " (" + where + ")"
}

// prepChoice asks for the prep on a bike for which the i-th choice is made.
func prepChoice(at place, s surface, i int) (Question, bool) {
	facts := bikeFor(s.choices, i)
	chosen, ok := procedure.Choose(s.choices, facts.look)
	if !ok || chosen.Why != s.choices[i].Why || chosen.Use != s.choices[i].Use {
		return Question{}, false // an earlier choice holds on every such bike
	}
	if facts.saysPrep() {
		return Question{}, false // the question would give its answer
	}
	q := Question{
		Stem:     fmt.Sprintf("%q%s What does the procedure put on %s?", at.step.Title, facts.words(), s.words),
		Answer:   chosen.Use.Words(),
		Solution: chosen.Why,
		Source:   at.source(), Caution: BenchFirst,
	}
	q.give("surface", s.name)
	for _, f := range facts {
		q.give(f.key, f.value)
	}
	wrong := func(use procedure.Prep, mistake string) {
		if isOtherwise(chosen.Use, use) {
			q.wrong(use.Words(), mistake)
		}
	}
	for _, use := range chosen.Never {
		wrong(use, "puts on what never goes there")
	}
	for _, c := range s.choices {
		wrong(c.Use, "takes the prep for other parts")
	}
	for _, c := range s.other {
		if chosen.Use != procedure.AntiSeize || c.Use != procedure.Grease {
			wrong(c.Use, "takes the prep of the other surface")
		}
	}
	if s.name == "face" {
		wrong(procedure.CarbonPaste, "takes paste wherever something is clamped")
	} else {
		wrong(procedure.ThreadlockerMedium, "locks every thread")
	}
	wrong(procedure.Dry, "leaves it as it came")
	if chosen.Use != procedure.AntiSeize { // it may do as well where no material speaks against it
		wrong(procedure.Grease, "greases by habit")
	}
	return q, len(q.Wrong) > 0
}

// isOtherwise reports whether a prep is wrong where another is right. Anti-seize
// does what grease does, and a thread that comes with its compound goes in dry:
// nobody is marked down for these.
func isOtherwise(right, use procedure.Prep) bool {
	alike := map[procedure.Prep]procedure.Prep{procedure.Grease: procedure.AntiSeize,
		procedure.Dry: procedure.PreApplied, procedure.PreApplied: procedure.Dry}
	return use != alike[right]
}

// A bikeFact is one thing that is known of the bike of a question; other means
// that it is none of the values listed.
type bikeFact struct {
	key, value string
	other      bool
}

// bikeFacts is what a question tells of its bike.
type bikeFacts []bikeFact

// bikeFor thinks of a bike for which the i-th choice is made: its own
// conditions hold, and what the earlier ones ask for is something else.
func bikeFor(choices []procedure.PrepChoice, i int) bikeFacts {
	var facts bikeFacts
	for _, key := range choices[i].When.Keys() {
		facts = append(facts, bikeFact{key: key, value: choices[i].When[key][0]})
	}
	for _, earlier := range choices[:i] {
		for _, key := range earlier.When.Keys() {
			facts = facts.without(key, earlier.When[key])
		}
	}
	return facts
}

// without adds that an attribute is none of the values, unless the bike says
// what it is.
func (f bikeFacts) without(key string, values []string) bikeFacts {
	i := slices.IndexFunc(f, func(x bikeFact) bool { return x.key == key })
	if i < 0 {
		return append(f, bikeFact{key: key, value: "not " + strings.Join(values, ", not "), other: true})
	}
	for _, v := range values {
		if f[i].other && !slices.Contains(strings.Split(f[i].value, ", "), "not "+v) {
			f[i].value += ", not " + v
		}
	}
	return f
}

// look answers conditions. What is only known not to be something is a value
// of its own, which no condition lists.
func (f bikeFacts) look(key string) (string, bool) {
	for _, x := range f {
		if x.key == key {
			return x.value, true
		}
	}
	return "", false
}

// words describes the bike, beginning after a title.
func (f bikeFacts) words() string {
	if len(f) == 0 {
		return ":"
	}
	var out []string
	for _, x := range f {
		out = append(out, factWords(x.key, x.value))
	}
	return ": " + strings.Join(out, ", ") + "."
}

// saysPrep reports whether an attribute of the bike names the prep itself, as
// the papers of a part do.
func (f bikeFacts) saysPrep() bool {
	return slices.ContainsFunc(f, func(x bikeFact) bool {
		return (strings.HasSuffix(x.key, "prep") || strings.HasSuffix(x.key, "compound")) && !x.other
	})
}
