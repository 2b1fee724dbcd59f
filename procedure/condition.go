package procedure

import (
	"fmt"
	"slices"
	"sort"
	"strings"
)

// A Condition is a set of attributes with the values under which something
// holds: "role.attribute" of the build sheet, or "fit.rule" with a verdict of
// that fit rule. All must hold; the empty Condition always does.
type Condition map[string][]string

// Keys returns the attributes in order.
func (c Condition) Keys() []string {
	keys := make([]string, 0, len(c))
	for k := range c {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// String writes the condition as a person would say it.
func (c Condition) String() string {
	parts := make([]string, 0, len(c))
	for _, k := range c.Keys() {
		parts = append(parts, fmt.Sprintf("%s is %s", k, strings.Join(c[k], " or ")))
	}
	return strings.Join(parts, " and ")
}

// holds evaluates c with look, which returns an attribute's value and whether
// it is known. missing lists attributes that the answer depends on and that
// are not known; holds is false then.
func (c Condition) holds(look func(key string) (string, bool)) (holds bool, missing []string) {
	if len(c) == 0 {
		return true, nil
	}
	holds = true
	for _, k := range c.Keys() {
		v, known := look(k)
		switch {
		case !known:
			missing = append(missing, k)
		case !slices.Contains(c[k], v):
			return false, nil
		}
	}
	return holds && len(missing) == 0, missing
}
