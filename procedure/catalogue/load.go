package catalogue

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// A file is one file of a layer with what was read from it.
type file[T any] struct {
	name, layer string
	data        []byte
	items       []T
}

// A loader gathers the files of one catalogue and what is wrong with them.
type loader struct {
	layers []Layer
	errs   []error

	parts       []file[procedure.PartRole]
	materials   []string
	joints      []file[procedure.JointRow]
	contacts    []file[procedure.Contact]
	skills      []file[procedure.Skill]
	definitions []file[*procedure.Definition]
}

func (l *loader) fail(err error) {
	if err != nil {
		l.errs = append(l.errs, err)
	}
}

// readAll reads every file in the form it must have.
func (l *loader) readAll() {
	for _, at := range l.layers {
		l.strayFiles(at)
		l.takeParts(readFolder(l, at, PartsFolder, readParts))
		l.joints = append(l.joints, readFolder(l, at, JointsFolder, procedure.ReadJoints)...)
		l.contacts = append(l.contacts, readFolder(l, at, ContactsFolder, procedure.ReadContacts)...)
		l.skills = append(l.skills, readFiles(l, at, SkillsFile, procedure.ReadSkills)...)
		l.definitions = append(l.definitions, readFolder(l, at, ProceduresFolder, readProcedure)...)
	}
}

// strayFiles reports YAML files that nobody would read where they lie.
func (l *loader) strayFiles(at Layer) {
	names, err := fs.Glob(at.Files, "*.yaml")
	l.fail(err)
	for _, name := range names {
		if name != SkillsFile {
			l.fail(&procedure.FieldError{File: name, Rule: "stray-file",
				Text: fmt.Sprintf("nothing is read from here: move a procedure to %s/, joint rows to %s/, parts to %s/, contacts to %s/",
					ProceduresFolder, JointsFolder, PartsFolder, ContactsFolder)})
		}
	}
}

func readFolder[T any](l *loader, at Layer, folder string, read func(string, []byte) ([]T, error)) []file[T] {
	return readFiles(l, at, folder+"/*.yaml", read)
}

// readFiles reads the files that match, several at a time. What is wrong with
// them is reported in their order.
func readFiles[T any](l *loader, at Layer, pattern string, read func(string, []byte) ([]T, error)) []file[T] {
	names, err := fs.Glob(at.Files, pattern)
	l.fail(err)
	files, errs := make([]file[T], len(names)), make([]error, len(names))
	together(len(names), func(i int) {
		files[i], errs[i] = readOne(at, names[i], read)
	})
	var out []file[T]
	for i, err := range errs {
		l.fail(err)
		if files[i].data != nil {
			out = append(out, files[i])
		}
	}
	return out
}

// readOne reads one file; data is nil where there was nothing to read.
func readOne[T any](at Layer, name string, read func(string, []byte) ([]T, error)) (file[T], error) {
	data, err := fs.ReadFile(at.Files, name)
	if err != nil {
		return file[T]{}, fmt.Errorf("read %s: %w", name, err)
	}
	items, err := read(name, data)
	return file[T]{name: name, layer: at.Name, data: data, items: items}, err
}

// readParts reads a file of roles, which may list materials beside them.
func readParts(name string, data []byte) ([]parts, error) {
	v, err := procedure.ReadVocabulary(name, data)
	if err != nil {
		return nil, err
	}
	return []parts{{v.Materials, v.Roles}}, nil
}

type parts struct {
	materials []string
	roles     []procedure.PartRole
}

// takeParts keeps roles by file and materials of all files, each once.
func (l *loader) takeParts(files []file[parts]) {
	for _, f := range files {
		roles := file[procedure.PartRole]{name: f.name, layer: f.layer, data: f.data}
		for _, p := range f.items {
			roles.items = p.roles
			for _, m := range p.materials {
				if !slices.Contains(l.materials, m) {
					l.materials = append(l.materials, m)
				}
			}
		}
		l.parts = append(l.parts, roles)
	}
}

func readProcedure(name string, data []byte) ([]*procedure.Definition, error) {
	list, err := procedure.ReadDefinitions(name, data)
	if err != nil {
		return nil, err
	}
	want := strings.TrimSuffix(path.Base(name), path.Ext(name))
	for _, d := range list {
		if baseID(d.ID, d.Places) != want {
			return nil, procedure.Locate(&procedure.FieldError{Path: "id", Rule: "not-the-file",
				Text: fmt.Sprintf("a procedure's file bears its id: write id: %s or rename the file, not %q", want, baseID(d.ID, d.Places))}, name, data)
		}
	}
	return list, nil
}

