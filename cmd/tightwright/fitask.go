package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque"
)

// fitVocabulary is that of the built-in catalogue, read once.
var fitVocabulary = sync.OnceValues(func() (*procedure.Vocabulary, error) {
	c, err := catalogue.Load()
	if err != nil {
		return nil, err
	}
	return c.Vocabulary, nil
})

// work asks the rules of the question.
func (q fitQuestion) work(in inputs) (answer, error) {
	vocab, err := fitVocabulary()
	if err != nil {
		return nil, err
	}
	r := newReading(in)
	ins := r.instrument()
	place := q.place(r)
	values := q.values(r, place)
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	out := fitAnswer{notes: q.notes()}
	asked := q.asked(r)
	for _, ask := range asked {
		rule := at(ask.rule, place)
		answered, err := procedure.AskFit(rule, ofRule(values, rule), vocab, ins)
		q.blame(r, place, err)
		out.add(answered.Results)
	}
	return out, r.faults.err()
}

func (q fitQuestion) notes() []string {
	if q.note == "" {
		return nil
	}
	return []string{q.note}
}

// asked are the rules to ask: those whose flags are given, or all of them, which
// then say what they lack.
func (q fitQuestion) asked(r *reading) []fitAsk {
	var out []fitAsk
	for _, a := range q.asks {
		if len(a.when) == 0 || slices.ContainsFunc(a.when, r.has) {
			out = append(out, a)
		}
	}
	if len(out) == 0 {
		return q.asks
	}
	return out
}

// instrument reads what the lengths were measured with; nil for the usual one.
func (r *reading) instrument() *fit.Instrument {
	if !r.has(instrumentFlag) {
		return nil
	}
	for _, m := range fit.Measuring() {
		if m.Short == r.text(instrumentFlag) {
			return &m.Instrument
		}
	}
	r.faults.add(instrumentFlag, reasonUnknownWord, "%q: write one of %s", clipped(r.text(instrumentFlag)), strings.Join(instrumentNames(), ", "))
	return nil
}

// place reads the end of the bicycle, where the question has one.
func (q fitQuestion) place(r *reading) string {
	if !q.hasPlace() {
		return ""
	}
	r.require(placeFlag)
	place := r.text(placeFlag)
	if place != "" && place != "front" && place != "rear" {
		r.faults.add(placeFlag, reasonUnknownWord, "%q: write front or rear", clipped(place))
	}
	return place
}

// at puts the end of the bicycle into a key or the id of a rule.
func at(text, place string) string {
	holder := "frame"
	if place == "front" {
		holder = "fork"
	}
	return strings.NewReplacer("@", place, "~", holder).Replace(text)
}

// values puts what was given under the attributes it stands for.
func (q fitQuestion) values(r *reading, place string) map[string]string {
	out := map[string]string{}
	for _, f := range q.fields {
		text := r.text(f.flag)
		if text == "" {
			text = f.usual
		}
		if text == "" {
			continue
		}
		parts := f.parts(r, text)
		for _, key := range f.keys {
			for i, one := range strings.Split(at(key, place), "|") {
				if i < len(parts) {
					out[one] = parts[i]
				}
			}
		}
	}
	return out
}

// bareNumber is a plain decimal without a unit.
var bareNumber = regexp.MustCompile(`^[0-9]+([.,][0-9]+)?$`)

// parts takes a value apart, and gives a bare length its unit.
func (f fitField) parts(r *reading, text string) []string {
	switch {
	case f.span:
		return f.span2(r, text)
	case f.pair:
		a, b, ok := strings.Cut(strings.ReplaceAll(strings.ToLower(text), "x", "-"), "-")
		if a, b = strings.TrimSpace(a), strings.TrimSpace(b); !ok || !bareNumber.MatchString(a) || !bareNumber.MatchString(b) {
			r.faults.add(f.flag, torque.ReasonMalformed, "%q: write two numbers %s", clipped(text), f.about[strings.LastIndex(f.about, ",")+2:])
			return nil
		}
		return []string{a + " mm", b + " mm"}
	case f.form == inMM:
		return []string{lengthText(text)}
	}
	return []string{text}
}

// lengthText gives a bare number the unit that the flags mean.
func lengthText(text string) string {
	if bareNumber.MatchString(text) {
		return text + " mm"
	}
	return text
}

// span2 reads the numbers of rings or sprockets and returns the smallest and the
// largest.
func (f fitField) span2(r *reading, text string) []string {
	var numbers []int
	for _, part := range strings.FieldsFunc(text, func(c rune) bool { return c == '/' || c == '-' || c == ' ' }) {
		n, err := strconv.Atoi(part)
		if err != nil {
			r.faults.add(f.flag, torque.ReasonNotANumber, "%q: write whole numbers, %s", clipped(text), f.about[strings.LastIndex(f.about, "as "):])
			return nil
		}
		numbers = append(numbers, n)
	}
	if len(numbers) == 0 || len(numbers) > 3 {
		r.faults.add(f.flag, torque.ReasonMalformed, "%q: write one to three numbers", clipped(text))
		return nil
	}
	return []string{strconv.Itoa(slices.Min(numbers)), strconv.Itoa(slices.Max(numbers))}
}

// ofRule are the values that a rule asks for.
func ofRule(values map[string]string, rule string) map[string]string {
	needs, may, _, _ := procedure.FitRuleUses(rule)
	out := map[string]string{}
	for _, key := range slices.Concat(needs, may) {
		if v, ok := values[key]; ok {
			out[key] = v
		}
	}
	return out
}

// blame puts what a rule refuses under the flags it is about, each flag once.
func (q fitQuestion) blame(r *reading, place string, err error) {
	for _, fe := range procedure.FieldErrors(err) {
		flag := q.flagOf(fe.Path, place)
		if flag == "" || !r.faults.has(flag) {
			r.faults.add(flag, fitReason(fe.Rule), "%s", fe.Text)
		}
	}
}

func (q fitQuestion) flagOf(key, place string) string {
	for _, f := range q.fields {
		for _, k := range f.keys {
			if slices.Contains(strings.Split(at(k, place), "|"), key) {
				return f.flag
			}
		}
	}
	return key
}

// fitReasons has the rules of field errors that other commands call otherwise.
var fitReasons = map[string]string{
	"missing": torque.ReasonMissingValue, "malformed-length": torque.ReasonMalformed, "malformed-count": torque.ReasonNotANumber,
	"malformed-thread": reasonNoThread, "unknown-choice": reasonUnknownWord, "out-of-range": torque.ReasonOutOfRange,
}

func fitReason(rule string) string {
	if reason, ok := fitReasons[rule]; ok {
		return reason
	}
	return reasonOf(rule)
}
