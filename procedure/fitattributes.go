package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// attributes reads typed attributes of a sheet and keeps the first error, so
// that a rule reads like its arguments.
type attributes struct {
	sheet      *Sheet
	readThread func(text string) (joint.Thread, error)
	err        error
}

func (a *attributes) text(key string) string {
	v, ok := a.sheet.Attribute(key)
	if !ok && a.err == nil {
		a.err = fmt.Errorf("%s is not on the sheet", key)
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
