package card_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/server/card"
)

// friday is a day on which the tools of the invented rack are in date.
var friday = time.Date(2025, 3, 7, 9, 0, 0, 0, time.UTC)

// loaded is the built-in catalogue, read once: it never changes.
var loaded = sync.OnceValues(func() ([]*procedure.Resolved, *procedure.Vocabulary) {
	c, err := catalogue.Load()
	if err != nil {
		panic(err)
	}
	var all []*procedure.Resolved
	for _, id := range c.IDs() {
		r, err := c.Resolve(id)
		if err != nil {
			panic(err)
		}
		all = append(all, r)
	}
	return all, c.Vocabulary
})

func sheet(t testing.TB, name string) *procedure.Sheet {
	t.Helper()
	file := filepath.Join("../../testdata/sheets", name+".yaml")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	_, vocabulary := loaded()
	s, err := procedure.ReadSheet(file, data, vocabulary)
	require.NoError(t, err)
	return s
}

func rack(t testing.TB) []procedure.Tool {
	t.Helper()
	const file = "../../testdata/week/tools.yaml"
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	tools, err := procedure.ReadTools(file, data)
	require.NoError(t, err)
	return tools
}

// whole plans all work on a bike with the invented rack.
func whole(t testing.TB, s *procedure.Sheet) *procedure.Whole {
	t.Helper()
	procedures, _ := loaded()
	w, err := procedure.NewWhole(procedures, s, rack(t), friday, procedure.Policy{})
	require.NoError(t, err)
	return w
}

func write(t testing.TB, c card.Card) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, card.Write(&out, c))
	return out.String()
}

// A node is an element of a page with what is in it.
type node struct {
	name  string
	attrs map[string]string
	text  string // of it and all below, spaces folded
	below []*node
}

// parse reads a page. The card closes every element, which a browser does not
// ask for and a reader of XML does.
func parse(t testing.TB, page string) *node {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(strings.TrimPrefix(page, "<!DOCTYPE html>\n")))
	d.Entity = xml.HTMLEntity
	root := &node{}
	stack := []*node{root}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.StartElement:
			n := &node{name: x.Name.Local, attrs: map[string]string{}}
			for _, a := range x.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			top := stack[len(stack)-1]
			top.below = append(top.below, n)
			stack = append(stack, n)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			for _, n := range stack {
				n.text += string(x)
			}
		}
	}
	root.each(func(n *node) { n.text = strings.Join(strings.Fields(n.text), " ") })
	return root
}

func (n *node) each(do func(*node)) {
	do(n)
	for _, b := range n.below {
		b.each(do)
	}
}

// all lists the elements of a name and a class; an empty class is any.
func (n *node) all(name, class string) []*node {
	var out []*node
	n.each(func(x *node) {
		if x.name == name && (class == "" || strings.Contains(" "+x.attrs["class"]+" ", " "+class+" ")) {
			out = append(out, x)
		}
	})
	return out
}
