package procedure

import (
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/torque"
)

// lessWithPaste lowers what is aimed at where the maker of the governing maximum
// allows it with carbon paste and this plan puts paste between the parts of the
// joint. The maximum stays; the aim is never above what it would be without. A
// minimum is lowered by the same share if it is of the same part or of the joint
// table: nobody has allowed less than what another maker asks for.
func (p *planner) lessWithPaste(s *Step, out *PlannedStep, row *JointRow, pt *PlannedTorque) {
	_, high := governing(pt.Limits)
	if high == nil || high.PasteLess == 0 {
		return
	}
	pasted, ok := p.pastedIn(s, out, row)
	if !ok {
		return
	}
	limits := lowered(pt.Limits, high)
	low, _ := governing(limits)
	aim := min(pt.Aim, less(high.Value, high.PasteLess))
	allows := fmt.Sprintf("; the %s allows %d %% less with carbon paste (%s), which goes on in %q",
		words(high.From), high.PasteLess, high.Source, pasted)
	if low.Value > aim {
		pt.Governs += allows + ", but the " + words(low.From) + " asks for that much, so nothing is lowered"
		return
	}
	w, err := torque.NewWindow(low.Value, high.Value)
	if err != nil {
		return // not reached: the aim lies between the two
	}
	pt.Window, pt.Limits, pt.Aim = w, limits, aim
	pt.Governs = "at most " + high.Value.String() + " by " + who(high) + ", at least " + low.Value.String() + " by " + who(low) + allows
}

// lowered returns the limits with the minimums that go with the maximum lowered.
func lowered(limits []WindowLimit, high *WindowLimit) []WindowLimit {
	out := slices.Clone(limits)
	for i := range out {
		if l := &out[i]; l.End == "min" && (l.From == high.From || l.From == tableName) {
			l.Value, l.PasteLess = less(l.Value, high.PasteLess), high.PasteLess
		}
	}
	return out
}

// less is a torque less some percent, rounded to the nearest nanonewton meter,
// ties to even.
func less(t torque.Torque, percent int) torque.Torque {
	hundredfold := t * torque.Torque(100-percent)
	whole, rest := hundredfold/100, hundredfold%100
	if rest > 50 || rest == 50 && whole%2 == 1 {
		whole++
	}
	return whole
}

// pastedIn names the step that puts carbon paste between the parts of the joint:
// this one, or the last earlier one that handles two of them. Paste on one part
// alone may lie in another of its joints, as on a seatpost, which is clamped in
// the frame and clamps the saddle.
func (p *planner) pastedIn(s *Step, out *PlannedStep, row *JointRow) (title string, ok bool) {
	roles := p.stating(row)
	if here := out.FacePrep; here != nil && (here.Use == CarbonPaste || shared(out.Parts, roles) >= 2) {
		return s.Title, here.Use == CarbonPaste
	}
	for i := len(p.plan.Steps) - 1; i >= 0; i-- {
		step := &p.plan.Steps[i]
		if step.FacePrep != nil && shared(step.Parts, roles) >= 2 {
			return step.Title, step.FacePrep.Use == CarbonPaste
		}
	}
	return "", false
}

func shared(a, b []string) int {
	n := 0
	for _, x := range a {
		if slices.Contains(b, x) {
			n++
		}
	}
	return n
}
