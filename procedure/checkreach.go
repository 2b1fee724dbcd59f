package procedure

import (
	"slices"
	"strings"
)

// possible wants a condition to be one that can hold where what is around it
// holds: the procedure's own condition and the step's. What can never hold is
// a step or a choice that nobody will ever see.
func (c *checker) possible(path string, around, cond Condition) {
	for _, key := range cond.Keys() {
		at := joinPath(path, key)
		if strings.HasPrefix(key, "fit.") && len(cond[key]) == 1 && cond[key][0] == "does-not-fit" {
			c.add(at, "unreachable", "a plan stops where a part does not fit, so this is never reached: leave it out")
			continue
		}
		outer, ok := around[key]
		if ok && len(cond[key]) > 0 && !slices.ContainsFunc(cond[key], func(v string) bool { return slices.Contains(outer, v) }) {
			c.add(at, "unreachable", "this is asked only where %s is %s, so %s never holds here: mend the condition or leave it out",
				key, strings.Join(outer, " or "), strings.Join(cond[key], " or "))
		}
	}
}

// around is what holds wherever a step is done.
func (c *checker) around(s *Step) Condition { return narrowed(c.def.When, s.When) }

// narrowed is the condition that both hold.
func narrowed(a, b Condition) Condition {
	if len(a) == 0 {
		return b
	}
	if len(b) == 0 {
		return a
	}
	out := make(Condition, len(a)+len(b))
	for key, values := range a {
		out[key] = values
	}
	for key, values := range b {
		if outer, both := out[key]; both {
			values = slices.DeleteFunc(slices.Clone(values), func(v string) bool { return !slices.Contains(outer, v) })
		}
		out[key] = values
	}
	return out
}

// reachable wants no choice to stand behind others that hold whenever it
// does, since the first one counts.
func (c *checker) reachable(path string, around Condition, conditions []Condition) {
	for i := range conditions {
		here := narrowed(around, conditions[i])
		at := path + nth(i)
		if j := slices.IndexFunc(conditions[:i], func(before Condition) bool { return covers(before, here) }); j >= 0 {
			c.add(at, "unreachable", "%s holds whenever this does, and the first one counts: put this before it", path+nth(j))
			continue
		}
		if key := c.exhausted(here, conditions[:i]); key != "" {
			c.add(at, "unreachable", "the choices before it leave no value of %s over, so this never counts: leave it out", key)
		}
	}
}

// exhausted returns the attribute of which the choices before take every value
// that is left here, or nothing. Only a part that the bike must have has one of
// the values; what a part is not can hold for none.
func (c *checker) exhausted(here Condition, before []Condition) string {
	taken := map[string][]string{}
	for _, cond := range before {
		if len(cond) != 1 {
			continue
		}
		for key, values := range cond {
			taken[key] = append(taken[key], values...)
		}
	}
	for _, key := range keysOf(taken) {
		left := c.valuesOf(key, here)
		if len(left) > 0 && !slices.ContainsFunc(left, func(v string) bool { return !slices.Contains(taken[key], v) }) {
			return key
		}
	}
	return ""
}

// valuesOf lists the values that an attribute can have where a condition
// holds, none where they cannot be listed.
func (c *checker) valuesOf(key string, here Condition) []string {
	if values, ok := here[key]; ok {
		return values
	}
	role, _, _ := cutLast(key)
	if a, ok := c.vocab.Attribute(key); ok && a.Form == "choice" && slices.Contains(c.def.Roles, role) {
		return a.Choices
	}
	return nil
}

// covers reports whether a holds in every case in which b does.
func covers(a, b Condition) bool {
	for key, allowed := range a {
		values, ok := b[key]
		if !ok || len(values) == 0 || slices.ContainsFunc(values, func(v string) bool { return !slices.Contains(allowed, v) }) {
			return false
		}
	}
	return true
}
