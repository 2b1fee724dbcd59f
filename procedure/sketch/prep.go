package sketch

import (
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// hatchOf is what stands for a prep. Each has its own, but for the strengths of
// threadlocker, which differ in words alone; a dry surface is white.
func hatchOf(p procedure.Prep) page.Fill {
	switch p {
	case procedure.Grease:
		return page.Dotted
	case procedure.AntiSeize:
		return page.Crossed
	case procedure.LightOil:
		return page.Ringed
	case procedure.ThreadlockerLow, procedure.ThreadlockerMedium, procedure.ThreadlockerHigh:
		return page.Waved
	case procedure.PreApplied:
		return page.Bricked
	case procedure.CarbonPaste:
		return page.Grained
	default:
		return page.Blank
	}
}

// drawPrep draws a bolt cut through with what goes on its thread and on the
// contact faces; where no thread is prepared and no head, two parts that meet.
func drawPrep(v *view) *sheet {
	if len(v.threadPrep) == 0 && len(v.facePrep) == 0 {
		return nil
	}
	s := v.newSheet("prep", "What goes where", "what goes on, and what never", v.prepHatches()...)
	if v.isLeft() {
		s.plate(leftHandPlate)
	}
	if len(v.threadPrep) == 0 && v.zone == procedure.BetweenParts {
		s.meeting(v)
	} else {
		s.section(v)
	}
	s.surfaces(v)
	return s
}

func (v *view) prepHatches() []page.Fill {
	hatches := []page.Fill{page.Thin, page.Rising}
	for _, p := range slices.Concat(v.threadPrep, v.facePrep) {
		for _, one := range append([]procedure.Prep{p.Use}, p.Never...) {
			if f := hatchOf(one); f != page.Blank {
				hatches = append(hatches, f)
			}
		}
	}
	return hatches
}

// film draws a prep on a surface. Where it depends on the materials the film is
// left white with a question mark in the words; where nothing is asked for there
// is no film.
func (s *sheet) film(x, y, width, height float64, preps []procedure.PlannedPrep) {
	if len(preps) == 0 {
		return
	}
	s.Rect(x, y, width, height, filmOf(preps))
}

func filmOf(preps []procedure.PlannedPrep) page.Fill {
	first := hatchOf(preps[0].Use)
	for _, p := range preps[1:] {
		if hatchOf(p.Use) != first {
			return page.Blank
		}
	}
	return first
}

// forZone returns the preps of the face where the step is about that zone.
func (v *view) forZone(zone procedure.FaceZone) []procedure.PlannedPrep {
	if v.zone != zone && v.zone != procedure.BothFaces {
		return nil
	}
	return v.facePrep
}

// Measures of the section, in px from the left and from its top.
const (
	boltAxis   = 112.0
	filmHeight = 12.0
)

// section draws the bolt: head, the part that is clamped, the part with the
// thread, and films on the surfaces between them. Where nothing is asked for the
// surfaces touch.
func (s *sheet) section(v *view) {
	y := s.Y
	const left, right = boltAxis - 92, boltAxis + 92
	head, face := v.forZone(procedure.UnderHead), v.forZone(procedure.BetweenParts)
	under := y + 44
	clamped := under + filmRoom(head)
	between := clamped + 50
	base := between + filmRoom(face)
	s.Rect(left, clamped, right-left, 50, page.Thin)
	s.Rect(left, base, right-left, 112, page.Thin)
	s.Rect(boltAxis-30, clamped, 60, 50, page.Blank)          // the hole
	s.Rect(boltAxis-50, y+4, 100, 40, page.Blank)             // head
	s.Rect(boltAxis-22, under, 44, base+98-under, page.Blank) // shank
	for _, side := range []float64{boltAxis - 50, boltAxis + 22} {
		s.film(side, under, 28, filmHeight, head)
	}
	for _, side := range []float64{left, boltAxis + 30} {
		s.film(side, between, 62, filmHeight, face)
	}
	s.thread(base, v.threadPrep)
	if len(head) > 0 {
		s.label(boltAxis+50, under+filmHeight/2, y+30, "under head")
	}
	if len(face) > 0 {
		s.label(right, between+filmHeight/2, between+2, "contact face")
	}
	s.Y = base + 122
}

// thread draws the thread in the base with its film.
func (s *sheet) thread(base float64, preps []procedure.PlannedPrep) {
	const length = 96.0
	for _, side := range []float64{boltAxis - 38, boltAxis + 22} {
		s.film(side, base, 16, length, preps)
	}
	for turn := base + 4; turn < base+length; turn += 10 {
		s.Line(boltAxis-22, turn+6, boltAxis+22, turn, 2, "")
	}
	s.label(boltAxis+38, base+length/2, base+length/2, "thread")
}

func filmRoom(preps []procedure.PlannedPrep) float64 {
	if len(preps) == 0 {
		return 0
	}
	return filmHeight
}

// label names a surface on the right, with a line to it.
func (s *sheet) label(x, y, textY float64, text string) {
	edge := s.Right() - page.TextWidth(text, smallSize, true)
	s.Line(x, y, edge-4, textY, 2, "")
	s.Text(edge, textY+5, smallSize, page.Start, true, text)
}

// meeting draws two parts with a film between them.
func (s *sheet) meeting(v *view) {
	y := s.Y
	const right = 226.0
	s.Rect(s.Left()+2, y+4, right-s.Left(), 48, page.Thin)
	s.Rect(s.Left()+2, y+52+18, right-s.Left(), 48, page.Rising)
	s.film(s.Left()+2, y+52, right-s.Left(), 18, v.facePrep)
	s.Text(right+8, y+66, smallSize, page.Start, true, "contact face")
	s.Text(right+8, y+32, smallSize, page.Start, false, "one part")
	s.Text(right+8, y+98, smallSize, page.Start, false, "the other part")
	s.Y = y + 128
}

// surfaces says in words what goes on each surface, and what never.
func (s *sheet) surfaces(v *view) {
	if len(v.threadPrep) > 0 {
		s.surface("Thread", v.threadPrep)
	} else if v.zone != procedure.BetweenParts {
		s.say(smallSize, false, "Thread: nothing is asked for in this step.")
	}
	if len(v.facePrep) > 0 {
		name := map[procedure.FaceZone]string{procedure.BetweenParts: "Contact face", procedure.UnderHead: "Under head",
			procedure.BothFaces: "Contact face and under head"}[v.zone]
		if v.where != "" {
			name += " (" + v.where + ")"
		}
		s.surface(name, v.facePrep)
	} else {
		s.say(smallSize, false, "Contact faces: nothing is asked for in this step.")
	}
}

// surface lists what goes on a surface. More than one prep stands where it
// depends on the materials of the bike.
func (s *sheet) surface(name string, preps []procedure.PlannedPrep) {
	uses, nevers := listed(preps)
	if len(uses) > 1 {
		name += ", by the materials of the bike"
	}
	s.say(smallSize, false, name+":")
	s.Gap(3)
	for _, use := range uses {
		s.swatch(hatchOf(use), use.Words())
	}
	nevers, hasNoLocker := withoutLockers(nevers)
	for _, never := range nevers {
		s.struck(hatchOf(never), "NEVER "+never.Words())
	}
	if hasNoLocker {
		s.struck(page.Waved, "NEVER threadlocker")
	}
	s.Gap(4)
}

// listed lists the preps each once, and what is never to be used whatever the
// materials are.
func listed(preps []procedure.PlannedPrep) (uses, nevers []procedure.Prep) {
	for i, p := range preps {
		if p.Use != 0 && !slices.Contains(uses, p.Use) {
			uses = append(uses, p.Use)
		}
		if i == 0 {
			nevers = slices.Clone(p.Never)
		}
		nevers = slices.DeleteFunc(nevers, func(n procedure.Prep) bool { return !slices.Contains(p.Never, n) })
	}
	return uses, nevers
}

// withoutLockers takes the strengths of threadlocker off a list that has all of
// them, so that one line says it.
func withoutLockers(nevers []procedure.Prep) (rest []procedure.Prep, hadAll bool) {
	rest = slices.DeleteFunc(slices.Clone(nevers), func(p procedure.Prep) bool { return hatchOf(p) == page.Waved })
	if len(nevers)-len(rest) < 3 {
		return nevers, false
	}
	return rest, true
}

// struck writes what never goes on beside its sample, struck out by two bars
// that reach over its edges.
func (s *sheet) struck(f page.Fill, text string) {
	const left, width, height = 8.0, 36.0, 30.0
	x, top := s.Left()+left, s.Y
	s.Rect(x, top+1, width, height, f)
	for _, y := range []float64{top + 11, top + 21} {
		s.WhiteLine(x-left, y, x+width+left, y, 6)
		s.Line(x-left, y, x+width+left, y, 3, "")
	}
	end := s.block(x+width+left+8, top+6, textSize, true, text)
	s.Y = max(top+height+2, end) + 6
	s.tell(text)
}