// baseID is an id without the place it is for.
func baseID(id string, places []string) string {
	if len(places) == 1 {
		return strings.TrimSuffix(id, "-"+places[0])
	}
	return id
}

// merge lets later layers replace what earlier ones say under the same id, and
// reports an id that one layer has twice. The order is that of first mention.
func merge[T any](l *loader, files []file[T], field string, id func(T) string) (items []T, origin map[string]string) {
	place := map[string]int{}
	origin = map[string]string{}
	for _, f := range files {
		for i, item := range f.items {
			key := id(item)
			at, known := place[key]
			switch {
			case !known:
				place[key] = len(items)
				items = append(items, item)
			case origin[key] == f.layer:
				l.fail(procedure.Locate(&procedure.FieldError{Path: fmt.Sprintf(field, i), Rule: "duplicate-id",
					Text: fmt.Sprintf("%q stands in the catalogue already: give it an id of its own", key)}, f.name, f.data))
			default:
				items[at] = item
			}
			origin[key] = f.layer
		}
	}
	return items, origin
}

// build joins the layers and checks what every file says.
func (l *loader) build() *Catalogue {
	c := &Catalogue{Vocabulary: &procedure.Vocabulary{Materials: l.materials}}
	c.Vocabulary.Roles, _ = merge(l, l.parts, "roles[%d].role", func(r procedure.PartRole) string { return r.Role })
	c.Joints, c.jointOrigin = merge(l, l.joints, "[%d].id", func(r procedure.JointRow) string { return r.ID })
	c.Contacts, _ = merge(l, l.contacts, "[%d].id", func(r procedure.Contact) string { return r.ID })
	c.Skills, _ = merge(l, l.skills, "[%d].id", func(s procedure.Skill) string { return s.ID })
	c.Definitions, c.origin = merge(l, l.definitions, "id", func(d *procedure.Definition) string { return d.ID })
	l.checkTables(c)
	if len(l.errs) > 0 {
		return nil // what refers to them would only repeat it
	}
	procedure.SpreadNames(c.Definitions)
	l.complete(c)
	if len(l.errs) > 0 {
		return nil
	}
	l.checkDefinitions(c)
	return c
}

// checkTables checks what the procedures refer to.
func (l *loader) checkTables(c *Catalogue) {
	for _, f := range l.parts {
		err := procedure.CheckVocabulary(&procedure.Vocabulary{Materials: l.materials, Roles: f.items})
		l.fail(procedure.Locate(err, f.name, f.data))
	}
	for _, f := range l.joints {
		l.fail(procedure.Locate(procedure.CheckJoints(f.items, c.Vocabulary), f.name, f.data))
	}
	for _, f := range l.contacts {
		l.fail(procedure.Locate(procedure.CheckContacts(f.items, c.Vocabulary), f.name, f.data))
	}
	if err := procedure.CheckSkills(c.Skills); err != nil {
		for _, f := range l.skills {
			err = procedure.Locate(err, f.name, f.data)
		}
		l.fail(err)
	}
}

// complete fills in what definitions name by id.
func (l *loader) complete(c *Catalogue) {
	l.eachDefinition(c, func(d *procedure.Definition) error {
		return errors.Join(d.TakeSkills(c.Skills), d.TakeContacts(c.Contacts))
	})
}

func (l *loader) checkDefinitions(c *Catalogue) {
	known := procedure.NewReferences(c.Joints, c.Vocabulary, c.Definitions)
	l.eachDefinition(c, known.Check)
}

// eachDefinition reports what do finds in the definitions that count, where it
// stands; two places of one file say the same thing once. It does several
// definitions at a time.
func (l *loader) eachDefinition(c *Catalogue, do func(*procedure.Definition) error) {
	found := make([][]*procedure.FieldError, len(l.definitions))
	together(len(l.definitions), func(i int) {
		found[i] = inFile(l.definitions[i], c.origin, do)
	})
	for _, fe := range slices.Concat(found...) {
		l.fail(fe)
	}
}

func inFile(f file[*procedure.Definition], origin map[string]string, do func(*procedure.Definition) error) []*procedure.FieldError {
	var out []*procedure.FieldError
	said := map[string]bool{}
	for _, d := range f.items {
		if origin[d.ID] != f.layer {
			continue
		}
		place := ""
		if len(d.Places) == 1 {
			place = d.Places[0]
		}
		for _, fe := range procedure.FieldErrors(procedure.LocateAt(do(d), f.name, f.data, place)) {
			key := fe.Error()
			if place != "" {
				key = strings.ReplaceAll(key, place, "")
			}
			if !said[key] {
				out = append(out, fe)
			}
			said[key] = true
		}
	}
	return out
}
