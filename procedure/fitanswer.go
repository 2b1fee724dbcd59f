package procedure

import (
	"errors"
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// A FitAnswer is what one fit rule comes to, outside any plan.
type FitAnswer struct {
	Rule    string
	Results []fit.Result // none where the rule has nothing to ask of these parts
	// Missing are the keys, role.attribute, that the rule lacks.
	Missing []string
	// Problem says why the rule could not be asked where a value is one that it
	// refuses; empty otherwise.
	Problem string
}

// Verdict is the worst of the results.
func (a FitAnswer) Verdict() fit.Verdict { return fit.Worst(a.Results...) }

// A FitQuestion is one thing that a fit rule wants to know.
type FitQuestion struct {
	Key       string // role.attribute
	Part      string // what a mechanic calls the part
	Required  bool   // the rule cannot do without
	Attribute PartAttribute
}

// FitQuestions lists what a rule wants to know, in the words of the vocabulary,
// those it cannot do without first; false for a rule that does not exist.
func FitQuestions(rule string, vocab *Vocabulary) ([]FitQuestion, bool) {
	r, ok := fitRules()[rule]
	if !ok {
		return nil, false
	}
	var out []FitQuestion
	for i, key := range slices.Concat(r.needs, r.may) {
		q := FitQuestion{Key: key, Required: i < len(r.needs)}
		if role, _, ok := cutLast(key); ok {
			if entry, ok := vocab.Role(role); ok {
				q.Part = entry.Title
			}
		}
		if a, ok := vocab.Attribute(key); ok {
			q.Attribute = *a
		}
		out = append(out, q)
	}
	return out, true
}

// AskFit asks one rule about a few values by key, each in the form that the
// vocabulary gives its attribute. measuredWith is what the lengths were taken
// with, nil for what the rule usually goes by; what is counted, gauged or read
// keeps its own.
//
// Every mistake is a FieldError: its path is the key of a value, "rule" for a
// rule that does not exist, or empty where the values do not go together.
func AskFit(rule string, values map[string]string, vocab *Vocabulary, measuredWith *fit.Instrument) (FitAnswer, error) {
	var p problems
	r, ok := fitRules()[rule]
	if !ok {
		p.add("rule", "unknown-rule", "there is no fit rule %.60q%s", rule, meant(rule, FitRules()))
		return FitAnswer{}, p.err()
	}
	sheet := p.looseSheet(values, r, vocab)
	for _, key := range r.needs {
		if values[key] == "" {
			p.lacks(rule, key, vocab)
		}
	}
	if err := p.err(); err != nil {
		return FitAnswer{}, err
	}
	answer, err := r.ask(rule, sheet, measuredWith)
	for _, key := range answer.Missing {
		p.lacks(rule, key, vocab)
	}
	if len(answer.Missing) == 0 && err != nil {
		p.refusedByRule(err)
	}
	return answer, p.err()
}

// lacks reports a value that the rule cannot do without.
func (p *problems) lacks(rule, key string, vocab *Vocabulary) {
	how := ""
	if a, ok := vocab.Attribute(key); ok {
		how = ": " + a.How
	}
	p.add(key, "missing", "%s has to be known for %s%s", words(key), words(rule), how)
}

// looseSheet puts values on a sheet of their own, in canonical text.
func (p *problems) looseSheet(values map[string]string, r fitRule, vocab *Vocabulary) *Sheet {
	known := slices.Concat(r.needs, r.may)
	sheet := &Sheet{}
	for _, key := range keysOf(values) {
		if !slices.Contains(known, key) {
			p.add(key, "unknown-attribute", "the rule does not ask for this%s", meant(key, known))
			continue
		}
		a, ok := vocab.Attribute(key)
		if !ok {
			p.add(key, "unknown-attribute", "the vocabulary has no such attribute")
			continue
		}
		if values[key] == "" {
			continue // not given
		}
		value, err := a.canonical(values[key])
		p.take(key, err)
		sheet.put(key, value)
	}
	return sheet
}

// put sets "role.attribute" of a sheet.
func (s *Sheet) put(key, value string) {
	role, name, _ := cutLast(key)
	part, ok := s.Part(role)
	if !ok {
		s.Parts = append(s.Parts, Part{Role: role, Is: map[string]string{}})
		part = &s.Parts[len(s.Parts)-1]
	}
	if name == "material" {
		part.Material = value
		return
	}
	part.Is[name] = value
}

// refusedByRule reports what package fit refused: figures that no bicycle has.
func (p *problems) refusedByRule(err error) {
	found := fitFieldErrors(err)
	if len(found) == 0 {
		p.add("", "refused", "%s", err)
	}
	for _, fe := range found {
		p.add("", fe.Rule, "%s", fe.Error())
	}
}

// fitFieldErrors takes the mistakes that a rule reports apart.
func fitFieldErrors(err error) []*fit.FieldError {
	if fe, ok := err.(*fit.FieldError); ok { //nolint:errorlint // the tree is walked here
		return []*fit.FieldError{fe}
	}
	switch tree := err.(type) { //nolint:errorlint // the tree is walked here
	case interface{ Unwrap() []error }:
		var out []*fit.FieldError
		for _, e := range tree.Unwrap() {
			out = append(out, fitFieldErrors(e)...)
		}
		return out
	case interface{ Unwrap() error }:
		return fitFieldErrors(tree.Unwrap())
	}
	return nil
}

// ask runs the rule on a sheet that has what it needs. The error stands where
// the rule could not be asked.
func (r fitRule) ask(id string, sheet *Sheet, measuredWith *fit.Instrument) (FitAnswer, error) {
	a := &attributes{sheet: sheet, readThread: joint.ParseThread, measuredWith: measuredWith}
	results, _, err := r.run(a)
	if a.err != nil {
		err = a.err
	}
	answer := FitAnswer{Rule: id, Missing: a.absent}
	if err != nil {
		return answer, err
	}
	if len(a.absent) > 0 {
		return answer, errors.New("values are missing")
	}
	answer.Results = results
	return answer, nil
}

// AskSheetFit asks every rule about a normalized sheet, in the order of their
// ids. A rule that the sheet has not enough for says in Missing what it lacks.
func AskSheetFit(sheet *Sheet, measuredWith *fit.Instrument) []FitAnswer {
	rules := fitRules()
	ids := keysOf(rules)
	out := make([]FitAnswer, 0, len(ids))
	for _, id := range ids {
		out = append(out, rules[id].askSheet(id, sheet, measuredWith))
	}
	return out
}

func (r fitRule) askSheet(id string, sheet *Sheet, measuredWith *fit.Instrument) FitAnswer {
	answer := FitAnswer{Rule: id}
	for _, key := range r.needs {
		if _, ok := sheet.Attribute(key); !ok {
			answer.Missing = append(answer.Missing, key)
		}
	}
	if len(answer.Missing) > 0 {
		return answer
	}
	answer, err := r.ask(id, sheet, measuredWith)
	if err != nil && len(answer.Missing) == 0 {
		answer.Problem = fmt.Sprintf("%s cannot be checked: %v", words(id), err)
	}
	return answer
}
