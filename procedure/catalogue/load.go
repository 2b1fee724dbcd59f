package catalogue

import (
	"fmt"
	"io/fs"
	"path"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// A loader gathers the files of one catalogue and what is wrong with them.
type loader struct {
	fsys      fs.FS
	catalogue Catalogue
	// data keeps each file for the lines of findings; file names the one of
	// each definition.
	data map[string][]byte
	file []string
	errs []error
}

func (l *loader) fail(err error) {
	if err != nil {
		l.errs = append(l.errs, err)
	}
}

// read returns a file's content, or false after reporting why not.
func (l *loader) read(name string) ([]byte, bool) {
	data, err := fs.ReadFile(l.fsys, name)
	if err != nil {
		l.fail(fmt.Errorf("read %s: %w", name, err))
		return nil, false
	}
	l.data[name] = data
	return data, true
}

// readAll reads every file in the form it must have.
func (l *loader) readAll() {
	var err error
	if data, ok := l.read(PartsFile); ok {
		l.catalogue.Vocabulary, err = procedure.ReadVocabulary(PartsFile, data)
		l.fail(err)
	}
	if data, ok := l.read(JointsFile); ok {
		l.catalogue.Joints, err = procedure.ReadJoints(JointsFile, data)
		l.fail(err)
	}
	if data, ok := l.read(SkillsFile); ok {
		l.catalogue.Skills, err = procedure.ReadSkills(SkillsFile, data)
		l.fail(err)
	}
	names, err := fs.Glob(l.fsys, "*.yaml")
	l.fail(err)
	for _, name := range names {
		if name != PartsFile && name != JointsFile && name != SkillsFile {
			l.readDefinition(name)
		}
	}
}

func (l *loader) readDefinition(name string) {
	data, ok := l.read(name)
	if !ok {
		return
	}
	d, err := procedure.ReadDefinition(name, data)
	if err != nil {
		l.fail(err)
		return
	}
	if want := strings.TrimSuffix(path.Base(name), path.Ext(name)); d.ID != want {
		l.fail(procedure.Locate(&procedure.FieldError{Path: "id", Rule: "not-the-file",
			Text: fmt.Sprintf("a procedure's file bears its id: write id: %s or rename the file, not %q", want, d.ID)}, name, data))
	}
	l.catalogue.Definitions = append(l.catalogue.Definitions, d)
	l.file = append(l.file, name)
}

// checkAll checks what every file says.
func (l *loader) checkAll() {
	c := &l.catalogue
	l.fail(procedure.Locate(procedure.CheckVocabulary(c.Vocabulary), PartsFile, l.data[PartsFile]))
	l.fail(procedure.Locate(procedure.CheckJoints(c.Joints, c.Vocabulary), JointsFile, l.data[JointsFile]))
	l.fail(procedure.Locate(procedure.CheckSkills(c.Skills), SkillsFile, l.data[SkillsFile]))
	if len(l.errs) > 0 {
		return // what refers to them would only repeat it
	}
	for i, d := range c.Definitions {
		l.fail(procedure.Locate(d.TakeSkills(c.Skills), l.file[i], l.data[l.file[i]]))
	}
	if len(l.errs) > 0 {
		return
	}
	for i, d := range c.Definitions {
		err := procedure.CheckDefinition(d, c.Joints, c.Vocabulary, c.Definitions)
		l.fail(procedure.Locate(err, l.file[i], l.data[l.file[i]]))
	}
}
