package procedure

// Vocabulary is the list of part roles and their attributes that sheets,
// procedures and fit rules share, so that a misspelt word is found where it
// stands and not as a missing answer later.
type Vocabulary struct {
	Materials []string   `json:"materials" yaml:"materials"`
	Roles     []PartRole `json:"roles" yaml:"roles"`
}

// A PartRole is a place on the bike that a part fills.
type PartRole struct {
	Role string `json:"role" yaml:"role"`
	// Places, where the part is on the bike twice (see Definition.Places).
	Places     []string        `json:"places,omitempty" yaml:"places"`
	Title      string          `json:"title" yaml:"title"`
	Attributes []PartAttribute `json:"attributes,omitempty" yaml:"attributes"`
}

// A PartAttribute is one thing to find out about a part.
type PartAttribute struct {
	Name string `json:"name" yaml:"name"`
	// Form is length, thread, choice, count or text.
	Form    string   `json:"form" yaml:"form"`
	Choices []string `json:"choices,omitempty" yaml:"choices"`
	// How says how to find it on the bike, Instrument with what.
	How        string `json:"how" yaml:"how"`
	Instrument string `json:"instrument,omitempty" yaml:"instrument"`
}

// Role returns the entry of a role, or false.
func (v *Vocabulary) Role(role string) (*PartRole, bool) {
	for i := range v.Roles {
		if v.Roles[i].Role == role {
			return &v.Roles[i], true
		}
	}
	return nil, false
}

// Attribute returns the entry of "role.attribute", or false. Every role has
// the attribute material.
func (v *Vocabulary) Attribute(key string) (*PartAttribute, bool) {
	role, name, ok := cutLast(key)
	if !ok {
		return nil, false
	}
	r, ok := v.Role(role)
	if !ok {
		return nil, false
	}
	if name == "material" {
		return &PartAttribute{Name: name, Form: "choice", Choices: v.Materials, How: "look, and ask a magnet"}, true
	}
	return r.attribute(name)
}

func (r *PartRole) attribute(name string) (*PartAttribute, bool) {
	for i := range r.Attributes {
		if r.Attributes[i].Name == name {
			return &r.Attributes[i], true
		}
	}
	return nil, false
}

func (r *PartRole) attributeNames() []string {
	names := make([]string, 0, len(r.Attributes))
	for i := range r.Attributes {
		names = append(names, r.Attributes[i].Name)
	}
	return names
}

func (v *Vocabulary) roleNames() []string {
	names := make([]string, 0, len(v.Roles))
	for i := range v.Roles {
		names = append(names, v.Roles[i].Role)
	}
	return names
}
