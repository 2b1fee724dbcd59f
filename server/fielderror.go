package server

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/tightwright/tightwright/procedure"
)

// fields gathers what is wrong with a request, by the paths of its fields.
type fields struct{ errs []error }

func (f *fields) add(path, rule, format string, args ...any) {
	f.errs = append(f.errs, &procedure.FieldError{Path: path, Rule: rule, Text: fmt.Sprintf(format, args...)})
}

// take adds an error below a path: field errors each by its own path, any
// other as one about the path itself.
func (f *fields) take(path string, err error) {
	if err == nil {
		return
	}
	found := procedure.FieldErrors(err)
	if len(found) == 0 {
		f.add(path, "malformed", "%s", err)
		return
	}
	for _, fe := range found {
		f.errs = append(f.errs, &procedure.FieldError{Path: joinPath(path, fe.Path), Rule: fe.Rule, Text: fe.Text})
	}
}

func (f *fields) err() error { return errors.Join(f.errs...) }

// enum wants a value of an enum that the API defines, and not the unspecified
// one.
func (f *fields) enum(path string, value, known int32) {
	switch {
	case value == 0:
		f.add(path, "missing", "this field is required")
	case value < 0 || value > known:
		f.add(path, "unknown-value", "%d is no value of this field", value)
	}
}

// id wants the form of an id that clients choose.
func (f *fields) id(path, id string) {
	if !idForm.MatchString(id) {
		f.add(path, "malformed-id", "write 1 to 63 lower-case letters, digits and hyphens, not %q", clip(id))
	}
}

// line wants text that a screen can show on one line.
func (f *fields) line(path, text string, required bool, most int) {
	f.text(path, text, required, most)
	if strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' }) {
		f.add(path, "unprintable", "the text has signs that cannot be shown on one line")
	}
}

// text wants no more than most signs and, where it is required, one that shows.
func (f *fields) text(path, text string, required bool, most int) {
	switch n := utf8.RuneCountInString(text); {
	case n > most:
		f.add(path, "too-long", "the text has %d signs, more than %d", n, most)
	case required && strings.TrimSpace(text) == "":
		f.add(path, "missing", "this field is required")
	}
}

func joinPath(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	case strings.HasPrefix(b, "["):
		return a + b
	}
	return a + "." + b
}

// repath moves field errors below a path and gives the fields that the API
// calls otherwise their name there. Other errors stay as they are.
func repath(prefix string, renamed map[string]string, err error) error {
	found := procedure.FieldErrors(err)
	if len(found) == 0 {
		return err
	}
	var f fields
	for _, fe := range found {
		path := joinPath(prefix, rename(fe.Path, renamed))
		f.errs = append(f.errs, &procedure.FieldError{Path: path, Rule: fe.Rule, Text: fe.Text})
	}
	return f.err()
}

// rename renames the fields in a path, whatever their place.
func rename(path string, renamed map[string]string) string {
	parts := strings.Split(path, ".")
	for i, part := range parts {
		name, index, _ := strings.Cut(part, "[")
		if to, ok := renamed[name]; ok {
			parts[i] = strings.TrimSuffix(to+"["+index, "[")
		}
	}
	return strings.Join(parts, ".")
}
