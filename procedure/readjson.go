package procedure

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
)

// jsonDepth is how deep JSON may nest; a procedure needs seven.
const jsonDepth = 32

// jsonNode turns JSON into the tree that YAML gives, with the line of each
// value and every key as often as it stands there.
func jsonNode(data []byte) (*yaml.Node, error) {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	r := &jsonReader{dec: dec, data: data, line: 1}
	return r.value(0)
}

type jsonReader struct {
	dec      *json.Decoder
	data     []byte
	at, line int
}

// token returns the next token and the line it ends on.
func (r *jsonReader) token() (json.Token, int, error) {
	t, err := r.dec.Token()
	if err != nil {
		return nil, 0, err
	}
	end := int(r.dec.InputOffset())
	r.line += bytes.Count(r.data[r.at:end], []byte("\n"))
	r.at = end
	return t, r.line, nil
}

func (r *jsonReader) value(depth int) (*yaml.Node, error) {
	if depth > jsonDepth {
		return nil, fmt.Errorf("nested deeper than %d", jsonDepth)
	}
	t, line, err := r.token()
	if err != nil {
		return nil, err
	}
	scalar := func(tag, text string) *yaml.Node {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: tag, Value: text, Line: line}
	}
	switch t := t.(type) {
	case json.Delim:
		n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: line}
		if t == '{' {
			n.Kind, n.Tag = yaml.MappingNode, "!!map"
		}
		return n, r.items(n, depth)
	case string:
		return scalar("!!str", t), nil
	case json.Number:
		if strings.ContainsAny(t.String(), ".eE") {
			return scalar("!!float", t.String()), nil
		}
		return scalar("!!int", t.String()), nil
	case bool:
		return scalar("!!bool", fmt.Sprint(t)), nil
	}
	return scalar("!!null", "null"), nil
}

// items reads keys and values up to the closing bracket.
func (r *jsonReader) items(n *yaml.Node, depth int) error {
	for r.dec.More() {
		if n.Kind == yaml.MappingNode {
			t, line, err := r.token()
			if err != nil {
				return err
			}
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: fmt.Sprint(t), Line: line})
		}
		item, err := r.value(depth + 1)
		if err != nil {
			return err
		}
		n.Content = append(n.Content, item)
	}
	_, _, err := r.token()
	return err
}
