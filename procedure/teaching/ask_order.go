package teaching

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// across lists, for each bolt of a group, the place of the one that lies across
// from it, or false where the procedure does not say where they lie, or one has
// none across.
func across(t *procedure.TorqueRule) ([]int, bool) {
	n := len(t.Bolts)
	if n < 4 || n%2 != 0 {
		return nil, false
	}
	var out []int
	switch cells, named := procedure.Places(t.Bolts); {
	case t.Layout == procedure.Ring:
		for i := range n {
			out = append(out, (i+n/2)%n)
		}
	case t.Layout == procedure.Square && n == 4:
		out = []int{3, 2, 1, 0}
	case t.Layout == 0 && named && n == 4:
		for _, c := range cells {
			out = append(out, slices.Index(cells, procedure.Cell{Column: 1 - c.Column, Row: 1 - c.Row}))
		}
	}
	return out, len(out) == n && !slices.Contains(out, -1)
}

// isCrosswise reports whether every second bolt of an order lies across from the
// one before.
func isCrosswise(t *procedure.TorqueRule, order []string) bool {
	opposite, ok := across(t)
	if !ok || len(order) != len(t.Bolts) {
		return false
	}
	for i := 0; i < len(order); i += 2 {
		at := slices.Index(t.Bolts, order[i])
		if at < 0 || t.Bolts[opposite[at]] != order[i+1] {
			return false
		}
	}
	return true
}

// boltOrder asks for the order of one pass of a group that is tightened
// crosswise. Where a pass begins, and which pair comes next, is a matter of the
// drawing: no wrong answer is crosswise.
func boltOrder(at place) (Question, bool) {
	t := at.step.Torque
	if !isCrosswise(t, t.Order) || isAgain(at) {
		return Question{}, false
	}
	q := Question{
		Stem:   fmt.Sprintf("In the job %q, bolts of a joint lie %s. In which order do you take them?", at.of.Title, layoutWords(t)),
		Answer: strings.Join(t.Order, ", "),
		Solution: "Crosswise: every second bolt lies across from the one before, so that the parts close evenly. " +
			"The drawing says where a pass begins; every pass and every closing round keeps to its order.",
		Source: at.source(), Caution: BenchFirst,
	}
	q.give("order", q.Answer)
	q.give("bolts", strings.Join(t.Bolts, ", "))
	wrong := func(order []string, mistake string) {
		if !isCrosswise(t, order) {
			q.wrong(strings.Join(order, ", "), mistake)
		}
	}
	n := len(t.Bolts)
	round := slices.Clone(t.Bolts)
	if t.Layout != procedure.Ring { // rows of two: the last two change places to go round
		round[n-1], round[n-2] = round[n-2], round[n-1]
	}
	wrong(round, "goes round in a circle")
	wrong(t.Bolts, "goes row by row")
	wrong(append(everySecond(t.Bolts, 0), everySecond(t.Bolts, 1)...), "does one half, then the other")
	back := slices.Clone(round)
	slices.Reverse(back)
	wrong(back, "goes round in a circle the other way")
	return q, len(q.Wrong) > 0
}

// isAgain reports whether an earlier step of the procedure takes bolts of the
// same names in the same order, as a re-check does.
func isAgain(at place) bool {
	_, n, _ := at.of.Step(at.step.ID)
	return slices.ContainsFunc(at.of.Steps[:n], func(s procedure.Step) bool {
		return s.Torque != nil && slices.Equal(s.Torque.Bolts, at.step.Torque.Bolts) && slices.Equal(s.Torque.Order, at.step.Torque.Order)
	})
}

// everySecond returns every second bolt from one on.
func everySecond(bolts []string, from int) []string {
	var out []string
	for i := from; i < len(bolts); i += 2 {
		out = append(out, bolts[i])
	}
	return out
}

// layoutWords says where the bolts lie. Those of a square that do not say it by
// their names are told row by row.
func layoutWords(t *procedure.TorqueRule) string {
	switch t.Layout {
	case procedure.Ring:
		return "in a ring, clockwise " + strings.Join(t.Bolts, ", ")
	case procedure.Square:
		return fmt.Sprintf("in a square, %s above, %s below", strings.Join(t.Bolts[:2], " and "), strings.Join(t.Bolts[2:], " and "))
	case procedure.Row, procedure.Column: // not asked
	}
	return "in a square: " + strings.Join(t.Bolts, ", ")
}
