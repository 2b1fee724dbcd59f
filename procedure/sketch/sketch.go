package sketch

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// A Drawing shows one thing about a step.
type Drawing struct {
	// Name says what it shows: order, turn, prep, stack, gaps-plate, gaps-slot or
	// gaps-rim; in training gaps-plate-2 and so on, where the gaps depend on the
	// bike. A step has each name once at most.
	Name string
	// Caption is a line to stand below it.
	Caption string
	// SVG is a whole document.
	SVG []byte
}

// ErrNoStep says that the plan or the procedure has no such step.
var ErrNoStep = errors.New("no such step")

// Step draws a step of a plan. A step that has nothing to draw gives none.
//
// Errors: [ErrNoStep]; [page.ErrNotDrawable] for a plan that nobody could work
// by, such as one with an order that leaves a bolt out.
func Step(p *procedure.Plan, step string) ([]Drawing, error) {
	s, ok := p.Step(step)
	if !ok {
		return nil, fmt.Errorf("draw step %q of %s: %w", step, p.Procedure, ErrNoStep)
	}
	return plannedView(s).draw()
}

// A view is what the drawings need of a step, be it planned or taught.
type view struct {
	id, title, accept string
	torque            *procedure.PlannedTorque
	// threads are those that the step can have, one where it is planned.
	threads []string
	// threadPrep and facePrep are the preps that the step can ask for.
	threadPrep, facePrep []procedure.PlannedPrep
	where                string
	zone                 procedure.FaceZone
	checks               []procedure.PlannedCheck
	// whens says in words under which condition each check holds; nil on a bike.
	whens []string
	stack *procedure.PlannedStack
}

func plannedView(s *procedure.PlannedStep) *view {
	v := &view{id: s.ID, title: s.Title, accept: s.Accept, torque: s.Torque, where: s.FaceWhere, zone: s.FaceZone,
		checks: s.Checks, stack: s.Stack}
	if s.Thread != "" {
		v.threads = []string{s.Thread}
	}
	if s.ThreadPrep != nil {
		v.threadPrep = []procedure.PlannedPrep{*s.ThreadPrep}
	}
	if s.FacePrep != nil {
		v.facePrep = []procedure.PlannedPrep{*s.FacePrep}
	}
	return v
}

// draw draws what there is to draw, in the order of the package comment.
func (v *view) draw() ([]Drawing, error) {
	order, err := drawOrder(v)
	if err != nil {
		return nil, fmt.Errorf("draw step %q: %w", v.id, err)
	}
	sheets := append([]*sheet{order, drawTurn(v), drawPrep(v), drawStack(v)}, drawGaps(v)...)
	var out []Drawing
	for _, s := range sheets {
		if s == nil {
			continue
		}
		svg, err := s.SVG(s.caption, strings.Join(s.said, " "))
		if err != nil {
			return nil, fmt.Errorf("draw step %q: %w", v.id, err)
		}
		out = append(out, Drawing{Name: s.name, Caption: s.caption, SVG: svg})
	}
	return out, nil
}

// The page and its texts, in px.
const (
	pageWidth = 360.0
	margin    = 12.0
	headSize  = 18.0
	textSize  = 15.0
	smallSize = 14.0 // no text is smaller
)

// A sheet is a page of this package under construction.
type sheet struct {
	*page.Page
	name, caption string
	// said is what the desc element says, in sentences.
	said []string
}

// newSheet begins a drawing with its head. caption says what it shows in a line.
func (v *view) newSheet(name, head, caption string, hatches ...page.Fill) *sheet {
	slices.Sort(hatches)
	s := &sheet{name: name, caption: v.title + ": " + caption, Page: page.New(page.Format{
		Kind: plainID(v.id) + "-" + name, Width: pageWidth, Margin: margin, Hatches: slices.Compact(hatches),
	})}
	s.Paragraph(headSize, true, head)
	s.Gap(8)
	return s
}

// plainID keeps what may stand in an id and needs no quoting in url().
func plainID(id string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '-'
	}, "step-"+id)
}

// say writes a paragraph, here and in the desc element.
func (s *sheet) say(size float64, isBold bool, text string) {
	s.Paragraph(size, isBold, text)
	s.tell(text)
}

// tell puts a sentence into the desc element alone.
func (s *sheet) tell(text string) {
	s.said = append(s.said, strings.TrimRight(text, ". ")+".")
}

// block writes text to the right of x, from y down, and returns where it ends.
func (s *sheet) block(x, y, size float64, isBold bool, text string) float64 {
	for _, line := range page.Wrapped(text, s.Right()-x, size, isBold) {
		y += size
		s.Text(x, y, size, page.Start, isBold, line)
		y += 0.3 * size
	}
	return y
}

// plate writes white words on a black bar across the page.
func (s *sheet) plate(text string) {
	const height = 30
	s.Rect(s.Left(), s.Y, s.Width(), height, page.Solid)
	s.WhiteText(pageWidth/2, s.Y+21, textSize, page.Middle, true, text)
	s.Y += height + 8
	s.tell(text)
}
