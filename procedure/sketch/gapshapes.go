package sketch

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// plateGaps draws a plate that is closed over a tube, from the side: once for
// each side of the bike that the places name.
func (s *sheet) plateGaps(places []gapPlace) {
	const side = 166.0
	var sides []string
	for _, p := range places {
		if name := sideName(p.name); !slices.Contains(sides, name) {
			sides = append(sides, name)
		}
	}
	top, bottom := s.Y, s.Y
	for i, name := range sides {
		x := pageWidth/2 + side*(float64(i%2)-float64(min(1, len(sides)-1))/2)
		if i > 0 && i%2 == 0 {
			top = bottom
		}
		of := slices.DeleteFunc(slices.Clone(places), func(p gapPlace) bool { return sideName(p.name) != name })
		bottom = max(bottom, s.plateSide(page.Point{X: x, Y: top}, name, of))
	}
	s.Y = bottom + 8
}

// plateSide draws one side of the plate below a point, and returns where it ends.
func (s *sheet) plateSide(at page.Point, name string, places []gapPlace) float64 {
	const width, half = 156.0, 54.0
	y := at.Y
	if name != "" {
		y += textSize
		s.Text(at.X, y, textSize, page.Middle, true, name+" side")
		y += 6
	}
	upper, lower := rowsOfPlate(places)
	y = s.centered(at.X, y, width, upper)
	middle := y + 16 + half
	s.Rect(at.X-58, middle-half, 52, 2*half, page.Thin)
	s.Rect(at.X+6, middle-half, 34, 2*half, page.Falling)
	s.edge(at.X, middle-half, middle-30, upper)
	s.edge(at.X, middle+30, middle+half, lower)
	s.Circle(at.X, middle, 32, page.Blank)
	if len(upper) > 0 && !upper[0].closed {
		s.pinch(at.X, middle-half-9)
	}
	if len(lower) > 0 && !lower[0].closed {
		s.pinch(at.X, middle+half+9)
	}
	return s.centered(at.X, middle+half+18, width, lower)
}

// edge closes the gap of a plate where it has to be closed.
func (s *sheet) edge(x, top, bottom float64, places []gapPlace) {
	if len(places) > 0 && places[0].closed {
		s.Rect(x-6, top, 12, bottom-top, page.Solid)
	}
}

// pinch draws two arrowheads that point at a gap from both sides.
func (s *sheet) pinch(x, y float64) {
	for _, way := range []float64{-1, 1} {
		s.Polygon(x+way*6, y, x+way*18, y-6, x+way*18, y+6)
		s.Line(x+way*16, y, x+way*30, y, 3, "")
	}
}

// centered writes what places say around x, and returns where it ends.
func (s *sheet) centered(x, y, width float64, places []gapPlace) float64 {
	for _, p := range places {
		for _, line := range p.says(width) {
			y += smallSize
			s.Text(x, y, smallSize, page.Middle, true, line)
			y += 4
		}
	}
	return y
}

func sideName(place string) string {
	for _, word := range placeWords(place) {
		if word == "left" || word == "right" {
			return word
		}
	}
	return ""
}

// rowsOfPlate tells the upper or closed edge from the lower or open one.
func rowsOfPlate(places []gapPlace) (upper, lower []gapPlace) {
	for _, p := range places {
		words := placeWords(p.name)
		if slices.Contains(words, "lower") || slices.Contains(words, "open") || slices.Contains(words, "rear") {
			lower = append(lower, p)
			continue
		}
		upper = append(upper, p)
	}
	return upper, lower
}

func placeWords(place string) []string {
	return strings.FieldsFunc(place, func(r rune) bool { return r == ' ' || r == '-' })
}

// slotGaps draws a slot with the bolts across it, from above.
func (s *sheet) slotGaps(places []gapPlace) {
	if cells, ok := procedure.Places(names(places)); ok {
		places = slices.Clone(places)
		slices.SortStableFunc(places, func(a, b gapPlace) int {
			return cellOf(cells, names(places), a).Row - cellOf(cells, names(places), b).Row
		})
	}
	const x = 92.0
	pitch := 84.0
	for _, p := range places {
		pitch = max(pitch, 30+lineHeight*float64(len(p.says(s.Right()-x-92))))
	}
	top, height := s.Y, pitch*float64(len(places))
	s.Rect(x-58, top, 50, height, page.Thin)
	s.Rect(x+8, top, 50, height, page.Thin)
	for i, p := range places {
		y := top + pitch*float64(i) + 30
		s.Rect(x-66, y-14, 132, 12, page.Blank)
		s.Rect(x-80, y-22, 14, 28, page.Blank)
		s.pinch(x, y+14)
		s.Line(x+34, y+14, x+86, y+14, 2, "")
		for j, line := range p.says(s.Right() - x - 92) {
			s.Text(x+92, y+19+float64(j)*lineHeight, smallSize, page.Start, true, line)
		}
	}
	s.Y = top + height + 10
	if len(places) > 1 {
		s.say(textSize, true, "Open, and equally wide at "+spoken(names(places))+".")
	} else {
		s.say(textSize, true, "The slot stays open.")
	}
}

func names(places []gapPlace) []string {
	var out []string
	for _, p := range places {
		out = append(out, p.name)
	}
	return out
}

func cellOf(cells []procedure.Cell, names []string, p gapPlace) procedure.Cell {
	return cells[slices.Index(names, p.name)]
}

func spoken(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// rimGaps draws a rim with a pointer at hours of the clock.
func (s *sheet) rimGaps(places []gapPlace) {
	const radius = 88.0
	center := page.Point{X: pageWidth / 2, Y: s.Y + radius + 46}
	s.Circle(center.X, center.Y, radius, page.Blank)
	s.Circle(center.X, center.Y, radius-12, page.Blank)
	s.Circle(center.X, center.Y, 6, page.Solid)
	for _, p := range places {
		hour, err := strconv.Atoi(p.name)
		if err != nil {
			continue // said in words below
		}
		sin, cos := math.Sincos(float64(hour)*math.Pi/6 - math.Pi/2)
		at := func(r, aside float64) (x, y float64) {
			return center.X + r*cos - aside*sin, center.Y + r*sin + aside*cos
		}
		x1, y1 := at(radius+8, 0)
		x2, y2 := at(radius+20, 6)
		x3, y3 := at(radius+20, -6)
		s.Polygon(x1, y1, x2, y2, x3, y3)
		x, y := at(radius+34, 0)
		s.Text(x, y+6, textSize, page.Middle, true, p.name)
	}
	s.Text(center.X, center.Y+32, smallSize, page.Middle, false, "gap to the rim")
	s.Y = center.Y + radius + 50
	s.say(textSize, true, fmt.Sprintf("Compare the gap at %s on the clock.", spoken(names(places))))
}
