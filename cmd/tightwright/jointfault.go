package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// Reasons of the calculations of joints and wrenches, beside those of package
// torque.
const (
	reasonUnknownWord     = "unknown_word"     // a word that is not one of those known
	reasonNoThread        = "not_a_thread"     // not written as a thread, or not one
	reasonUnknownFriction = "unknown_friction" // nothing is worked out without
	reasonNoStrength      = "no_strength"      // a class states none for this size
	reasonContradiction   = "contradiction"    // two answers to one question
)

// faults are the mistakes of one row of inputs, each by the name of its flag.
type faults struct{ list []*procedure.FieldError }

func (f *faults) add(name, reason, format string, args ...any) {
	f.list = append(f.list, &procedure.FieldError{Path: name, Rule: reason, Text: fmt.Sprintf(format, args...)})
}

// has reports whether something is wrong with a name already.
func (f *faults) has(name string) bool {
	for _, fe := range f.list {
		if fe.Path == name {
			return true
		}
	}
	return false
}

// takeAs notes an error under a name.
func (f *faults) takeAs(name, reason string, err error) {
	if err != nil {
		f.add(name, reason, "%s", err)
	}
}

// ruleReasons turns the rules of field errors into reasons. Other rules are
// reasons but for their hyphens.
var ruleReasons = map[string]string{
	"required": torque.ReasonMissingValue, wrench.RuleMissing: torque.ReasonMissingValue,
	"range": torque.ReasonOutOfRange, "even": torque.ReasonOutOfRange, wrench.RuleOutsideRange: torque.ReasonOutOfRange,
	"known": reasonUnknownWord, wrench.RuleMalformedNumber: torque.ReasonMalformed,
	"one": reasonBadOption, wrench.RuleContradiction: reasonBadOption,
}

func reasonOf(rule string) string {
	if reason, ok := ruleReasons[rule]; ok {
		return reason
	}
	return strings.ReplaceAll(rule, "-", "_")
}

// take notes what the library says is wrong. names has the flag of each of its
// inputs that is not called like it.
func (f *faults) take(err error, names map[string]string) {
	var many interface{ Unwrap() []error }
	var ofJoint *joint.FieldError
	var ofWrench *wrench.FieldError
	switch {
	case err == nil:
	case errors.As(err, &many):
		for _, one := range many.Unwrap() {
			f.take(one, names)
		}
	case errors.As(err, &ofJoint):
		f.add(flagOf(ofJoint.Path, names), reasonOf(ofJoint.Rule), "%s", ofJoint.Text)
	case errors.As(err, &ofWrench):
		f.add(flagOf(ofWrench.Path, names), reasonOf(ofWrench.Rule), "%s", ofWrench.Text)
	default:
		f.takeOther(err, names)
	}
}

// takeOther notes an error that is no field error but wraps what tells its kind;
// its text begins with the input it is about.
func (f *faults) takeOther(err error, names map[string]string) {
	reason := reasonOther
	switch {
	case errors.Is(err, joint.ErrUnknownFriction):
		reason = reasonUnknownFriction
	case errors.Is(err, joint.ErrStrength):
		reason = reasonNoStrength
	}
	path, text, ok := strings.Cut(err.Error(), ": ")
	if !ok || strings.Contains(path, " ") {
		path, text = "", err.Error()
	}
	f.add(flagOf(path, names), reason, "%s", text)
}

// flagOf is the flag of an input of the library: "head-bearing-diameter" of
// head_bearing_diameter_mm.
func flagOf(path string, names map[string]string) string {
	if name, ok := names[path]; ok {
		return name
	}
	for _, unit := range []string{"_newton_meters", "_newtons", "_mm", "_rad"} {
		path = strings.TrimSuffix(path, unit)
	}
	return strings.ReplaceAll(path, "_", "-")
}

// err returns everything that is wrong as one error with a code, that of the
// first mistake, or nil.
func (f *faults) err() error {
	if len(f.list) == 0 {
		return nil
	}
	return f
}

// Error gives all mistakes on one line.
func (f *faults) Error() string {
	texts := make([]string, len(f.list))
	for i, fe := range f.list {
		texts[i] = fe.Error()
	}
	return strings.Join(texts, "; ")
}

// Unwrap returns the code, and each mistake.
func (f *faults) Unwrap() []error {
	out := []error{&inputError{reason: f.list[0].Rule, message: f.Error()}}
	for _, fe := range f.list {
		out = append(out, fe)
	}
	return out
}
