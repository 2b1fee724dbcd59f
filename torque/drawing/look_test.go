package drawing_test

import (
	"encoding/xml"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func number(tb rapid.TB, text string) float64 {
	tb.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(tb, err)
	return x
}

// Nothing is shown by color: what is painted is black, white or hatched.
func TestBlackAndWhite(t *testing.T) {
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			svg, err := s.draw(t)
			require.NoError(t, err)
			for _, e := range requireWellFormed(t, svg) {
				for _, name := range []string{"fill", "stroke"} {
					paint := attribute(e, name)
					require.True(t, paint == "" || paint == "#000" || paint == "#fff" || paint == "none" || strings.HasPrefix(paint, "url(#"), paint)
				}
				require.Empty(t, attribute(e, "style"))
				require.Empty(t, attribute(e, "href"), "nothing comes from elsewhere")
			}
		})
	}
}

// A screen reader finds a name and a description, and every hatch is defined
// once.
func TestNamedForScreenReaders(t *testing.T) {
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			svg, err := s.draw(t)
			require.NoError(t, err)
			elements := requireWellFormed(t, svg)
			require.Equal(t, "img", attribute(elements[0], "role"))
			ids := map[string]bool{}
			for _, e := range elements {
				if id := attribute(e, "id"); id != "" {
					require.False(t, ids[id], id)
					ids[id] = true
				}
			}
			for id := range strings.FieldsSeq(attribute(elements[0], "aria-labelledby")) {
				require.True(t, ids[id], id)
			}
			for _, e := range elements {
				if hatch, ok := strings.CutPrefix(attribute(e, "fill"), "url(#"); ok {
					require.True(t, ids[strings.TrimSuffix(hatch, ")")], hatch)
				}
			}
		})
	}
}

// A box is where a text stands, by the least width that fonts in use have.
type box struct {
	text                     string
	left, right, top, bottom float64
}

// texts lists the boxes of all texts.
func texts(tb rapid.TB, svg []byte) []box {
	tb.Helper()
	type text struct {
		X      float64 `xml:"x,attr"`
		Y      float64 `xml:"y,attr"`
		Size   float64 `xml:"font-size,attr"`
		Anchor string  `xml:"text-anchor,attr"`
		Text   string  `xml:",chardata"`
	}
	var drawn struct {
		Texts []text `xml:"text"`
	}
	require.NoError(tb, xml.Unmarshal(svg, &drawn))
	var out []box
	for _, one := range drawn.Texts {
		require.GreaterOrEqual(tb, one.Size, 16.0, one.Text)
		width := 0.5 * one.Size * float64(utf8.RuneCountInString(one.Text))
		left := one.X - map[string]float64{"start": 0, "middle": width / 2, "end": width}[one.Anchor]
		out = append(out, box{one.Text, left, left + width, one.Y - 0.7*one.Size, one.Y})
	}
	return out
}

// No text is smaller than 16 px, leaves the page or lies on another one.
func TestTextsHaveRoom(t *testing.T) {
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			svg, err := s.draw(t)
			require.NoError(t, err)
			requireRoom(t, svg)
		})
	}
}

func requireRoom(tb rapid.TB, svg []byte) {
	tb.Helper()
	page := requireWellFormed(tb, svg)[0]
	width, height := number(tb, attribute(page, "width")), number(tb, attribute(page, "height"))
	boxes := texts(tb, svg)
	for i, a := range boxes {
		require.True(tb, a.left >= 0 && a.right <= width && a.top >= 0 && a.bottom <= height, "%q leaves the page", a.text)
		for _, b := range boxes[:i] {
			apart := a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top
			require.True(tb, apart, "%q lies on %q", a.text, b.text)
		}
	}
}

// The line of a limit runs through the name of no other one, so that it is not
// read as a sign in it.
func TestNoLineRunsThroughTheNameOfALimit(t *testing.T) {
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			svg, err := s.draw(t)
			require.NoError(t, err)
			names := boldTexts(t, svg)
			for _, e := range requireWellFormed(t, svg) {
				if e.Name.Local != "line" || attribute(e, "stroke-dasharray") == "" {
					continue
				}
				x, top, foot := number(t, attribute(e, "x1")), number(t, attribute(e, "y1")), number(t, attribute(e, "y2"))
				for _, name := range names {
					apart := x <= name.left || x >= name.right || foot <= name.top || top >= name.bottom
					require.True(t, apart, "a line runs through %q", name.text)
				}
			}
		})
	}
}

// boldTexts lists the boxes of titles and of the names of limits.
func boldTexts(tb rapid.TB, svg []byte) []box {
	tb.Helper()
	var bold []box
	isBold := map[string]bool{}
	var drawn struct {
		Texts []struct {
			Weight string `xml:"font-weight,attr"`
			Text   string `xml:",chardata"`
		} `xml:"text"`
	}
	require.NoError(tb, xml.Unmarshal(svg, &drawn))
	for _, one := range drawn.Texts {
		isBold[one.Text] = isBold[one.Text] || one.Weight == "bold"
	}
	for _, b := range texts(tb, svg) {
		if isBold[b.text] {
			bold = append(bold, b)
		}
	}
	return bold
}
