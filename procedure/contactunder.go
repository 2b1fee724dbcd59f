package procedure

import "slices"

// Under lists the preps that can count on a bike of which these attributes are
// known, by "role.attribute": a use that is contradicted is left out, and the
// list ends with the first that holds whatever else the bike is. Nothing known
// gives all uses.
func (c *Contact) Under(known map[string]string) []PrepChoice {
	var out []PrepChoice
	for _, use := range c.Uses {
		sure, possible := true, true
		for key, values := range use.When {
			v, ok := known[key]
			sure = sure && ok
			possible = possible && (!ok || slices.Contains(values, v))
		}
		if !possible {
			continue
		}
		out = append(out, use)
		if sure {
			break
		}
	}
	return out
}

// IsBetween reports whether a part of this role meets another here. A role
// without its place, such as rotor for rotor-front, is taken for both.
func (c *Contact) IsBetween(role string) bool {
	return slices.ContainsFunc(c.Between, func(r string) bool {
		return r == role || withoutPlace(r) == role
	})
}

// withoutPlace takes the place off a role that is on the bike twice.
func withoutPlace(role string) string {
	for _, place := range placeWords() {
		if n := len(role) - len(place) - 1; n > 0 && role[n:] == "-"+place {
			return role[:n]
		}
	}
	return role
}
