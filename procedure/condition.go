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

// Words says the condition to a mechanic: the fixing of the rear axle is nuts.
func (c Condition) Words() string {
	parts := make([]string, 0, len(c))
	for _, k := range c.Keys() {
		values := make([]string, 0, len(c[k]))
		for _, v := range c[k] {
			values = append(values, strings.ReplaceAll(v, "-", " "))
		}
		said := strings.Join(values, " or ")
		role, name, _ := cutLast(k)
		if role == "fit" {
			parts = append(parts, fmt.Sprintf("the check of %s says %s", words(name), said))
			continue
		}
		parts = append(parts, fmt.Sprintf("the %s of the %s is %s", words(name), words(role), said))
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
