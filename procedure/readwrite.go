package procedure

import (
	"bytes"
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// writeYAML writes v in the one form that this package writes: two spaces of
// indent, fields in the order of the type, keys of a map in order, nothing
// that is empty. What it writes, decode reads back as the same value.
func writeYAML(v any) ([]byte, error) {
	n, err := yamlNode(reflect.ValueOf(v))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(n); err != nil {
		return nil, fmt.Errorf("write YAML: %w", err)
	}
	if err := enc.Close(); err != nil {
		return nil, fmt.Errorf("write YAML: %w", err)
	}
	return out.Bytes(), nil
}

func yamlNode(v reflect.Value) (*yaml.Node, error) {
	if v.Kind() == reflect.Pointer {
		return yamlNode(v.Elem())
	}
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		text, err := m.MarshalText()
		return textNode(string(text)), err
	}
	switch v.Kind() {
	case reflect.Struct:
		return yamlStruct(v)
	case reflect.Slice:
		n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
		for i := range v.Len() {
			item, err := yamlNode(v.Index(i))
			if err != nil {
				return nil, err
			}
			n.Content = append(n.Content, item)
		}
		return n, nil
	case reflect.Map:
		return yamlMap(v)
	case reflect.String:
		return textNode(v.String()), nil
	case reflect.Int:
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: strconv.FormatInt(v.Int(), 10)}, nil
	case reflect.Bool:
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!bool", Value: strconv.FormatBool(v.Bool())}, nil
	}
	return nil, fmt.Errorf("write YAML: a %s cannot be written", v.Type())
}

// textNode quotes whatever is more than plain words on one line, or would be
// read back as something else.
func textNode(text string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
	isPlain := strings.IndexFunc(text, func(r rune) bool { return r < ' ' || r > '~' && r < 0xa0 || r > 0x2027 && r < 0x202a || r == 0xfeff }) < 0
	if text == "" || !isPlain || strings.TrimSpace(text) != text {
		n.Style = yaml.DoubleQuotedStyle
	}
	return n
}

func yamlStruct(v reflect.Value) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	for i := range v.NumField() {
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("yaml"), ",")
		field := v.Field(i)
		if name == "" || name == "-" || isNothing(field) {
			continue
		}
		value, err := yamlNode(field)
		if err != nil {
			return nil, err
		}
		n.Content = append(n.Content, textNode(name), value)
	}
	return n, nil
}

// isNothing reports whether a field is left out.
func isNothing(v reflect.Value) bool {
	if v.Kind() == reflect.Slice || v.Kind() == reflect.Map {
		return v.Len() == 0
	}
	return v.IsZero()
}

func yamlMap(v reflect.Value) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	byKey := map[string]reflect.Value{}
	for _, k := range v.MapKeys() {
		byKey[k.String()] = v.MapIndex(k)
	}
	for _, k := range keysOf(byKey) {
		value, err := yamlNode(byKey[k])
		if err != nil {
			return nil, err
		}
		n.Content = append(n.Content, textNode(k), value)
	}
	return n, nil
}
