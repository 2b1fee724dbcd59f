package procedure

// References are what definitions refer to: the joint table, the vocabulary
// and one another. They are gathered once and serve to check many definitions,
// from several goroutines too. The zero value refers to nothing; make them
// with NewReferences.
type References struct {
	vocab      *Vocabulary
	joints     map[string]*JointRow
	procedures map[string]*Definition
	// after and voids are the edges of the build order, by procedure, and of
	// the void map, by "procedure/step". inCircle holds the steps that spoil
	// themselves through others.
	after    map[string][]string
	voids    map[string][]string
	inCircle map[string]bool
	skillIDs map[string]bool
}

// NewReferences gathers what definitions refer to. Neither argument may be
// changed as long as the result is used.
func NewReferences(joints []JointRow, vocab *Vocabulary, definitions []*Definition) *References {
	r := &References{vocab: vocab, joints: make(map[string]*JointRow, len(joints)),
		procedures: make(map[string]*Definition, len(definitions))}
	for i := range joints {
		r.joints[joints[i].ID] = &joints[i]
	}
	for _, d := range definitions {
		r.procedures[d.ID] = d
	}
	r.connect()
	return r
}

// connect works out what follows from the definitions.
func (r *References) connect() {
	r.after = make(map[string][]string, len(r.procedures))
	var skills [][]Skill
	for id, d := range r.procedures {
		r.after[id] = d.After
		skills = append(skills, d.Skills)
	}
	r.skillIDs = skillIDs(skills...)
	r.voids = voidEdges(r.procedures)
	r.inCircle = circular(r.voids)
}

// with returns the references with one definition added or replaced.
func (r *References) with(def *Definition) *References {
	if r.procedures[def.ID] == def {
		return r
	}
	out := *r
	out.procedures = make(map[string]*Definition, len(r.procedures)+1)
	for id, d := range r.procedures {
		out.procedures[id] = d
	}
	out.procedures[def.ID] = def
	out.connect()
	return &out
}

// Check is CheckDefinition with these references.
func (r *References) Check(def *Definition) error {
	c := &checker{def: def, References: r.with(def)}
	c.head()
	c.skills()
	seen := map[string]int{}
	for i := range def.Steps {
		c.step(i, seen)
		c.illustrated(i)
	}
	c.worstRisk()
	c.buildOrder()
	c.voidMap()
	return c.err()
}
