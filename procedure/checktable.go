package procedure

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/torque"
)

// CheckJoints looks for what is wrong with a joint table: ids twice, threads
// that are none, a window or an aim that cannot be read, an aim outside its
// window, parts that the vocabulary does not know. Paths begin at the row,
// such as [3].window.
func CheckJoints(rows []JointRow, vocab *Vocabulary) error {
	c := &checker{References: &References{vocab: vocab}}
	seen := map[string]int{}
	for i := range rows {
		row, path := &rows[i], fmt.Sprintf("[%d]", i)
		c.id(path+".id", row.ID)
		if before, twice := seen[row.ID]; twice {
			c.add(path+".id", "duplicate-id", "[%d] has the id %q already", before, row.ID)
		}
		seen[row.ID] = i
		c.text(path+".title", row.Title, maxTitle)
		c.text(path+".location", row.Location, maxSentence)
		c.optional(path+".note", row.Note, maxSentence)
		c.threadOrFrom(path, row.Thread, row.ThreadFrom, nil)
		c.hand(path, row)
		c.window(path, row)
		c.roles(path+".limits", row.Limits, vocab.roleNames())
		if len(row.Limits) == 0 {
			c.add(path+".limits", "missing", "list the parts that can carry a limit in this joint")
		}
		if row.ThreadPrep == 0 {
			c.add(path+".thread_prep", "missing", "say which prep the window assumes: %s", strings.Join(prepNames[1:], ", "))
		}
		if row.Risk == 0 {
			c.add(path+".risk", "missing", "give the class of the joint: %s", strings.Join(riskNames[1:], ", "))
		}
		c.source(path+".source", &row.Source)
	}
	return c.err()
}

// window checks the row's own window, if it has one, and the aim in it.
func (c *checker) window(path string, row *JointRow) {
	if row.Window == "" {
		if row.Aim != "" {
			c.add(path+".aim", "no-window", "an aim without a window says nothing: give both or none")
		}
		return
	}
	w, err := PrintedFigure{Marking: row.Window}.window()
	if err != nil {
		c.add(path+".window", "malformed-window", "%s", err)
		return
	}
	if row.Aim == "" {
		return
	}
	aim, err := torque.Parse(row.Aim)
	switch {
	case err != nil:
		c.add(path+".aim", "malformed-torque", "%s", err)
	case !w.Contains(aim):
		c.add(path+".aim", "outside-window", "the aim %v lies outside %v", aim, w)
	}
}

// attributeForms are the forms an attribute can have.
func attributeForms() []string { return []string{"length", "thread", "choice", "count", "text"} }

// CheckVocabulary looks for what is wrong with the list of part roles.
func CheckVocabulary(v *Vocabulary) error {
	var p problems
	checkWords(&p, "materials", v.Materials)
	names := v.roleNames()
	for i := range v.Roles {
		role, path := &v.Roles[i], fmt.Sprintf("roles[%d]", i)
		p.id(path+".role", role.Role)
		p.text(path+".title", role.Title, maxTitle)
		if slices.Index(names, role.Role) < i {
			p.add(path+".role", "duplicate-role", "the role %q stands here twice", role.Role)
		}
		for j := range role.Attributes {
			a := &role.Attributes[j]
			at := fmt.Sprintf("%s.attributes[%d]", path, j)
			if !validID(strings.ReplaceAll(a.Name, "_", "-")) || a.Name == "material" {
				p.add(at+".name", "malformed-id", "write lower-case words joined by _, and not material, not %q", a.Name)
			}
			if slices.Index(role.attributeNames(), a.Name) < j {
				p.add(at+".name", "duplicate-attribute", "the attribute %q stands here twice", a.Name)
			}
			checkWord(&p, at+".form", "unknown-form", "form", a.Form, attributeForms())
			p.text(at+".how", a.How, maxSentence)
			p.optional(at+".instrument", a.Instrument, maxShort)
			switch {
			case a.Form == "choice":
				checkWords(&p, at+".choices", a.Choices)
			case len(a.Choices) > 0:
				p.add(at+".choices", "not-a-choice", "choices belong to form: choice")
			}
		}
	}
	return p.err()
}

// checkWords wants a list of at least one word, each once.
func checkWords(p *problems, path string, list []string) {
	if len(list) == 0 {
		p.add(path, "missing", "list the words that can stand here")
	}
	for i, w := range list {
		p.text(fmt.Sprintf("%s[%d]", path, i), w, maxShort)
		if slices.Index(list, w) < i {
			p.add(fmt.Sprintf("%s[%d]", path, i), "duplicate", "%q stands here twice", w)
		}
	}
}
