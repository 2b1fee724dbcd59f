package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// voidMap checks that every target of a void exists and that no step spoils,
// through others, itself: such a job would never end.
func (c *checker) voidMap() {
	for i := range c.def.Steps {
		for j, target := range c.def.Steps[i].Voids {
			c.voidTarget(fmt.Sprintf("steps[%d].voids[%d]", i, j), target)
		}
		c.once(fmt.Sprintf("steps[%d].voids", i), c.def.Steps[i].Voids)
	}
	for i, s := range c.def.Steps {
		self := c.def.ID + "/" + s.ID
		if !c.inCircle[self] {
			continue
		}
		circle := circleThrough(self, c.voids)
		if !c.isFirstOf(circle) {
			continue // the other members would tell the same
		}
		c.add(fmt.Sprintf("steps[%d].voids", i), "circular-void", "these steps void each other, so the job would never end: %s",
			strings.ReplaceAll(strings.Join(circle, " → "), c.def.ID+"/", ""))
	}
}

// voidTarget wants the step or the procedure to exist.
func (c *checker) voidTarget(path, target string) {
	id, step, isOther := strings.Cut(target, "/")
	if !isOther {
		id, step = c.def.ID, target
	}
	d, ok := c.procedures[id]
	switch {
	case !ok:
		c.add(path, "unknown-procedure", "there is no procedure %q%s", id, meant(id, keysOf(c.procedures)))
	case isOther && id == c.def.ID:
		c.add(path, "own-step", "write a step of this procedure by its id alone: %s", step)
	case isOther && step == "*":
	case !d.hasStep(step):
		c.add(path, "unknown-step", "%s has no step %q%s", id, step, meant(step, stepIDs(d)))
	}
}

// voidEdges maps each "procedure/step" to those it spoils.
func voidEdges(procedures map[string]*Definition) map[string][]string {
	edges := map[string][]string{}
	for _, d := range procedures {
		for i := range d.Steps {
			from := d.ID + "/" + d.Steps[i].ID
			for _, target := range d.Steps[i].Voids {
				edges[from] = append(edges[from], expandVoid(procedures, d.ID, target)...)
			}
		}
	}
	return edges
}

// expandVoid lists the steps that a target means.
func expandVoid(procedures map[string]*Definition, own, target string) []string {
	id, step, isOther := strings.Cut(target, "/")
	if !isOther {
		return []string{own + "/" + target}
	}
	if step != "*" {
		return []string{target}
	}
	var out []string
	if d, ok := procedures[id]; ok {
		for _, s := range stepIDs(d) {
			out = append(out, id+"/"+s)
		}
	}
	return out
}

// circleThrough returns a shortest way from start back to start, or nil.
func circleThrough(start string, edges map[string][]string) []string {
	came := map[string]string{}
	queue := []string{start}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, next := range edges[at] {
			if next == start {
				way := []string{start}
				for ; at != start; at = came[at] {
					way = append(way, at)
				}
				way = append(way, start)
				slices.Reverse(way)
				return way
			}
			if _, seen := came[next]; !seen {
				came[next] = at
				queue = append(queue, next)
			}
		}
	}
	return nil
}

// isFirstOf reports whether a circle starts at the least of its members in
// this procedure.
func (c *checker) isFirstOf(circle []string) bool {
	for _, member := range circle {
		if strings.HasPrefix(member, c.def.ID+"/") && member < circle[0] {
			return false
		}
	}
	return true
}

// findCircle returns one circle among the ids, or nil.
func findCircle(ids []string, next func(string) []string) []string {
	edges := map[string][]string{}
	for _, id := range ids {
		edges[id] = next(id)
	}
	for _, id := range ids {
		if circle := circleThrough(id, edges); circle != nil {
			return circle
		}
	}
	return nil
}
