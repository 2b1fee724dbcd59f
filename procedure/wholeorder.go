package procedure

import "slices"

// reducedAfter maps each chosen procedure to the chosen ones that come first:
// where one in between is left out, what came before it still does.
func reducedAfter(all, chosen []*Resolved) map[string][]string {
	after := map[string][]string{}
	for _, r := range all {
		after[r.ID] = r.After
	}
	isChosen := map[string]bool{}
	for _, r := range chosen {
		isChosen[r.ID] = true
	}
	out := map[string][]string{}
	for _, r := range chosen {
		seen := map[string]bool{}
		queue := slices.Clone(r.After)
		for len(queue) > 0 {
			id := queue[0]
			queue = queue[1:]
			switch {
			case seen[id]:
			case isChosen[id]:
				out[r.ID] = append(out[r.ID], id)
			default:
				queue = append(queue, after[id]...)
			}
			seen[id] = true
		}
		slices.Sort(out[r.ID])
	}
	return out
}

// inOrder puts procedures after those that come first. Among those that could
// be next, the one on which the longest chain waits goes first, then the
// order of ids decides, so that one sheet gives one order. Procedures that
// wait for each other keep the order of their ids; the catalogue check refuses
// such a circle.
func inOrder(chosen []*Resolved, after map[string][]string) []*Resolved {
	rest := slices.Clone(chosen)
	length := chains(chosen, after)
	slices.SortStableFunc(rest, func(a, b *Resolved) int {
		if length[a.ID] != length[b.ID] {
			return length[b.ID] - length[a.ID]
		}
		if a.ID < b.ID {
			return -1
		}
		return 1
	})
	done := map[string]bool{}
	var out []*Resolved
	for len(rest) > 0 {
		next := slices.IndexFunc(rest, func(r *Resolved) bool {
			return !slices.ContainsFunc(after[r.ID], func(id string) bool { return !done[id] })
		})
		next = max(next, 0)
		done[rest[next].ID] = true
		out = append(out, rest[next])
		rest = slices.Delete(rest, next, next+1)
	}
	return out
}

// chains returns for each procedure the number of procedures in the longest
// chain that begins with it.
func chains(chosen []*Resolved, after map[string][]string) map[string]int {
	later := map[string][]string{}
	for id, list := range after {
		for _, before := range list {
			later[before] = append(later[before], id)
		}
	}
	length := map[string]int{}
	var walk func(id string, on map[string]bool) int
	walk = func(id string, on map[string]bool) int {
		if length[id] > 0 || on[id] {
			return length[id]
		}
		on[id] = true
		longest := 0
		for _, next := range later[id] {
			longest = max(longest, walk(next, on))
		}
		delete(on, id)
		length[id] = longest + 1
		return length[id]
	}
	for _, r := range chosen {
		walk(r.ID, map[string]bool{})
	}
	return length
}
