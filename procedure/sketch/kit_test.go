package sketch_test

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

var monday = time.Date(2025, 3, 3, 9, 0, 0, 0, time.UTC)

var builtIn = sync.OnceValues(func() (*catalogue.Catalogue, error) { return catalogue.Load() })

func load(tb testing.TB) *catalogue.Catalogue {
	tb.Helper()
	c, err := builtIn()
	require.NoError(tb, err)
	return c
}

func resolve(tb testing.TB, id string) *procedure.Resolved {
	tb.Helper()
	r, err := load(tb).Resolve(id)
	require.NoError(tb, err)
	return r
}

// sheetFiles lists the sheets of the invented bikes.
func sheetFiles(tb testing.TB) []string {
	tb.Helper()
	var out []string
	for _, pattern := range []string{"../../testdata/sheets/*.yaml", "../../testdata/week/bikes/*.yaml", "../catalogue/testdata/wheels-*.yaml"} {
		files, err := filepath.Glob(pattern)
		require.NoError(tb, err)
		require.NotEmpty(tb, files, pattern)
		out = append(out, files...)
	}
	return out
}

func readSheet(tb testing.TB, file string) *procedure.Sheet {
	tb.Helper()
	data, err := os.ReadFile(file)
	require.NoError(tb, err)
	s, err := procedure.ReadSheet(file, data, load(tb).Vocabulary)
	require.NoError(tb, err)
	return s
}

// A seen is what can be read from a drawing.
type seen struct {
	Width  string `xml:"width,attr"`
	Height string `xml:"height,attr"`
	Box    string `xml:"viewBox,attr"`
	Role   string `xml:"role,attr"`
	Title  string `xml:"title"`
	Desc   string `xml:"desc"`
	Texts  []struct {
		X      float64 `xml:"x,attr"`
		Y      float64 `xml:"y,attr"`
		Size   float64 `xml:"font-size,attr"`
		Anchor string  `xml:"text-anchor,attr"`
		Weight string  `xml:"font-weight,attr"`
		Text   string  `xml:",chardata"`
	} `xml:"text"`
}

// read reads a drawing to its end as XML.
func read(tb rapid.TB, svg []byte) seen {
	tb.Helper()
	var out seen
	require.NoError(tb, xml.Unmarshal(svg, &out), string(svg))
	return out
}

// words are all texts of a drawing in the order in which they stand there,
// without the spaces at which they may be broken.
func (s seen) words() string {
	var out strings.Builder
	for _, t := range s.Texts {
		out.WriteString(squeezed(t.Text))
	}
	return out.String()
}

func squeezed(text string) string { return strings.Join(strings.Fields(text), "") }

type rect struct {
	text                     string
	left, right, top, bottom float64
}

// rects are the boxes of the texts, by the least width that fonts in use have,
// as for the drawings of joints.
func (s seen) rects() []rect {
	out := make([]rect, 0, len(s.Texts))
	for _, t := range s.Texts {
		width := 0.5 * t.Size * float64(utf8.RuneCountInString(t.Text))
		left := t.X - map[string]float64{"start": 0, "middle": width / 2, "end": width}[t.Anchor]
		out = append(out, rect{t.Text, left, left + width, t.Y - 0.7*t.Size, t.Y})
	}
	return out
}

// requireSound holds a drawing to what all of them keep.
func requireSound(tb rapid.TB, svg []byte) seen {
	tb.Helper()
	s := read(tb, svg)
	require.Equal(tb, "img", s.Role)
	require.NotEmpty(tb, s.Title)
	require.NotEmpty(tb, s.Desc)
	require.Equal(tb, "360", s.Width)
	require.Equal(tb, "0 0 "+s.Width+" "+s.Height, s.Box)
	height, err := strconv.ParseFloat(s.Height, 64)
	require.NoError(tb, err)
	rects := s.rects()
	for i, a := range rects {
		require.GreaterOrEqual(tb, s.Texts[i].Size, 14.0, a.text)
		require.True(tb, a.left >= 0 && a.right <= 360 && a.top >= 0 && a.bottom <= height, "%q leaves the page: %+v", a.text, a)
		for _, b := range rects[:i] {
			apart := a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top
			require.True(tb, apart, "%q lies on %q", a.text, b.text)
		}
	}
	requireInside(tb, svg, 360, height)
	requireBlackAndWhite(tb, svg)
	return s
}

func plan(tb testing.TB, id, file string) *procedure.Plan {
	tb.Helper()
	p, err := procedure.NewPlan(resolve(tb, id), readSheet(tb, file), nil, monday, procedure.Policy{})
	require.NoError(tb, err)
	return p
}
