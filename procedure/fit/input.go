package fit

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// A FieldError says what is wrong with one input of a rule. A rule reports all
// its mistakes at once, joined; errors.As finds the first.
type FieldError struct {
	Path string // the input: "body"
	Rule string // what was broken: "positive"
	Text string // in words, with what would be accepted
}

func (e *FieldError) Error() string { return e.Path + ": " + e.Text }

// inputs collects the mistakes in the arguments of one rule.
type inputs struct{ errs []error }

func (in *inputs) add(path, rule, format string, args ...any) {
	in.errs = append(in.errs, &FieldError{path, rule, fmt.Sprintf(format, args...)})
}

// err returns all mistakes under the name of the rule, or nil.
func (in *inputs) err(rule string) error {
	if len(in.errs) == 0 {
		return nil
	}
	return fmt.Errorf("%s: %w", rule, errors.Join(in.errs...))
}

// length wants a length between least and most, both allowed.
func (in *inputs) length(path string, l, least, most Length) {
	if l < least || l > most {
		in.add(path, "range", "%s is outside %s to %s", l, least, most)
	}
}

// count wants a count between least and most, both allowed.
func (in *inputs) count(path string, n, least, most int) {
	if n < least || n > most {
		in.add(path, "range", "%d is outside %d to %d", n, least, most)
	}
}

// text wants something to be written.
func (in *inputs) text(path, text string) {
	if strings.TrimSpace(text) == "" {
		in.add(path, "required", "must be given")
	}
}

// choice wants one of a list of words.
func (in *inputs) choice(path, word string, list ...string) {
	if !slices.Contains(list, word) {
		in.add(path, "known", "%q is not known; known are %s", clip(word), strings.Join(list, ", "))
	}
}

// sameName compares two names as people write them.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// instrument wants a name and an error that is not negative or absurd.
func (in *inputs) instrument(i Instrument) {
	if strings.TrimSpace(i.Name) == "" {
		in.add("instrument", "required", "say what the figure was taken with")
	}
	in.length("instrument.error", i.Error, 0, 10*Millimeter)
}

// clip keeps a stray megabyte out of a message.
func clip(text string) string {
	if len(text) > 60 {
		return strings.ToValidUTF8(text[:60], "") + "…"
	}
	return text
}
