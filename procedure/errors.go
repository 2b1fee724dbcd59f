package procedure

import (
	"errors"
	"fmt"
	"strings"
)

// A FieldError says what is wrong with one field of the input, where it is
// and how to mend it. Several are joined with errors.Join so that a person
// sees every mistake at once; FieldErrors takes them apart again.
type FieldError struct {
	// Path is the field as its writer knows it, such as
	// steps[3].torque.joint.
	Path string
	// Rule is a short stable code, such as unknown-joint.
	Rule string
	// Text says what is wrong and how to mend it.
	Text string
	// File and Line are where the field stands, when the input was a file;
	// Line 0 means unknown.
	File string
	Line int
}

// Error gives the place, the field and the mend on one line.
func (e *FieldError) Error() string {
	var where strings.Builder
	if e.File != "" {
		where.WriteString(e.File)
		if e.Line > 0 {
			fmt.Fprintf(&where, ":%d", e.Line)
		}
		where.WriteString(": ")
	}
	if e.Path != "" {
		where.WriteString(e.Path)
		where.WriteString(": ")
	}
	return where.String() + e.Text
}

// FieldErrors takes an error apart into the field errors joined in it, in
// order. It returns nil when there are none.
func FieldErrors(err error) []*FieldError {
	var out []*FieldError
	collectFieldErrors(err, &out)
	return out
}

func collectFieldErrors(err error, out *[]*FieldError) {
	switch e := err.(type) { //nolint:errorlint // the tree is walked here, each level by itself
	case *FieldError:
		*out = append(*out, e)
	case interface{ Unwrap() []error }:
		for _, each := range e.Unwrap() {
			collectFieldErrors(each, out)
		}
	case interface{ Unwrap() error }: // text around others, which may be joined
		collectFieldErrors(e.Unwrap(), out)
	}
}

// problems gathers field errors while a value is checked.
type problems struct{ errs []error }

func (p *problems) add(path, rule, format string, args ...any) {
	p.errs = append(p.errs, &FieldError{Path: path, Rule: rule, Text: fmt.Sprintf(format, args...)})
}

func (p *problems) take(path string, err error) {
	if err == nil {
		return
	}
	if fes := FieldErrors(err); len(fes) > 0 {
		for _, fe := range fes {
			c := *fe
			c.Path = joinPath(path, fe.Path)
			p.errs = append(p.errs, &c)
		}
		return
	}
	p.add(path, "malformed", "%s", err)
}

func (p *problems) err() error { return errors.Join(p.errs...) }

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
