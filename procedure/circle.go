package procedure

import "slices"

// circular returns the nodes of a directed graph from which a way leads back
// to themselves: the members of its strongly connected components of more than
// one node, and the nodes with an edge to themselves (R. Tarjan, "Depth-first
// search and linear graph algorithms", SIAM J. Comput. 1(2), 1972).
func circular(edges map[string][]string) map[string]bool {
	t := &components{edges: edges, index: make(map[string]int, len(edges)), low: make(map[string]int, len(edges)), out: map[string]bool{}}
	for node := range edges {
		if t.index[node] == 0 {
			t.visit(node)
		}
	}
	return t.out
}

// components finds the strongly connected components of a graph. index counts
// the nodes from 1 in the order of their visit; a node whose component is done
// has the index done.
type components struct {
	edges      map[string][]string
	index, low map[string]int
	stack      []string
	count      int
	out        map[string]bool
}

const done = -1

func (t *components) visit(node string) {
	t.count++
	own := t.count
	low := own
	t.index[node] = own
	t.stack = append(t.stack, node)
	for _, next := range t.edges[node] {
		switch at := t.index[next]; {
		case at == 0:
			t.visit(next)
			low = min(low, t.low[next])
		case at > 0:
			low = min(low, at)
		}
	}
	t.low[node] = low
	if low == own {
		t.finish(node)
	}
}

// finish takes the component of its first node off the stack.
func (t *components) finish(first string) {
	at := slices.Index(t.stack, first)
	members := t.stack[at:]
	circle := len(members) > 1 || slices.Contains(t.edges[first], first)
	for _, m := range members {
		t.index[m] = done
		t.low[m] = t.count + 1 // above every index: it no longer counts
		if circle {
			t.out[m] = true
		}
	}
	t.stack = t.stack[:at]
}
