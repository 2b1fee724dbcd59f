package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// fitVerdicts are the answers that a condition on a fit rule can name.
func fitVerdicts() []string {
	return []string{"fits", "fits-with", "try-and-measure", "does-not-fit"}
}

// condition wants every attribute to exist on a part of this job, and every
// value to be one it can have, in the form that a sheet has it.
func (c *checker) condition(path string, cond Condition) {
	for _, key := range cond.Keys() {
		at := joinPath(path, key)
		values := cond[key]
		if len(values) == 0 {
			c.add(at, "missing", "list the values under which this holds")
		}
		c.once(at, values)
		if rule, ok := strings.CutPrefix(key, "fit."); ok {
			c.fitCondition(at, rule, values)
			continue
		}
		attribute, ok := c.attribute(at, key)
		if !ok {
			continue
		}
		for i, v := range values {
			c.value(fmt.Sprintf("%s[%d]", at, i), attribute, v)
		}
	}
}

// fitCondition wants the job to run the rule whose verdict it asks for.
func (c *checker) fitCondition(path, rule string, values []string) {
	if !slices.Contains(c.def.Fit, rule) {
		c.add(path, "unknown-fit-rule", "the job does not run the fit rule %q%s: list it under fit", rule, meant(rule, c.def.Fit))
	}
	for i, v := range values {
		checkWord(&c.problems, fmt.Sprintf("%s[%d]", path, i), "unknown-verdict", "verdict", v, fitVerdicts())
	}
}

// attribute finds "role.attribute" on a part that the job has.
func (c *checker) attribute(path, key string) (*PartAttribute, bool) {
	role, name, _ := cutLast(key)
	entry, ok := c.vocab.Role(role)
	if !ok {
		c.add(path, "unknown-role", "there is no role %q%s", role, meant(role, c.vocab.roleNames()))
		return nil, false
	}
	if !slices.Contains(c.def.handled(), role) {
		c.add(path, "unlisted-role", "the job does not have the %s: list it under roles", role)
	}
	attribute, ok := c.vocab.Attribute(key)
	if !ok {
		c.add(path, "unknown-attribute", "a %s has no attribute %q%s", role, name, meant(name, entry.attributeNames()))
	}
	return attribute, ok
}

// value wants the spelling that a sheet has, since conditions compare text.
func (c *checker) value(path string, a *PartAttribute, v string) {
	canonical, err := a.canonical(v)
	if err != nil {
		c.take(path, err)
		return
	}
	if canonical != v {
		c.add(path, "not-canonical", "a build sheet has this as %q: write it the same way", canonical)
	}
}

// threadOrFrom wants a thread or the attribute that says it, not both.
func (c *checker) threadOrFrom(path, thread, from string, roles []string) {
	switch {
	case thread == "" && from == "":
		c.add(path+".thread", "missing", "give the thread with its hand, or in thread_from the attribute that says it")
	case thread != "" && from != "":
		c.add(path+".thread_from", "both", "give the thread or where it comes from, not both")
	case thread != "" && !knownThread(thread):
		c.add(path+".thread", "malformed-thread", "write the thread such as M6x1 or 1.37 in x 24 tpi LH, not %q", thread)
	case from != "":
		c.threadFrom(path+".thread_from", from, roles)
	}
}

// threadFrom wants an attribute that is a thread, on a part of the job unless
// roles is nil.
func (c *checker) threadFrom(path, from string, roles []string) {
	role, name, _ := cutLast(from)
	attribute, ok := c.vocab.Attribute(from)
	switch {
	case !ok:
		c.add(path, "unknown-attribute", "no part has an attribute %q%s", from, meant(from, c.threadAttributes()))
	case attribute.Form != "thread":
		c.add(path, "not-a-thread", "the %s of the %s is not a thread", words(name), words(role))
	case roles != nil && !slices.Contains(roles, role):
		c.add(path, "unlisted-role", "the job does not have the %s: list it under roles", role)
	}
}

// threadAttributes lists what thread_from can name.
func (c *checker) threadAttributes() []string {
	var out []string
	for _, r := range c.vocab.Roles {
		for _, a := range r.Attributes {
			if a.Form == "thread" {
				out = append(out, r.Role+"."+a.Name)
			}
		}
	}
	return out
}
