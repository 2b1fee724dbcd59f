package page_test

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque/drawing/page"
)

func Example() {
	p := page.New(page.Format{Kind: "bolt", Width: 120, Margin: 10, Hatches: []page.Fill{page.Thin}})
	p.Paragraph(16, true, "A bolt")
	p.Circle(60, p.Y+30, 20, page.Thin)
	p.Y += 60
	svg, err := p.SVG("A bolt", "A bolt from in front.")
	if err != nil {
		panic(err)
	}
	fmt.Println(strings.SplitN(string(svg), "\n", 3)[1])
	// Output: <title id="bolt-title">A bolt</title>
}

// What is no number is found, wherever it is used.
func TestNotANumber(t *testing.T) {
	for _, tt := range []struct {
		name string
		draw func(*page.Page)
	}{
		{"line", func(p *page.Page) { p.Line(0, math.NaN(), 1, 1, 2, "") }},
		{"arc", func(p *page.Page) { p.Arc(page.Point{X: math.Inf(1)}, 1, 0, 90, 2) }},
		{"bend", func(p *page.Page) { p.Bend(page.Point{}, page.Point{Y: math.NaN()}, page.Point{}, 2) }},
		{"shape", func(p *page.Page) { p.Shape(page.Blank, 1, math.Inf(-1), 2, 2) }},
		{"text", func(p *page.Page) { p.WhiteText(math.NaN(), 1, 16, page.Start, true, "x") }},
		{"height", func(p *page.Page) { p.Y = math.NaN() }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := page.New(page.Format{Kind: "k", Width: 100, Margin: 10})
			tt.draw(p)
			_, err := p.SVG("t", "d")
			require.ErrorIs(t, err, page.ErrNotDrawable)
		})
	}
}

// Every hatch has a name and art of its own: two that look alike would be one
// color.
func TestHatchesDiffer(t *testing.T) {
	hatches := []page.Fill{page.Rising, page.Falling, page.Dotted, page.Crossed, page.Waved, page.Ringed, page.Grained, page.Bricked, page.Thin}
	p := page.New(page.Format{Kind: "k", Width: 100, Margin: 10, Hatches: hatches})
	svg, err := p.SVG("t", "d")
	require.NoError(t, err)
	var drawn struct {
		Patterns []struct {
			ID  string `xml:"id,attr"`
			Art string `xml:",innerxml"`
		} `xml:"defs>pattern"`
	}
	require.NoError(t, xml.Unmarshal(svg, &drawn))
	require.Len(t, drawn.Patterns, len(hatches))
	seen := map[string]bool{}
	for _, one := range drawn.Patterns {
		require.False(t, seen[one.ID] || seen[one.Art], one.ID)
		seen[one.ID], seen[one.Art] = true, true
	}
}

// Wrapped loses no sign and makes no line wider than it may be, and keeps a
// number with its unit.
func TestWrapped(t *testing.T) {
	require.Equal(t, []string{"pull at", "5 N·m"}, page.Wrapped("pull at 5 N·m", 66, 16, false))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zµ·0-9 -]{0,120}`).Draw(t, "text")
		width := rapid.Float64Range(20, 400).Draw(t, "width")
		lines := page.Wrapped(text, width, 16, true)
		for _, line := range lines {
			require.True(t, page.TextWidth(line, 16, true) <= width+1e-9 || len([]rune(line)) == 1, line)
		}
		squeezed := func(s string) string { return strings.Join(strings.Fields(s), "") }
		require.Equal(t, squeezed(text), squeezed(strings.Join(lines, "")))
	})
}
