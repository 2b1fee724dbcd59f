package procedure

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// decode fills v, which can be set, from the node. It reports every key it
// does not know, every key given twice and every value of another type, and
// goes on.
func (f *textFile) decode(n *yaml.Node, v reflect.Value, path string) {
	if !f.plain(n, path) {
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		f.decode(n, v.Elem(), path)
		return
	}
	if u, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		f.decodeText(n, u, path)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		f.decodeStruct(n, v, path)
	case reflect.Slice:
		f.decodeSlice(n, v, path)
	case reflect.Map:
		f.decodeMap(n, v, path)
	case reflect.String:
		if text, ok := f.scalar(n, path); ok {
			v.SetString(text)
		}
	case reflect.Int:
		f.decodeInt(n, v, path)
	case reflect.Bool:
		if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!bool" {
			f.wrongType(n, path, "true or false")
			return
		}
		v.SetBool(n.Value == "true" || n.Value == "True" || n.Value == "TRUE")
	default:
		f.add(n, path, "wrong-type", "this field cannot be read from a file")
	}
}

// plain refuses what makes a file mean something else than it shows.
func (f *textFile) plain(n *yaml.Node, path string) bool {
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		f.add(n, path, "alias", "anchors and aliases (& and *) are not read: write the value out")
	case n.Style&yaml.TaggedStyle != 0:
		f.add(n, path, "tag", "tags such as %s are not read: write the value alone", n.Tag)
	case n.ShortTag() == "!!null":
		f.add(n, path, "empty-value", "nothing stands here: give a value or leave the key out")
	default:
		return true
	}
	return false
}

func (f *textFile) wrongType(n *yaml.Node, path, want string) {
	f.add(n, path, "wrong-type", "write %s here, not %s", want, kindWords(n))
}

// kindWords says what stands there, for a person.
func kindWords(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "keys with values"
	case yaml.SequenceNode:
		return "a list"
	}
	text := n.Value
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "…"
	}
	return strconv.Quote(text)
}

// scalar returns text. A number or a date is taken as it is written.
func (f *textFile) scalar(n *yaml.Node, path string) (string, bool) {
	if n.Kind == yaml.ScalarNode {
		switch n.ShortTag() {
		case "!!str", "!!int", "!!float", "!!timestamp":
			return n.Value, true
		}
	}
	want := "text"
	if n.Kind == yaml.MappingNode {
		want = "text, in quotes if it has a colon in it,"
	}
	f.wrongType(n, path, want)
	return "", false
}

// decodeText reads a type that reads itself from text, such as a risk class.
func (f *textFile) decodeText(n *yaml.Node, u encoding.TextUnmarshaler, path string) {
	text, ok := f.scalar(n, path)
	if !ok {
		return
	}
	err := u.UnmarshalText([]byte(text))
	if err == nil {
		return
	}
	if fes := FieldErrors(err); len(fes) > 0 {
		for _, fe := range fes {
			f.add(n, joinPath(path, fe.Path), fe.Rule, "%s", fe.Text)
		}
		return
	}
	f.add(n, path, "malformed", "%s", err)
}

// decodeInt reads a whole number in plain digits.
func (f *textFile) decodeInt(n *yaml.Node, v reflect.Value, path string) {
	i, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!int" || err != nil {
		f.wrongType(n, path, "a whole number")
		return
	}
	v.SetInt(int64(i))
}

func (f *textFile) decodeSlice(n *yaml.Node, v reflect.Value, path string) {
	if n.Kind != yaml.SequenceNode {
		f.wrongType(n, path, "a list")
		return
	}
	if len(n.Content) == 0 {
		return // an empty list is no list
	}
	items := reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content))
	for i, item := range n.Content {
		f.decode(item, items.Index(i), path+nth(i))
	}
	v.Set(items)
}

func (f *textFile) decodeMap(n *yaml.Node, v reflect.Value, path string) {
	if n.Kind != yaml.MappingNode {
		f.wrongType(n, path, "keys with values")
		return
	}
	if len(n.Content) == 0 {
		return
	}
	m := reflect.MakeMap(v.Type())
	f.eachKey(n, path, func(key *yaml.Node, value *yaml.Node, at string) {
		item := reflect.New(v.Type().Elem()).Elem()
		f.decode(value, item, at)
		m.SetMapIndex(reflect.ValueOf(key.Value), item)
	})
	v.Set(m)
}

// decodeStruct reads the keys of a type, no others.
func (f *textFile) decodeStruct(n *yaml.Node, v reflect.Value, path string) {
	if n.Kind != yaml.MappingNode {
		f.wrongType(n, path, "keys with values")
		return
	}
	fields := f.fieldsOf(v.Type())
	f.eachKey(n, path, func(key *yaml.Node, value *yaml.Node, at string) {
		index, ok := fields[key.Value]
		if !ok {
			f.add(key, at, "unknown-key", "there is no key %q here%s%s", key.Value, meant(key.Value, keysOf(fields)), commaHint(value))
			return
		}
		f.decode(value, v.Field(index), at)
	})
}

// commaHint explains a key that nobody meant to write: between braces a comma
// ends the text before it, and what follows becomes a key without a value.
func commaHint(value *yaml.Node) string {
	if value.Kind == yaml.ScalarNode && value.ShortTag() == "!!null" && value.Value == "" {
		return "; put text that has a comma in it in quotes"
	}
	return ""
}

// eachKey calls do for each key that is text and stands there once.
func (f *textFile) eachKey(n *yaml.Node, path string, do func(key, value *yaml.Node, at string)) {
	first := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		if key.Kind != yaml.ScalarNode || key.Style&yaml.TaggedStyle != 0 || key.Anchor != "" {
			f.add(key, path, "wrong-type", "a key is a plain word")
			continue
		}
		at := joinPath(path, key.Value)
		if line, twice := first[key.Value]; twice {
			f.add(key, at, "duplicate-key", "the key %q stands here twice, first on line %d: keep one", key.Value, line)
			continue
		}
		first[key.Value] = key.Line
		do(key, n.Content[i+1], at)
	}
}

// fieldsOf is yamlFields, worked out once for each type of a file.
func (f *textFile) fieldsOf(t reflect.Type) map[string]int {
	fields, ok := f.fields[t]
	if !ok {
		fields = yamlFields(t)
		if f.fields == nil {
			f.fields = map[reflect.Type]map[string]int{}
		}
		f.fields[t] = fields
	}
	return fields
}

// yamlFields maps the keys of a struct to its fields.
func yamlFields(t reflect.Type) map[string]int {
	fields := make(map[string]int, t.NumField())
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ","); name != "" && name != "-" {
			fields[name] = i
		}
	}
	return fields
}

// nth is the end of a path to an item of a list, such as [3].
func nth(i int) string { return "[" + strconv.Itoa(i) + "]" }
