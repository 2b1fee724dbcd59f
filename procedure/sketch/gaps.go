package sketch

import (
	"slices"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// A gapPlace is one place where a gap is looked at.
type gapPlace struct {
	name string
	// limit is how wide it may be, in words; empty where the check has none.
	limit  string
	closed bool
}

// says are the lines that stand beside the place.
func (g gapPlace) says(width float64) []string {
	text := g.name
	switch {
	case g.closed:
		text += ": no gap"
	case g.limit != "":
		text += ": " + g.limit
	}
	return page.Wrapped(text, width, smallSize, true)
}

// A gapView is what is drawn together: gaps of one shape that hold under one
// condition. On a bike there is none, in training there can be several.
type gapView struct {
	shape  procedure.GapShape
	when   string
	places []gapPlace
}

// gapViews lists what the step's checks name, in their order.
func gapViews(v *view) []gapView {
	var out []gapView
	for i, c := range v.checks {
		if c.Gap == nil {
			continue
		}
		when := ""
		if v.whens != nil {
			when = v.whens[i]
		}
		at := slices.IndexFunc(out, func(g gapView) bool { return g.shape == c.Gap.Of && g.when == when })
		if at < 0 {
			at = len(out)
			out = append(out, gapView{shape: c.Gap.Of, when: when})
		}
		out[at].add(c)
	}
	return out
}

// add takes the places of a check, each once.
func (g *gapView) add(c procedure.PlannedCheck) {
	for _, at := range c.Gap.At {
		if !slices.ContainsFunc(g.places, func(p gapPlace) bool { return p.name == at }) {
			g.places = append(g.places, gapPlace{name: at, limit: limitWords(c), closed: c.Gap.Closed})
		}
	}
}

func limitWords(c procedure.PlannedCheck) string {
	isZero := strings.Trim(c.Min, "0.") == ""
	switch {
	case c.Kind != procedure.Measure, c.Max == "" && isZero:
		return ""
	case c.Max == "":
		return c.Min + " " + c.Unit + " or more"
	case isZero:
		return "at most " + c.Max + " " + c.Unit
	default:
		return c.Min + " " + c.Unit + " to " + c.Max + " " + c.Unit
	}
}

// drawGaps draws the gaps that are compared in a step, one drawing for each
// shape and condition.
func drawGaps(v *view) []*sheet {
	var out []*sheet
	shapes := map[procedure.GapShape]int{}
	for _, g := range gapViews(v) {
		shapes[g.shape]++
		name := "gaps-" + g.shape.String()
		if n := shapes[g.shape]; n > 1 {
			name += "-" + strconv.Itoa(n)
		}
		s := v.newSheet(name, "Gaps to compare", "gaps to compare", page.Thin, page.Falling)
		if g.when != "" {
			s.say(smallSize, false, "Where "+g.when+".")
			s.Gap(6)
		}
		s.gaps(g)
		if v.accept != "" {
			s.say(textSize, false, "Good is: "+v.accept)
		}
		out = append(out, s)
	}
	return out
}

func (s *sheet) gaps(g gapView) {
	switch g.shape {
	case procedure.PlateGap:
		s.plateGaps(g.places)
	case procedure.SlotGap:
		s.slotGaps(g.places)
	case procedure.RimGap:
		s.rimGaps(g.places)
	}
	for _, p := range g.places {
		s.tell(strings.Join(p.says(1e6), " "))
	}
}
