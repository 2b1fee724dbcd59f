package joint

import (
	"errors"
	"fmt"
	"math"
)

// A FieldError says what is wrong with one input. Everything wrong is reported
// at once, joined; errors.As finds the first.
type FieldError struct {
	Path string // the input: "tube_diameter_mm"
	Rule string // what was broken: "range"
	Text string // in words, with what would be accepted
}

func (e *FieldError) Error() string { return e.Path + ": " + e.Text }

// inputs collects mistakes. It allocates only when there are some.
type inputs struct{ errs []error }

func (in *inputs) add(path, rule, text string) {
	in.errs = append(in.errs, &FieldError{path, rule, text})
}

// keep notes an error that speaks for itself.
func (in *inputs) keep(err error) {
	if err != nil {
		in.errs = append(in.errs, err)
	}
}

// within wants a finite number from least to most, both allowed.
func (in *inputs) within(path string, x, least, most float64) {
	if !(x >= least && x <= most) { // also catches NaN
		in.add(path, "range", fmt.Sprintf("%g is outside %g to %g", x, least, most))
	}
}

// above wants a finite number above 0 and at most most.
func (in *inputs) above(path string, x, most float64) {
	if !(x > 0 && x <= most) {
		in.add(path, "range", fmt.Sprintf("%g is not above 0 and at most %g", x, most))
	}
}

// band wants figures in order, the low one above 0 and the high one at most most.
func (in *inputs) band(path string, b Band, most float64) {
	if !(b.isOrdered() && b.Low > 0 && b.High <= most) {
		in.add(path, "range", fmt.Sprintf("%g, %g, %g are not in order above 0 and at most %g", b.Low, b.Nominal, b.High, most))
	}
}

// err returns all mistakes under the name of what was to be worked out, or nil.
func (in *inputs) err(operation string) error {
	if len(in.errs) == 0 {
		return nil
	}
	return fmt.Errorf("%s: %w", operation, errors.Join(in.errs...))
}

// isFinite reports whether x is a number.
func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
