package procedure

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Something that is on the bike twice, at the front and at the rear, is
// written once: it lists its places, and the reader makes one of it for each.
// In every text {place} becomes the place, the id ends in it, and the
// condition place is decided while reading, so nothing behind the reader
// knows of places but by the list that stays, which then holds one.
const placeMark = "{place}"

const placeCondition = "place"

func placeWords() []string { return []string{"front", "rear"} }

// spreadItems replaces the items of a file that is a list, or of its list of
// roles, that have places.
func (f *textFile) spreadItems() {
	list := f.root
	if list.Kind == yaml.MappingNode {
		list = child(list, "roles")
	}
	if list == nil || list.Kind != yaml.SequenceNode {
		return
	}
	var out []*yaml.Node
	for _, item := range list.Content {
		if item.Kind != yaml.MappingNode { // the roles of a procedure are names
			return
		}
		out = append(out, f.spread(item)...)
	}
	list.Content = out
}

// spread returns one copy of a mapping for each of its places, or the mapping
// itself where it has none.
func (f *textFile) spread(n *yaml.Node) []*yaml.Node {
	places := placesOf(n)
	if places == nil {
		f.strayPlaces(n)
		return []*yaml.Node{n}
	}
	var out []*yaml.Node
	for _, place := range places.Content {
		if !slices.Contains(placeWords(), place.Value) {
			f.add(place, "places", "unknown-place", "write one of %s, not %q", strings.Join(placeWords(), ", "), place.Value)
			continue
		}
		out = append(out, atPlace(n, place.Value))
	}
	return out
}

// strayPlaces reports texts that wait for a place in something that has none.
func (f *textFile) strayPlaces(n *yaml.Node) {
	if n.Kind == yaml.ScalarNode && strings.Contains(n.Value, placeMark) {
		f.add(n, "places", "no-places", "%s stands here, and nothing says for which places: write places: [%s]", placeMark, strings.Join(placeWords(), ", "))
		return
	}
	for _, c := range n.Content {
		f.strayPlaces(c)
	}
}

// placesOf returns the list of a mapping's places, or nil.
func placesOf(n *yaml.Node) *yaml.Node {
	if n.Kind != yaml.MappingNode {
		return nil
	}
	places := child(n, "places")
	if places == nil || places.Kind != yaml.SequenceNode || len(places.Content) == 0 {
		return nil
	}
	return places
}

// child returns the value of a key in a mapping, or nil.
func child(n *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// atPlace returns the mapping as it is at one place: its name ends in it, and
// its places are this one. Reading what was written out so changes nothing.
// What is the same at every place is shared by them.
func atPlace(n *yaml.Node, place string) *yaml.Node {
	out, _ := placed(n, place)
	if out == n {
		out = copyNode(n)
	}
	for i := 0; i+1 < len(out.Content); i += 2 {
		value := copyNode(out.Content[i+1])
		switch out.Content[i].Value {
		case "id", "role":
			if !strings.HasSuffix(value.Value, "-"+place) {
				value.Value += "-" + place
			}
		case "places":
			value.Content = slices.DeleteFunc(value.Content, func(p *yaml.Node) bool { return p.Value != place })
		default:
			continue
		}
		out.Content[i+1] = value
	}
	return out
}

// copyNode copies a node and its list, but not what stands in the list.
func copyNode(n *yaml.Node) *yaml.Node {
	out := *n
	out.Content = slices.Clone(n.Content)
	return &out
}

// placed returns a node as it is for a place, which is the node itself where
// nothing in it depends on that; false where its condition is for another.
func placed(n *yaml.Node, place string) (*yaml.Node, bool) {
	switch n.Kind {
	case yaml.MappingNode:
		return placedKeys(n, place)
	case yaml.SequenceNode:
		return placedItems(n, place), true
	}
	if !strings.Contains(n.Value, placeMark) {
		return n, true
	}
	out := *n
	out.Value = strings.ReplaceAll(n.Value, placeMark, place)
	return &out, true
}

func placedItems(n *yaml.Node, place string) *yaml.Node {
	items, changed := make([]*yaml.Node, 0, len(n.Content)), false
	for _, item := range n.Content {
		c, keep := placed(item, place)
		if keep {
			items = append(items, c)
		}
		changed = changed || !keep || c != item
	}
	if !changed {
		return n
	}
	out := *n
	out.Content = items
	return &out
}

func placedKeys(n *yaml.Node, place string) (*yaml.Node, bool) {
	pairs, changed := make([]*yaml.Node, 0, len(n.Content)), false
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if key.Value == "when" && value.Kind == yaml.MappingNode && child(value, placeCondition) != nil {
			rest, holds := decidePlace(value, place)
			if !holds {
				return n, false
			}
			value = rest
		}
		k, _ := placed(key, place)
		v, keep := placed(value, place)
		keep = keep && (len(value.Content) > 0 || key.Value != "when")
		if keep {
			pairs = append(pairs, k, v)
		}
		changed = changed || !keep || k != key || v != n.Content[i+1]
	}
	if !changed {
		return n, true
	}
	out := *n
	out.Content = pairs
	return &out, true
}

// decidePlace returns a condition without its key place, and whether that key
// holds at the place.
func decidePlace(when *yaml.Node, place string) (rest *yaml.Node, holds bool) {
	out := *when
	out.Content, holds = nil, true
	for i := 0; i+1 < len(when.Content); i += 2 {
		key, value := when.Content[i], when.Content[i+1]
		if key.Value != placeCondition {
			out.Content = append(out.Content, key, value)
			continue
		}
		holds = value.Value == place || slices.ContainsFunc(value.Content, func(v *yaml.Node) bool { return v.Value == place })
	}
	return &out, holds
}

// SpreadNames lets definitions be named without their place: in After and in
// Voids the id as it stands in the file means all its places. It changes the
// definitions.
func SpreadNames(definitions []*Definition) {
	base := map[string][]*Definition{}
	for _, d := range definitions {
		if len(d.Places) == 1 {
			id := strings.TrimSuffix(d.ID, "-"+d.Places[0])
			base[id] = append(base[id], d)
		}
	}
	for _, d := range definitions {
		d.After = spreadAfter(d, base)
		for i := range d.Steps {
			d.Steps[i].Voids = spreadVoids(d, d.Steps[i].Voids, base)
		}
	}
}

func spreadAfter(d *Definition, base map[string][]*Definition) []string {
	var out []string
	for _, id := range d.After {
		if base[id] == nil {
			out = append(out, id)
		}
		for _, other := range base[id] {
			out = append(out, other.ID)
		}
	}
	return out
}

// spreadVoids leaves out a place that does not have the step, as long as one
// has it, and the definition itself.
func spreadVoids(d *Definition, voids []string, base map[string][]*Definition) []string {
	var out []string
	for _, target := range voids {
		id, step, _ := strings.Cut(target, "/")
		found := false
		for _, other := range base[id] {
			if other != d && (step == "*" || other.hasStep(step)) {
				out = append(out, other.ID+"/"+step)
				found = true
			}
		}
		if !found {
			out = append(out, target)
		}
	}
	return out
}
