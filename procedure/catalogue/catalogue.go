// Package catalogue holds the procedures that come with the program, as data:
// one YAML file a procedure, the joint table from which their steps take every
// window, the words for parts and their attributes, and the skills. The files
// are embedded; procedure.schema.json beside them tells an editor their form.
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

//go:embed *.yaml *.schema.json
var builtIn embed.FS

// FS returns the built-in files: the YAML and the JSON Schemas (2020-12).
func FS() fs.FS { return builtIn }

// Schemas for editors. That of the procedure holds all definitions; the others
// name one of them.
const (
	ProcedureSchema = "procedure.schema.json"
	JointsSchema    = "joints.schema.json"
	PartsSchema     = "parts.schema.json"
	SkillsSchema    = "skills.schema.json"
	SheetSchema     = "sheet.schema.json"
)

// Files of a catalogue that are not procedures.
const (
	PartsFile  = "parts.yaml"
	JointsFile = "joints.yaml"
	SkillsFile = "skills.yaml"
)

// A Catalogue is a set of procedures with the table and the words they refer
// to. It is sound: Load has checked it whole. It is not to be changed.
type Catalogue struct {
	// Definitions in the order of their ids.
	Definitions []*procedure.Definition
	// Joints in the order of the file.
	Joints []procedure.JointRow
	// Vocabulary lists the part roles and their attributes.
	Vocabulary *procedure.Vocabulary
	// Skills in the order of the file. Each definition carries those it takes
	// and all that these build on.
	Skills []procedure.Skill
}

// Load returns the built-in catalogue.
func Load() (*Catalogue, error) { return LoadFS(builtIn) }

// LoadFS reads and checks a catalogue from the root of a file system: the
// three files named above and one file for each procedure, named after its id.
// All mistakes in all files are reported at once, each a FieldError with file,
// line and field.
func LoadFS(fsys fs.FS) (*Catalogue, error) {
	l := &loader{fsys: fsys, data: map[string][]byte{}}
	l.readAll()
	if len(l.errs) > 0 {
		return nil, fmt.Errorf("load catalogue: %w", errors.Join(l.errs...))
	}
	l.checkAll()
	if len(l.errs) > 0 {
		return nil, fmt.Errorf("load catalogue: %w", errors.Join(l.errs...))
	}
	c := l.catalogue
	slices.SortFunc(c.Definitions, func(a, b *procedure.Definition) int { return strings.Compare(a.ID, b.ID) })
	return &c, nil
}

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
	return procedure.Resolve(d, c.Joints)
}

// IDs lists the procedures in order.
func (c *Catalogue) IDs() []string {
	ids := make([]string, 0, len(c.Definitions))
	for _, d := range c.Definitions {
		ids = append(ids, d.ID)
	}
	return ids
}
