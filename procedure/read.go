package procedure

import (
	"fmt"
	"reflect"

	"github.com/tightwright/tightwright/torque/joint"
)

// ReadDefinition reads one procedure from YAML or JSON. file is its name for
// messages. Reading is strict: a key that is not known or stands twice, a
// value of another type, a word that is none of its list, an anchor, a tag or
// a second document are reported, each as a FieldError with file, line and
// field, all at once. Threads are brought to the one form that
// joint.Thread.String writes.
//
// What it returns has the right form; whether it makes sense is
// CheckDefinition's matter.
func ReadDefinition(file string, data []byte) (*Definition, error) {
	list, err := ReadDefinitions(file, data)
	if err != nil {
		return nil, err
	}
	if len(list) > 1 {
		return nil, &FieldError{File: file, Path: "places", Rule: "many-places",
			Text: "one procedure is wanted here, and this file has one for each of its places: keep one place"}
	}
	return list[0], nil
}

// ReadDefinitions reads a procedure's file as ReadDefinition does, and returns
// one definition for each of its places, one where it has none.
func ReadDefinitions(file string, data []byte) ([]*Definition, error) {
	f, err := parseFile(file, data)
	if err != nil {
		return nil, err
	}
	roots := f.spread(f.root)
	if err := f.err(); err != nil {
		return nil, err
	}
	var out []*Definition
	for _, root := range roots {
		at := &textFile{name: file, root: root}
		d := &Definition{}
		at.decode(root, reflect.ValueOf(d).Elem(), "")
		at.take(tidyDefinition(d))
		if err := at.err(); err != nil {
			return nil, err // the other places would say the same
		}
		out = append(out, d)
	}
	return out, nil
}

// WriteDefinition writes a definition in the one form of this package.
func WriteDefinition(d *Definition) ([]byte, error) { return writeYAML(d) }

// ReadJoints reads a joint table, which is a list of rows, as strictly as
// ReadDefinition.
func ReadJoints(file string, data []byte) ([]JointRow, error) {
	var rows []JointRow
	if err := readFile(file, data, &rows, func() error { return tidyJoints(rows) }); err != nil {
		return nil, err
	}
	return rows, nil
}

// ReadVocabulary reads the list of part roles, as strictly as ReadDefinition.
func ReadVocabulary(file string, data []byte) (*Vocabulary, error) {
	var v Vocabulary
	if err := readFile(file, data, &v, func() error { return nil }); err != nil {
		return nil, err
	}
	return &v, nil
}

// ReadSkills reads a list of skills, as strictly as ReadDefinition.
func ReadSkills(file string, data []byte) ([]Skill, error) {
	var list []Skill
	if err := readFile(file, data, &list, func() error { return nil }); err != nil {
		return nil, err
	}
	return list, nil
}

// ReadSheet reads a build sheet from YAML or JSON and checks it against the
// vocabulary (see Sheet.Normalize). Values are brought to canonical text, so
// that "36,75mm" and "36.75 mm" are the same answer.
func ReadSheet(file string, data []byte, vocab *Vocabulary) (*Sheet, error) {
	var s Sheet
	if err := readFile(file, data, &s, func() error { return s.Normalize(vocab) }); err != nil {
		return nil, err
	}
	return &s, nil
}

// WriteSheet writes a build sheet in the one form of this package.
func WriteSheet(s *Sheet) ([]byte, error) { return writeYAML(s) }

// readFile decodes data into the value that into points to, then lets tidy
// bring it to its canonical form.
func readFile(file string, data []byte, into any, tidy func() error) error {
	f, err := parseFile(file, data)
	if err != nil {
		return err
	}
	f.decode(f.root, reflect.ValueOf(into).Elem(), "")
	f.take(tidy())
	return f.err()
}

func tidyDefinition(d *Definition) error {
	var p problems
	for i := range d.Steps {
		for j := range d.Steps[i].Threads {
			tidyThread(&p, &d.Steps[i].Threads[j].Thread, fmt.Sprintf("steps[%d].threads[%d].thread", i, j))
		}
	}
	return p.err()
}

func tidyJoints(rows []JointRow) error {
	var p problems
	for i := range rows {
		tidyThread(&p, &rows[i].Thread, fmt.Sprintf("[%d].thread", i))
	}
	return p.err()
}

// tidyThread brings a thread that is given to the form the joint package
// writes.
func tidyThread(p *problems, text *string, path string) {
	if *text == "" {
		return
	}
	t, err := joint.ParseThread(*text)
	if err != nil {
		p.add(path, "malformed-thread", "%s", err)
		return
	}
	*text = t.String()
}
