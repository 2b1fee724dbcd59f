package procedure

import (
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// attributes reads typed attributes of a sheet and keeps the first error, so
// that a rule reads like its arguments.
type attributes struct {
	sheet      *Sheet
	readThread func(text string) (joint.Thread, error)
	// measuredWith stands in for the instrument that a rule usually goes by; nil
	// for none.
	measuredWith *fit.Instrument
	// absent are the keys that a rule asked for in vain.
	absent []string
	err    error
}

// with is the instrument of a length: the usual one, unless the caller says
// what it was really measured with.
func (a *attributes) with(usual fit.Instrument) fit.Instrument {
	if a.measuredWith != nil {
		return *a.measuredWith
	}
	return usual
}

func (a *attributes) text(key string) string {
	v, ok := a.sheet.Attribute(key)
	if !ok {
		if !slices.Contains(a.absent, key) {
			a.absent = append(a.absent, key)
		}
		if a.err == nil {
			a.err = fmt.Errorf("%s is not on the sheet", key)
		}
	}
	return v
}

func (a *attributes) optional(key string) string {
	v, _ := a.sheet.Attribute(key)
	return v
}

// length reads a length; an attribute that is not there is 0.
func (a *attributes) length(key string) fit.Length {
	v, ok := a.sheet.Attribute(key)
	if !ok {
		return 0
	}
	l, err := fit.ParseLength(v)
	if err != nil && a.err == nil {
		a.err = fmt.Errorf("%s: %w", key, err)
	}
	return l
}

func (a *attributes) thread(key string) joint.Thread {
	t, err := a.readThread(a.text(key))
	if err != nil && a.err == nil {
		a.err = fmt.Errorf("%s: %w", key, err)
	}
	return t
}
