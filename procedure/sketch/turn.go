package sketch

import (
	"math"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/torque/drawing/page"
	"github.com/tightwright/tightwright/torque/joint"
)

// leftHandPlate is what a left-hand thread is called wherever it is drawn.
const leftHandPlate = "LEFT-HAND: counterclockwise tightens"

// drawTurn draws which way the thread tightens, in steps that turn it: not
// where it is only prepared, unless it is a left-hand one.
func drawTurn(v *view) *sheet {
	threads := v.hands()
	if len(threads) == 0 || v.torque == nil && len(v.threadPrep) > 0 && !threads[0].isLeft() {
		return nil
	}
	s := v.newSheet("turn", "Which way it tightens", "which way it tightens", page.Thin)
	for _, t := range threads {
		s.turn(t)
	}
	s.say(smallSize, false, "Seen from the head or the flange, with the thread pointing away from you. From the far end it looks the other way round.")
	return s
}

// A handed thread is one with its hand, or one whose hand is not known.
type handed struct {
	thread  string
	hand    joint.Hand
	isKnown bool
}

func (h handed) isLeft() bool { return h.isKnown && h.hand == joint.LeftHand }

// hands lists one thread for each hand that the step's thread can have, left
// first. The hand is read from the thread once more, because a plan that could
// not read it leaves the hand at its zero value.
func (v *view) hands() []handed {
	var left, right, unknown []handed
	for _, text := range v.threads {
		t, err := joint.ParseThread(text)
		switch {
		case err != nil:
			unknown = append(unknown, handed{thread: text})
		case t.Hand() == joint.LeftHand:
			left = append(left, handed{text, joint.LeftHand, true})
		default:
			right = append(right, handed{text, joint.RightHand, true})
		}
	}
	var out []handed
	for _, group := range [][]handed{left, right, unknown} {
		if len(group) > 0 {
			out = append(out, together(group))
		}
	}
	return out
}

// together names the threads of one hand in one line.
func together(group []handed) handed {
	var threads []string
	for _, h := range group {
		if !slices.Contains(threads, h.thread) {
			threads = append(threads, h.thread)
		}
	}
	out := group[0]
	out.thread = strings.Join(threads, ", ")
	return out
}

// isLeft reports whether every thread that the step can have is left-hand.
func (v *view) isLeft() bool {
	hands := v.hands()
	return len(hands) == 1 && hands[0].isLeft()
}

const turnHeight = 196.0

// turn draws one hand: the head from in front with its arrow on the left, the
// bolt from the side with the eye on the right.
func (s *sheet) turn(h handed) {
	if !h.isKnown {
		s.plate("Which way it tightens is NOT KNOWN")
		s.say(textSize, true, "Thread "+h.thread+" cannot be read: ask the foreman before you turn it.")
		s.Gap(8)
		return
	}
	center := page.Point{X: s.Left() + 94, Y: s.Y + turnHeight/2 - 2}
	if h.isLeft() {
		s.plate(leftHandPlate)
		center.Y = s.Y + turnHeight/2 - 2
		s.Rect(center.X-92, center.Y-92, 184, 184, page.Blank)
		s.Rect(center.X-86, center.Y-86, 172, 172, page.Blank)
	} else {
		s.Circle(center.X, center.Y, 92, page.Blank)
	}
	s.front(center, 38)
	s.curl(center, 62, h.isLeft())
	s.aside(page.Point{X: 236, Y: center.Y})
	s.Y += turnHeight + 4
	if h.isLeft() {
		s.say(headSize, true, "Counterclockwise tightens.")
		s.say(textSize, false, "Thread "+h.thread+", LEFT-HAND. Clockwise undoes.")
	} else {
		s.say(headSize, true, "Clockwise tightens.")
		s.say(textSize, false, "Thread "+h.thread+", right-hand. Counterclockwise undoes.")
	}
	s.Gap(6)
}

// front draws a head with a socket, as a tool meets it.
func (s *sheet) front(at page.Point, radius float64) {
	s.Circle(at.X, at.Y, radius, page.Thin)
	var xy []float64
	for i := range 6 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 3)
		xy = append(xy, at.X+0.52*radius*cos, at.Y+0.52*radius*sin)
	}
	s.Shape(page.Blank, xy...)
}

// curl draws the arrow around a point: a ring that is open at the bottom, with
// a dot where it begins.
func (s *sheet) curl(at page.Point, radius float64, isCounter bool) {
	const from, to, width = 130.0, 395.0, 9.0
	s.Arc(at, radius, from, to, width)
	begin, end, turn := from, to, 1.0
	if isCounter {
		begin, end, turn = to, from, -1
	}
	sin, cos := math.Sincos(begin * math.Pi / 180)
	s.Circle(at.X+radius*cos, at.Y+radius*sin, 8, page.Solid)
	sin, cos = math.Sincos(end * math.Pi / 180)
	tip := page.Point{X: at.X + radius*cos - turn*26*sin, Y: at.Y + radius*sin + turn*26*cos}
	s.Polygon(tip.X, tip.Y, at.X+(radius+17)*cos, at.Y+(radius+17)*sin, at.X+(radius-17)*cos, at.Y+(radius-17)*sin)
}

// aside draws the bolt from the side: where the eye is, and that the thread
// goes away from it.
func (s *sheet) aside(at page.Point) {
	s.Rect(at.X, at.Y-26, 22, 52, page.Thin)
	s.Rect(at.X+22, at.Y-13, 74, 26, page.Blank)
	for x := at.X + 32; x < at.X+94; x += 10 {
		s.Line(x, at.Y-13, x-6, at.Y+13, 2, "")
	}
	s.Line(at.X-22, at.Y, at.X-12, at.Y, 4, "")
	s.Polygon(at.X-3, at.Y, at.X-14, at.Y-8, at.X-14, at.Y+8)
	s.Text(s.Right(), at.Y-40, smallSize, page.End, true, "look from head")
	s.Line(at.X+30, at.Y+34, at.X+74, at.Y+34, 4, "")
	s.Polygon(at.X+90, at.Y+34, at.X+72, at.Y+25, at.X+72, at.Y+43)
	s.Text(s.Right(), at.Y+62, smallSize, page.End, false, "goes in this way")
}
