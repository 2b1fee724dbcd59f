package procedure

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// MaxFileBytes is the size of the largest file that is read: 1 MiB. The whole
// catalogue is a quarter of that.
const MaxFileBytes = 1 << 20

// A textFile is one YAML or JSON file while it is read. Mistakes are gathered
// with the line they stand on, so that a person sees all of them at once.
type textFile struct {
	name string
	root *yaml.Node
	errs []error
	// fields are the keys of the types read so far.
	fields map[reflect.Type]map[string]int
}

// parseFile reads data as one YAML document. A file that is valid JSON is read
// as JSON: YAML takes most of it, but not every escape and not tabs.
func parseFile(name string, data []byte) (*textFile, error) {
	f := &textFile{name: name}
	if len(data) > MaxFileBytes {
		f.addLine(0, "", "too-large", "the file has %d bytes, more than the %d that are read", len(data), MaxFileBytes)
		return nil, f.err()
	}
	if first := bytes.TrimLeft(data, " \t\r\n"); len(first) > 0 && (first[0] == '{' || first[0] == '[') && json.Valid(data) {
		root, err := jsonNode(data)
		if err != nil {
			f.addLine(0, "", "malformed-json", "this cannot be read as JSON: %s", err)
			return nil, f.err()
		}
		f.root = root
		f.spreadItems()
		return f, f.err()
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		f.addYAML(err)
		return nil, f.err()
	}
	var second yaml.Node
	switch err := dec.Decode(&second); {
	case err == nil:
		f.addLine(second.Line, "", "second-document", "a file holds one document: put what follows --- into a file of its own")
	case !errors.Is(err, io.EOF):
		f.addYAML(err)
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	f.root = doc.Content[0]
	f.spreadItems()
	return f, f.err()
}

var yamlLine = regexp.MustCompile(`^(?:yaml: )?(?:line ([0-9]+): )?`)

// addYAML turns an error of the YAML reader into a field error.
func (f *textFile) addYAML(err error) {
	if errors.Is(err, io.EOF) {
		f.addLine(0, "", "empty-file", "the file is empty")
		return
	}
	text := err.Error()
	m := yamlLine.FindStringSubmatch(text)
	line, _ := strconv.Atoi(m[1])
	text = strings.TrimPrefix(text, m[0])
	if strings.Contains(text, "cannot start any token") {
		text += "; indent with spaces, not tabs, and put text that starts with a sign in quotes"
	}
	if strings.Contains(text, "mapping values are not allowed") {
		text += "; put text that has a colon in it in quotes"
	}
	f.addLine(line, "", "malformed-yaml", "this cannot be read as YAML: %s", text)
}

func (f *textFile) add(n *yaml.Node, path, rule, format string, args ...any) {
	f.addLine(n.Line, path, rule, format, args...)
}

func (f *textFile) addLine(line int, path, rule, format string, args ...any) {
	f.errs = append(f.errs, &FieldError{File: f.name, Line: line, Path: path, Rule: rule, Text: fmt.Sprintf(format, args...)})
}

// take adds the mistakes in err, found after reading, at their lines.
func (f *textFile) take(err error) {
	if err == nil {
		return
	}
	lines := map[string]int{}
	lineIndex(f.root, "", lines)
	for _, fe := range FieldErrors(err) {
		located := *fe
		located.File, located.Line = f.name, nearestLine(lines, fe.Path)
		f.errs = append(f.errs, &located)
	}
}

func (f *textFile) err() error { return errors.Join(f.errs...) }

// Locate returns err with the file and the line of each field error in it, as
// far as it has none yet: what CheckDefinition finds in a definition that was read from
// data. A field that is not in the file has the line of what it belongs to.
func Locate(err error, file string, data []byte) error { return LocateAt(err, file, data, "") }

// LocateAt is Locate for a definition that was read for one place.
func LocateAt(err error, file string, data []byte, place string) error {
	if err == nil {
		return nil
	}
	f, parseErr := parseFile(file, data)
	if parseErr != nil {
		return err
	}
	if place != "" {
		f.root = atPlace(f.root, place)
	}
	lines := map[string]int{}
	lineIndex(f.root, "", lines)
	for _, fe := range FieldErrors(err) {
		located := *fe
		if located.File == "" {
			located.File, located.Line = file, nearestLine(lines, fe.Path)
		}
		f.errs = append(f.errs, &located)
	}
	return f.err()
}

// lineIndex notes the line of every path below n.
func lineIndex(n *yaml.Node, path string, lines map[string]int) {
	if _, known := lines[path]; !known {
		lines[path] = n.Line
	}
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			key := joinPath(path, n.Content[i].Value)
			if _, known := lines[key]; !known {
				lines[key] = n.Content[i].Line
			}
			lineIndex(n.Content[i+1], key, lines)
		}
	case yaml.SequenceNode:
		for i, item := range n.Content {
			lineIndex(item, fmt.Sprintf("%s[%d]", path, i), lines)
		}
	}
}

// nearestLine returns the line of path, or of the nearest thing it is part of.
func nearestLine(lines map[string]int, path string) int {
	for {
		if line, ok := lines[path]; ok {
			return line
		}
		at := strings.LastIndexAny(path, ".[")
		if at < 0 {
			return lines[""]
		}
		path = path[:at]
	}
}
