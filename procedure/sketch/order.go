package sketch

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// mostBolts is how many bolts are drawn at their places; more are listed.
const mostBolts = 16

// drawOrder draws the bolts of a step with the order in which they are pulled,
// and the passes.
func drawOrder(v *view) (*sheet, error) {
	t := v.torque
	if t == nil {
		return nil, nil
	}
	turns, err := orderOf(t)
	if err != nil {
		return nil, err
	}
	head := "Bolts in order, and passes"
	if len(turns) == 1 {
		head = "The bolt and its passes"
	}
	s := v.newSheet("order", head, "bolts, order and passes", page.Thin)
	if v.isLeft() {
		s.plate(leftHandPlate)
	}
	s.pattern(t, turns)
	s.tellOrder(turns, t.Bolts)
	s.tellSides(t)
	s.passes(t)
	return s, nil
}

// orderOf returns the turn of each bolt, counted from 0.
func orderOf(t *procedure.PlannedTorque) ([]int, error) {
	order := t.Order
	if len(order) == 0 {
		order = t.Bolts
	}
	if len(t.Bolts) == 0 || len(order) != len(t.Bolts) || len(t.Passes) == 0 {
		return nil, fmt.Errorf("%w: a group has bolts and passes, and an order of all bolts", page.ErrNotDrawable)
	}
	turns := make([]int, len(t.Bolts))
	seen := make(map[string]bool, len(order))
	for turn, name := range order {
		bolt := slices.Index(t.Bolts, name)
		if bolt < 0 || seen[name] {
			return nil, fmt.Errorf("%w: the order names each bolt once, and %q is not so", page.ErrNotDrawable, name)
		}
		seen[name] = true
		turns[bolt] = turn
	}
	return turns, nil
}

// byTurn lists the bolts in the order in which they are pulled.
func byTurn(turns []int) []int {
	out := make([]int, len(turns))
	for bolt, turn := range turns {
		out[turn] = bolt
	}
	return out
}

// ordinal writes a turn as it is spoken: 1st, 2nd, 11th.
func ordinal(turn int) string {
	n := turn + 1
	switch {
	case n%100 >= 11 && n%100 <= 13:
	case n%10 == 1:
		return fmt.Sprintf("%dst", n)
	case n%10 == 2:
		return fmt.Sprintf("%dnd", n)
	case n%10 == 3:
		return fmt.Sprintf("%drd", n)
	}
	return fmt.Sprintf("%dth", n)
}

// boltName is what stands beside a bolt: a bare sign is no name for itself, and
// could be taken for the turn.
func boltName(name string) string {
	if len([]rune(name)) <= 2 {
		return "bolt " + name
	}
	return name
}

func (s *sheet) tellOrder(turns []int, bolts []string) {
	if len(bolts) == 1 {
		s.tell("One bolt: " + bolts[0])
		return
	}
	var names []string
	for _, bolt := range byTurn(turns) {
		names = append(names, boltName(bolts[bolt]))
	}
	s.tell("Order of each pass: " + strings.Join(names, ", then "))
}

// tellSides says from where the bolts are seen, where their names say where
// they are.
func (s *sheet) tellSides(t *procedure.PlannedTorque) {
	if _, placed := procedure.Places(t.Bolts); !placed || t.Layout != 0 || len(t.Bolts) < 2 {
		return
	}
	words := placeWords(strings.Join(t.Bolts, " "))
	for _, note := range []struct{ word, text string }{
		{"left", "Left and right as the rider sees them."},
		{"front", "The front is at the top."},
		{"closed", "The edge that closes is drawn at the top."},
	} {
		if slices.Contains(words, note.word) {
			s.say(smallSize, false, note.text)
			s.Gap(4)
		}
	}
}

// pattern draws the bolts, where there is room with their names beside them,
// else with a list of the names below.
func (s *sheet) pattern(t *procedure.PlannedTorque, turns []int) {
	if len(t.Bolts) > mostBolts {
		s.list(t, turns)
		return
	}
	g := lay(t, true)
	isNamed := g.hasRoom()
	if !isNamed {
		g = lay(t, false)
	}
	g.moveTo(s.Y)
	g.arrows(s, turns)
	g.draw(s, turns)
	s.Y += g.height + 10
	if !isNamed {
		s.list(t, turns)
	}
}

// list names the bolts in their order.
func (s *sheet) list(t *procedure.PlannedTorque, turns []int) {
	for turn, bolt := range byTurn(turns) {
		s.Text(s.Left(), s.Y+textSize, textSize, page.Start, true, ordinal(turn))
		s.Y = s.block(s.Left()+52, s.Y, textSize, false, boltName(t.Bolts[bolt])) + 4
	}
	s.Gap(6)
}
