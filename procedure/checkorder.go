package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// buildOrder checks where the procedure stands among the others: it must not
// come before itself, and chain lube is opened only where no braking face is
// handled without a stated order to it (common practice, no source).
func (c *checker) buildOrder() {
	next := func(id string) []string {
		if d, ok := c.procedures[id]; ok {
			return d.After
		}
		return nil
	}
	if circle := circleThrough(c.def.ID, c.after); circle != nil {
		c.add("after", "circular-after", "these procedures come after each other, so none could begin: %s", strings.Join(circle, " → "))
		return
	}
	if !c.def.uses(LubeHands) {
		return
	}
	before := allBefore(c.def.ID, next)
	for _, id := range keysOf(c.procedures) {
		other := c.procedures[id]
		if id == c.def.ID || !other.uses(CleanHands) || before[id] || allBefore(id, next)[c.def.ID] {
			continue
		}
		c.add("after", "lube-before-brakes", "%s wants clean hands, and the chain lube may be open in the bay by then: list it here", id)
	}
}

// allBefore lists what comes before a procedure, directly or through others.
func allBefore(id string, next func(string) []string) map[string]bool {
	seen := map[string]bool{}
	queue := slices.Clone(next(id))
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if !seen[at] {
			seen[at] = true
			queue = append(queue, next(at)...)
		}
	}
	return seen
}

// uses reports whether a step of the procedure has these hands.
func (d *Definition) uses(h Hands) bool {
	return slices.ContainsFunc(d.Steps, func(s Step) bool { return s.Hands == h })
}

// handsOrder wants fresh gloves to be asked for where a step of the same
// procedure has soiled them; a joint that is greased and braked in one step
// cannot be both.
func (c *checker) handsOrder(path string, s *Step) {
	if s.Hands != CleanHands || s.Prep == nil {
		return
	}
	for j, choice := range s.Prep.Face {
		if choice.Use == Grease || choice.Use == AntiSeize || choice.Use == LightOil {
			c.add(fmt.Sprintf("%s.prep.face[%d].use", path, j), "grease-with-clean-hands",
				"a step with clean hands puts nothing greasy on a face: make it two steps, the greasy one first")
		}
	}
}
