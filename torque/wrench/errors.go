package wrench

import (
	"errors"
	"fmt"
)

// ErrNoAcceptance reports limits so near to each other, for the uncertainty at
// hand, that no reading at all can be called conforming.
var ErrNoAcceptance = errors.New("no reading can be called conforming: the uncertainty is too large for these limits")

// ErrNoSetting is what every refused choice of a setting wraps; the error
// itself is a [*ToolError].
var ErrNoSetting = errors.New("no setting")

// ErrLevel reports a probability that cannot decide anything.
var ErrLevel = errors.New("probability must be at least 0.5 and below 1")

// ErrUncertainty reports an uncertainty that is negative or not a number.
var ErrUncertainty = errors.New("uncertainty must be zero or more")

// A FieldError says what is wrong with one field of the input, where it is and
// how to mend it. Constructors join all they find, so that a person sees every
// mistake at once; [FieldErrors] takes them apart again.
type FieldError struct {
	// Path is the field by its JSON name, such as calibration.due.
	Path string
	// Rule is a short stable code, such as malformed-number.
	Rule string
	// Text says what is wrong and how to mend it.
	Text string
}

// Error gives the field and the mend on one line.
func (e *FieldError) Error() string {
	if e.Path == "" {
		return e.Text
	}
	return e.Path + ": " + e.Text
}

// Rules of a [FieldError].
const (
	RuleMissing         = "missing"
	RuleMalformedNumber = "malformed-number"
	RuleMalformedID     = "malformed-id"
	RuleUnknownWord     = "unknown-word"
	RuleReversedRange   = "reversed-range"
	RuleOutsideRange    = "outside-range"
	RuleContradiction   = "contradiction"
	RuleDuplicate       = "duplicate"
)

// FieldErrors returns the field errors joined in err, in order, and nil when
// there are none.
func FieldErrors(err error) []*FieldError {
	if err == nil {
		return nil
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var found []*FieldError
		for _, one := range many.Unwrap() {
			found = append(found, FieldErrors(one)...)
		}
		return found
	}
	var fe *FieldError
	if errors.As(err, &fe) {
		return []*FieldError{fe}
	}
	return nil
}

// problems gathers field errors while an input is checked.
type problems struct{ found []error }

func (p *problems) add(path, rule, format string, args ...any) {
	p.found = append(p.found, &FieldError{Path: path, Rule: rule, Text: fmt.Sprintf(format, args...)})
}

func (p *problems) err() error { return errors.Join(p.found...) }
