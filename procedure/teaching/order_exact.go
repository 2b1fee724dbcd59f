package teaching

import "math/bits"

// mostStates bounds the states that an exact search may look at. A shop's own
// curriculum needs a few hundred; the bound keeps an odd one from taking
// forever.
const mostStates = 1 << 17

// A search finds the fewest changes by dynamic programming over sets of lessons
// taught. In a context everything that is ready there is taught before it is
// left: bringing such a lesson forward never adds a change, so only the next
// context is a choice.
type search struct {
	needs   []uint32
	context []int
	members []uint32
	all     uint32
	memo    map[position]int
	isOver  bool
}

// A position is what the rest of an order depends on: what was taught, and
// where one is.
type position struct {
	done    uint32
	context int
}

// search readies the sets of a graph of at most 32 lessons.
func (g *graph) search() *search {
	s := &search{context: g.context, memo: map[position]int{}, all: 1<<len(g.needs) - 1}
	for _, needs := range g.needs {
		var set uint32
		for _, k := range needs {
			set |= 1 << k
		}
		s.needs = append(s.needs, set)
	}
	for _, members := range g.members {
		var set uint32
		for _, i := range members {
			set |= 1 << i
		}
		s.members = append(s.members, set)
	}
	return s
}

// exact returns the first of the best orders, or false when the search would
// take too long.
func (g *graph) exact(from int) ([]int, bool) {
	s := g.search()
	var order []int
	done, at := uint32(0), from
	left := s.least(done, at)
	for done != s.all {
		for i := range s.needs {
			if done&(1<<i) != 0 || s.needs[i]&^done != 0 {
				continue
			}
			cost := change(at, s.context[i])
			if cost+s.least(done|1<<i, s.context[i]) == left {
				order = append(order, i)
				done, at, left = done|1<<i, s.context[i], left-cost
				break
			}
		}
		if s.isOver {
			return nil, false
		}
	}
	return order, true
}

// teach adds to done all that can be taught in a context without leaving it.
func (s *search) teach(done uint32, context int) uint32 {
	for {
		before := done
		for rest := s.members[context] &^ done; rest != 0; rest &= rest - 1 {
			i := bits.TrailingZeros32(rest)
			if s.needs[i]&^done == 0 {
				done |= 1 << i
			}
		}
		if done == before {
			return done
		}
	}
}

// least returns the fewest changes that are still needed in a position.
func (s *search) least(done uint32, at int) int {
	if at != noContext {
		done = s.teach(done, at)
	}
	if done == s.all || s.isOver {
		return 0
	}
	p := position{done, at}
	if v, ok := s.memo[p]; ok {
		return v
	}
	if len(s.memo) >= mostStates {
		s.isOver = true
		return 0
	}
	best, bound := len(s.needs), s.bound(done, at)
	for c := range s.members {
		if s.teach(done, c) == done {
			continue
		}
		best = min(best, change(at, c)+s.least(done, c))
		if best == bound {
			break
		}
	}
	s.memo[p] = best
	return best
}

// bound is a number of changes that cannot be undercut: every context with
// something left must be gone to once, the first of them for nothing when one
// comes from nowhere.
func (s *search) bound(done uint32, at int) int {
	n := 0
	for _, members := range s.members {
		if members&^done != 0 {
			n++
		}
	}
	if at == noContext {
		n--
	}
	return n
}
