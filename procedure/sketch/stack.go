package sketch

import (
	"fmt"
	"strconv"

	"github.com/tightwright/tightwright/torque/drawing/page"
)

// mostSprockets is how many are drawn one by one.
const mostSprockets = 16

// drawStack draws sprockets and spacers on their body, from the shoulder to
// the end of it, cut through above the axle.
func drawStack(v *view) *sheet {
	if v.stack == nil {
		return nil
	}
	s := v.newSheet("stack", "What goes on the body", "sprockets and spacers in order",
		page.Thin, page.Falling, page.Crossed)
	count, err := strconv.Atoi(v.stack.Sprockets)
	isKnown := err == nil && count >= 1 && count <= mostSprockets
	if !isKnown {
		count = 5
	}
	hasSpacer := v.stack.SpacerMM != "" && v.stack.SpacerMM != "0"
	s.stack(count, isKnown, hasSpacer)
	s.order(v, count, isKnown, hasSpacer)
	return s
}

// Measures of the drawing of a stack, in px.
const (
	stackLeft   = 58.0  // where the shoulder ends
	stackRight  = 338.0 // outer face of the last sprocket
	stackProud  = 9.0   // how far that stands beyond the body
	stackHeight = 150.0
)

func (s *sheet) stack(count int, isKnown, hasSpacer bool) {
	foot, x := s.Y+stackHeight, stackLeft
	s.Text(s.Left(), s.Y+smallSize, smallSize, page.Start, false, "inner side")
	s.Text(s.Right(), s.Y+smallSize, smallSize, page.End, false, "outer side")
	s.Rect(stackLeft-22, foot-34, 22, 70, page.Thin)
	s.Rect(stackLeft, foot, stackRight-stackProud-stackLeft, 36, page.Thin)
	if hasSpacer {
		s.Rect(x, foot-26, 14, 26, page.Crossed)
		x += 14
	}
	pitch := (stackRight - x) / (float64(count) - 0.5)
	width := 0.5 * pitch
	for i := range count {
		height := 100.0
		if count > 1 {
			height -= 56 * float64(i) / float64(count-1)
		}
		if i > 0 {
			s.Rect(x-pitch+width, foot-16, pitch-width, 16, page.Falling)
		}
		s.Rect(x, foot-height, width, height, page.Blank)
		s.Text(x+width/2, foot-height-6, smallSize, page.Middle, true, sprocketLabel(i, count, isKnown))
		x += pitch
	}
	s.proud(foot)
}

func sprocketLabel(i, count int, isKnown bool) string {
	switch {
	case isKnown || i < 2:
		return strconv.Itoa(i + 1)
	case i == count-1:
		return "last"
	default:
		return "…"
	}
}

// proud marks how far the last sprocket stands beyond the end of the body.
func (s *sheet) proud(foot float64) {
	end := stackRight - stackProud
	s.Line(end, foot+36, end, foot+62, 2, "4 3")
	s.Line(stackRight, foot, stackRight, foot+62, 2, "4 3")
	s.Line(end-26, foot+54, end-10, foot+54, 3, "")
	s.Polygon(end, foot+54, end-12, foot+48, end-12, foot+60)
	s.Polygon(stackRight, foot+54, stackRight+10, foot+48, stackRight+10, foot+60)
	s.Text(end-32, foot+59, textSize, page.End, true, "stands beyond the body")
	s.Y = foot + 70
}

// order says in words what is pushed on after what.
func (s *sheet) order(v *view, count int, isKnown, hasSpacer bool) {
	if words := spacerWords(v.stack.SpacerMM, hasSpacer); hasSpacer {
		s.swatch(page.Crossed, words)
	} else {
		s.say(textSize, false, words)
	}
	what := "Sprockets, as many as on the build sheet: the largest first, markings outward."
	if isKnown {
		what = fmt.Sprintf("%d sprockets: 1, the largest, first, %d, the smallest, last, markings outward.", count, count)
	}
	s.swatch(page.Blank, what)
	s.swatch(page.Falling, "Spacers between them as supplied.")
	low, high := v.stack.ProudMin, v.stack.ProudMax
	if low != "" && high != "" {
		s.say(textSize, true, fmt.Sprintf("The last sprocket stands %s mm to %s mm beyond the end of the body.", low, high))
	}
	s.say(smallSize, false, "Not to scale: what stands out is drawn too large.")
}

func spacerWords(millimeters string, hasSpacer bool) string {
	switch {
	case hasSpacer:
		return "First " + millimeters + " mm of spacers behind the cassette, flat on the shoulder."
	case millimeters == "0":
		return "No spacer behind the cassette."
	default:
		return "Spacers behind the cassette: as the fit check says."
	}
}

// swatch writes words beside a sample of a fill.
func (s *sheet) swatch(f page.Fill, text string) {
	const width, height = 36.0, 24.0
	top := s.Y
	s.Rect(s.Left()+1, top+1, width, height, f)
	end := s.block(s.Left()+width+12, top+3, textSize, true, text)
	s.Y = max(top+height+4, end) + 6
	s.tell(text)
}
