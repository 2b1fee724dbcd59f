package wrench

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// PassMarks returns the marks of the passes in which a group of bolts is
// tightened, each a percentage of the full setting from 1 to 100: rounded down
// to a mark, so that an early pass never goes past its share, but not below
// the first mark of the scale, where there is nothing to set. 100 is the full
// mark itself, which must be a mark of the tool.
//
// A fixed tool cannot do less than its torque: it has marks only for passes
// that are all full. The error is a [FieldError].
func (w *Wrench) PassMarks(full torque.Figure, percents []int) ([]torque.Figure, error) {
	whole, ok := w.grid.mark(full)
	if !ok {
		return nil, &FieldError{Path: "full", Rule: RuleOutsideRange,
			Text: fmt.Sprintf("%v is not a mark of %v", full, w)}
	}
	marks := make([]torque.Figure, 0, len(percents))
	for i, percent := range percents {
		switch {
		case percent < 1 || percent > 100:
			return nil, &FieldError{Path: fmt.Sprintf("percents[%d]", i), Rule: RuleOutsideRange,
				Text: fmt.Sprintf("write a share from 1 to 100 percent, not %d", percent)}
		case percent < 100 && w.kind == Fixed:
			return nil, &FieldError{Path: fmt.Sprintf("percents[%d]", i), Rule: RuleContradiction,
				Text: fmt.Sprintf("%v cannot do %d percent of its torque: take a tool that can be set", w, percent)}
		}
		marks = append(marks, w.grid.figure(w.grid.share(whole, percent)))
	}
	return marks, nil
}

// share returns the number of the mark at or below a percentage of mark k.
func (g *grid) share(k uint64, percent int) uint64 {
	lowest := uint64(0)
	if g.first == 0 {
		lowest = min(k, 1) // the mark 0 is no torque
	}
	tick := g.tick(k) * uint64(percent) / 100
	if tick < g.first {
		return lowest
	}
	return max(g.to(tick), lowest)
}

// mark returns the number of the mark that a figure stands for, exactly.
func (g *grid) mark(figure torque.Figure) (k uint64, ok bool) {
	if figure.IsZero() || figure.Unit() != g.unit {
		return 0, false
	}
	value, err := parseDecimal(figure.Digits())
	if err != nil || value.negative || value.places > g.places {
		return 0, false
	}
	wide := product(value.coefficient, power10(g.places-value.places))
	tick := wide.low
	if wide.high > 0 || tick < g.first || tick > g.tick(g.last) || (tick-g.first)%g.step != 0 {
		return 0, false
	}
	return g.to(tick), true
}
