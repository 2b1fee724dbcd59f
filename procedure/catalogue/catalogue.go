// Package catalogue holds the procedures that come with the program, as data:
// one YAML file a procedure, the joint table from which their steps take every
// window, the contacts from which they take what goes between which materials,
// the words for parts and their attributes, and the skills. The files are
// embedded; procedure.schema.json beside them tells an editor their form.
package catalogue

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

//go:embed skills.yaml *.schema.json procedures/*.yaml joints/*.yaml parts/*.yaml contacts/*.yaml
var builtIn embed.FS

// FS returns the built-in files: the YAML and the JSON Schemas (2020-12).
func FS() fs.FS { return builtIn }

// Schemas for editors. That of the procedure holds all definitions; the others
// name one of them.
const (
	ProcedureSchema = "procedure.schema.json"
	JointsSchema    = "joints.schema.json"
	PartsSchema     = "parts.schema.json"
	ContactsSchema  = "contacts.schema.json"
	SkillsSchema    = "skills.schema.json"
	SheetSchema     = "sheet.schema.json"
)

// Where the files of a catalogue lie.
const (
	ProceduresFolder = "procedures"
	JointsFolder     = "joints"
	PartsFolder      = "parts"
	ContactsFolder   = "contacts"
	SkillsFile       = "skills.yaml"
)

// BuiltIn is the name of the layer that comes with the program.
const BuiltIn = "built-in"

// A Layer is one folder of a catalogue. What a later layer says replaces what
// an earlier one says under the same id, so a shop's own folder holds only
// what differs.
type Layer struct {
	// Name is shown, and stored with every plan made from the layer.
	Name string
	// Files is the folder.
	Files fs.FS
}

// A Catalogue is a set of procedures with the tables and the words they refer
// to. It is sound: Load has checked it whole. It is not to be changed.
type Catalogue struct {
	// Definitions in the order of their ids.
	Definitions []*procedure.Definition
	// Joints in the order of the files.
	Joints []procedure.JointRow
	// Contacts say what goes between which materials, and why.
	Contacts []procedure.Contact
	// Vocabulary lists the part roles and their attributes.
	Vocabulary *procedure.Vocabulary
	// Skills in the order of the file. Each definition carries those it takes
	// and all that these build on.
	Skills []procedure.Skill

	// origin and jointOrigin say which layer a definition and a row are from.
	origin, jointOrigin map[string]string
}

// Load returns the built-in catalogue with the layers over it. All mistakes in
// all files are reported at once, each a FieldError with file, line and field.
func Load(over ...Layer) (*Catalogue, error) {
	return LoadLayers(append([]Layer{{Name: BuiltIn, Files: builtIn}}, over...)...)
}

// LoadLayers reads and checks a catalogue from its layers alone. The files of
// a layer are skills.yaml and, in a folder each, the procedures, the joint
// rows, the parts and the contacts; a procedure's file is named after its id.
func LoadLayers(layers ...Layer) (*Catalogue, error) {
	l := &loader{layers: layers}
	l.readAll()
	if len(l.errs) > 0 {
		return nil, fmt.Errorf("load catalogue: %w", errors.Join(l.errs...))
	}
	c := l.build()
	if len(l.errs) > 0 {
		return nil, fmt.Errorf("load catalogue: %w", errors.Join(l.errs...))
	}
	slices.SortFunc(c.Definitions, func(a, b *procedure.Definition) int { return strings.Compare(a.ID, b.ID) })
	return c, nil
}

// Origin returns the name of the layer that a procedure is from: the one it
// was written in, whatever rows and words of other layers it uses.
func (c *Catalogue) Origin(id string) string { return c.origin[id] }

// JointOrigin returns the name of the layer that a joint row is from.
func (c *Catalogue) JointOrigin(id string) string { return c.jointOrigin[id] }

// Definition returns the procedure with this id, or false.
func (c *Catalogue) Definition(id string) (*procedure.Definition, bool) {
	i, ok := slices.BinarySearchFunc(c.Definitions, id, func(d *procedure.Definition, id string) int {
		return strings.Compare(d.ID, id)
	})
	if !ok {
		return nil, false
	}
	return c.Definitions[i], true
}

// Joint returns the row of the joint table with this id, or false.
func (c *Catalogue) Joint(id string) (*procedure.JointRow, bool) {
	for i := range c.Joints {
		if c.Joints[i].ID == id {
			return &c.Joints[i], true
		}
	}
	return nil, false
}

// ErrUnknown says that the catalogue has no procedure of that id.
var ErrUnknown = errors.New("no such procedure in the catalogue")

// Resolve returns the procedure with this id joined with the rows it uses,
// which is what a plan is made from. The error wraps ErrUnknown where there is
// none.
func (c *Catalogue) Resolve(id string) (*procedure.Resolved, error) {
	d, ok := c.Definition(id)
	if !ok {
		return nil, fmt.Errorf("resolve %q: %w", id, ErrUnknown)
	}
	r, err := procedure.Resolve(d, c.Joints)
	if err != nil {
		return nil, err
	}
	r.Origin = c.origin[id]
	return r, nil
}

// IDs lists the procedures in order.
func (c *Catalogue) IDs() []string {
	ids := make([]string, 0, len(c.Definitions))
	for _, d := range c.Definitions {
		ids = append(ids, d.ID)
	}
	return ids
}
