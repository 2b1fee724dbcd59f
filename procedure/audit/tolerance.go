package audit

import (
	"fmt"
	"math/big"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// foundAfter returns the first calibration after a time that recorded how the
// tool was found. One without as-found values says nothing about readings
// before it.
func foundAfter(t *procedure.Tool, at time.Time) (procedure.Calibration, bool) {
	var next procedure.Calibration
	ok := false
	for _, c := range t.Calibrations {
		if c.At.After(at) && c.AsFound != "" && (!ok || c.At.Before(next.At)) {
			next, ok = c, true
		}
	}
	return next, ok
}

// isOut reports whether a factor, delivered torque by set torque, is beyond the
// deviation the tool is held to. Deviation is (set - delivered)/delivered (ISO
// 6789-1:2017, relative to the reference value), so a factor of 1.07 is a
// deviation of -6.5 %.
func isOut(t *procedure.Tool, c procedure.Calibration, factor string) bool {
	f, ok := new(big.Rat).SetString(factor)
	if !ok || f.Sign() <= 0 {
		return false
	}
	deviation := new(big.Rat).Inv(f)
	deviation.Sub(deviation, big.NewRat(1, 1)).Abs(deviation)
	return deviation.Cmp(t.PermittedDeviation(c.At)) > 0
}

// suspicion returns the factor that the tool may have delivered by at a time,
// and the calibration that says so: the first as-found values after it, or what
// the calibration before it left as it was.
func suspicion(t *procedure.Tool, at time.Time) (factor string, by procedure.Calibration, ok bool) {
	if next, found := foundAfter(t, at); found && isOut(t, next, next.AsFound) {
		return next.AsFound, next, true
	}
	if last, found := t.CalibrationAt(at); found {
		left := last.AsLeft
		if left == "" {
			left = last.AsFound
		}
		if left != "" && isOut(t, last, left) {
			return left, last, true
		}
	}
	return "", procedure.Calibration{}, false
}

// tolerance looks at a reading with a tool that was, or may have been, out of
// tolerance. Worst case: the tool was off by all that was found from its last
// good calibration on. A guess at the drift would clear readings that the worst
// case does not.
func (x *examiner) tolerance(f *fact, r procedure.ReadingTaken, t *procedure.Tool) {
	factor, by, ok := suspicion(t, f.When().Best())
	if !ok {
		return
	}
	worst, err := times(r.Value, factor)
	if err != nil {
		return
	}
	s := x.state(f.step)
	out := Finding{Rule: RuleOutOfTolerance, Item: f.item, Tool: f.tool, Sure: Possible, Entries: refs(f.Envelope)}
	lead := fmt.Sprintf("%s was found on %s to deliver %s of what it is set to: %v was at worst %s", f.tool, by.At.Format(time.DateOnly), percentOf(factor), r.Figure, short(worst))
	if s == nil || s.Planned.Torque == nil {
		out.Status, out.Note = Reworked, true
		out.Text, out.Mend = lead, "nothing: the plan no longer asks for this joint"
		x.add(out, s)
		return
	}
	beyond, over := x.beyond(s, f, worst)
	if beyond == "" && (!x.isFull(s, f) || x.retaken(f)) {
		return // nobody leans on this reading, and it did no harm
	}
	out.Text, out.Status = lead+beyond, x.madeGood(f, over)
	switch {
	case beyond == "":
		out.Note = true
		out.Text += ", which is within " + x.limits(s, f).String()
		out.Mend = "accept it as it is, with a note"
	case over:
		out.Mend = "stop the bike: take the joint apart, inspect the parts, and let the foreman decide"
	default:
		out.Mend = "call the bike in and tighten the joint again with a sound tool"
	}
	x.add(out, s)
}

// limits are those that hold for a reading: the window for full value, in an
// earlier pass and for joints found by feel only its maximum.
func (x *examiner) limits(s *procedure.StepState, f *fact) torque.Window {
	t := s.Planned.Torque
	if x.isFull(s, f) && !t.ByFeel {
		return t.Window
	}
	high, ok := t.Window.Max()
	if !ok {
		return t.Window
	}
	w, err := torque.AtMost(high)
	if err != nil {
		return t.Window
	}
	return w
}

// isFull reports whether a reading was taken at full value.
func (x *examiner) isFull(s *procedure.StepState, f *fact) bool {
	return f.judgement.Pass == len(s.Planned.Torque.Passes)-1
}

// beyond says by how much the worst case leaves the limits, and whether it
// does so above.
func (x *examiner) beyond(s *procedure.StepState, f *fact, worst torque.Torque) (text string, over bool) {
	w := x.limits(s, f)
	if high, ok := w.Max(); ok && worst > high {
		return fmt.Sprintf(", %s over the maximum of %v", excess(worst-high, high), high), true
	}
	if low, ok := w.Min(); ok && worst < low {
		return fmt.Sprintf(", %s short of the minimum of %v", excess(low-worst, low), low), false
	}
	return "", false
}

// excess is how far a value is beyond a limit, in percent of the limit with
// one decimal.
func excess(by, of torque.Torque) string {
	r := new(big.Rat).SetFrac64(int64(by)*100, int64(of))
	return r.FloatString(1) + " %"
}

// times multiplies a torque with a decimal factor exactly.
func times(t torque.Torque, factor string) (torque.Torque, error) {
	f, ok := new(big.Rat).SetString(factor)
	if !ok {
		return 0, fmt.Errorf("%q is not a number", factor)
	}
	return torque.FromRat(f.Mul(f, t.Rat()))
}

// short writes a torque with at most three decimals.
func short(t torque.Torque) string {
	text := strings.TrimRight(t.In(torque.NewtonMeters).RoundPlaces(3), "0")
	return strings.TrimSuffix(text, ".") + " " + torque.NewtonMeters.Symbol()
}

// percentOf writes a factor as a percentage: 1.07 is 107 %.
func percentOf(factor string) string {
	f, ok := new(big.Rat).SetString(factor)
	if !ok {
		return factor
	}
	f.Mul(f, big.NewRat(100, 1))
	if f.IsInt() {
		return f.Num().String() + " %"
	}
	return f.FloatString(1) + " %"
}
