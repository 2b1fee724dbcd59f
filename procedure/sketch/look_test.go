package sketch_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// elements lists the elements of a drawing that are painted, without those
// that define hatches.
func elements(tb rapid.TB, svg []byte) (painted, all []xml.StartElement) {
	tb.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	depth := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return painted, all
		}
		require.NoError(tb, err)
		switch e := token.(type) {
		case xml.StartElement:
			if e.Name.Local == "defs" || depth > 0 {
				depth++
			}
			all = append(all, e.Copy())
			if depth == 0 {
				painted = append(painted, e.Copy())
			}
		case xml.EndElement:
			depth = max(0, depth-1)
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// requireBlackAndWhite wants nothing to be shown by color, every hatch to be
// defined once, and nothing to come from elsewhere.
func requireBlackAndWhite(tb rapid.TB, svg []byte) {
	tb.Helper()
	painted, all := elements(tb, svg)
	ids := map[string]bool{}
	for _, e := range all {
		if id := attribute(e, "id"); id != "" {
			require.False(tb, ids[id], id)
			ids[id] = true
		}
		require.Empty(tb, attribute(e, "style"))
		require.Empty(tb, attribute(e, "href"))
	}
	for _, e := range painted {
		for _, name := range []string{"fill", "stroke"} {
			switch paint := attribute(e, name); paint {
			case "", "#000", "#fff", "none":
			default:
				hatch, ok := strings.CutPrefix(strings.TrimSuffix(paint, ")"), "url(#")
				require.True(tb, ok && ids[hatch], paint)
			}
		}
	}
	for id := range strings.FieldsSeq(attribute(all[0], "aria-labelledby")) {
		require.True(tb, ids[id], id)
	}
}

var figures = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// requireInside wants every coordinate to lie on the page: corners of shapes,
// ends of lines, and circles as a whole.
func requireInside(tb rapid.TB, svg []byte, width, height float64) {
	tb.Helper()
	painted, _ := elements(tb, svg)
	for _, e := range painted {
		num := func(name string) float64 {
			x, err := strconv.ParseFloat(attribute(e, name), 64)
			require.NoError(tb, err, "%s of %v", name, e)
			return x
		}
		var xy []float64
		switch e.Name.Local {
		case "rect":
			if attribute(e, "x") == "" {
				continue // the paper itself
			}
			xy = []float64{num("x"), num("y"), num("x") + num("width"), num("y") + num("height")}
		case "circle":
			xy = []float64{num("cx") - num("r"), num("cy") - num("r"), num("cx") + num("r"), num("cy") + num("r")}
		case "line":
			xy = []float64{num("x1"), num("y1"), num("x2"), num("y2")}
		case "polygon":
			xy = coordinates(tb, attribute(e, "points"))
		case "path":
			xy = curve(tb, attribute(e, "d"))
		}
		for i := 0; i+1 < len(xy); i += 2 {
			require.True(tb, xy[i] >= 0 && xy[i] <= width && xy[i+1] >= 0 && xy[i+1] <= height, "%v leaves the page", e)
		}
	}
}

func coordinates(tb rapid.TB, text string) []float64 {
	tb.Helper()
	var out []float64
	for _, figure := range figures.FindAllString(text, -1) {
		x, err := strconv.ParseFloat(figure, 64)
		require.NoError(tb, err)
		out = append(out, x)
	}
	return out
}

// curve lists points of a path: along a bend, and the ends of an arc.
func curve(tb rapid.TB, d string) []float64 {
	tb.Helper()
	n := coordinates(tb, d)
	if strings.Contains(d, "A") {
		return []float64{n[0], n[1], n[len(n)-2], n[len(n)-1]}
	}
	require.Len(tb, n, 6, d)
	var out []float64
	for i := range 21 {
		t := float64(i) / 20
		out = append(out, (1-t)*(1-t)*n[0]+2*t*(1-t)*n[2]+t*t*n[4], (1-t)*(1-t)*n[1]+2*t*(1-t)*n[3]+t*t*n[5])
	}
	return out
}
