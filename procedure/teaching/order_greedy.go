package teaching

// greedy stays in a context while something is ready there, then goes where
// most can be taught in one go; ties go to the earlier lesson. It is valid, and
// not always the best.
func (g *graph) greedy(from int) []int {
	done := make([]bool, len(g.needs))
	order := make([]int, 0, len(done))
	at := from
	for len(order) < len(done) {
		if at != noContext {
			order = append(order, g.teachable(done, at, true)...)
		}
		best, most := noContext, 0
		for c := range g.members {
			if n := len(g.teachable(done, c, false)); n > most || (n == most && n > 0 && g.earlier(done, c, best)) {
				best, most = c, n
			}
		}
		at = best
		if best == noContext {
			break
		}
	}
	return order
}

// teachable returns what can be taught in a context without leaving it, in
// order, and marks it as done when it is to be kept.
func (g *graph) teachable(done []bool, context int, keep bool) []int {
	var out []int
	for again := true; again; {
		again = false
		for _, i := range g.members[context] {
			if !done[i] && g.isReady(done, i) {
				done[i], again = true, true
				out = append(out, i)
			}
		}
	}
	if !keep {
		for _, i := range out {
			done[i] = false
		}
	}
	return out
}

// isReady reports whether all that a lesson needs is done.
func (g *graph) isReady(done []bool, i int) bool {
	for _, k := range g.needs[i] {
		if !done[k] {
			return false
		}
	}
	return true
}

// earlier reports whether the first open lesson of context a comes before that
// of b.
func (g *graph) earlier(done []bool, a, b int) bool {
	return g.firstOpen(done, a) < g.firstOpen(done, b)
}

// firstOpen is the first lesson of a context that could be taught now.
func (g *graph) firstOpen(done []bool, context int) int {
	for _, i := range g.members[context] {
		if !done[i] && g.isReady(done, i) {
			return i
		}
	}
	return len(done)
}
