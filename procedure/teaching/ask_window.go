package teaching

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// askAboutJoints makes the questions about the rows of the joint table that a
// procedure uses, each at the first step that uses it.
func (m *maker) askAboutJoints(p *procedure.Resolved) []candidate {
	var out []candidate
	seen := map[string]bool{}
	for i := range p.Steps {
		at := place{p, &p.Steps[i]}
		if at.step.Torque == nil {
			continue
		}
		for _, choice := range at.step.Torque.Joints {
			row, ok := p.Joint(choice.Joint)
			if !ok || seen[row.ID] {
				continue
			}
			seen[row.ID] = true
			out = append(out, m.askAboutRow(at, row)...)
		}
	}
	return out
}

// askAboutRow makes the questions about one row. A row whose window has one end
// only, or cannot be read, gives none; one without a window gives the question
// that is about that. On a joint found by feel no wrench is set.
func (m *maker) askAboutRow(at place, row *procedure.JointRow) []candidate {
	j, ok := readJointRow(row)
	if !ok {
		if row.Window != "" {
			return nil
		}
		return []candidate{at.candidate(LimitUnknown, row.ID, func(*dice) (Question, bool) { return m.limitUnknown(at, row) })}
	}
	if at.step.Torque.ByFeel {
		return about(row, []candidate{at.candidate(LowestGoverns, row.ID, func(d *dice) (Question, bool) { return j.lowestGoverns(d, false) })})
	}
	out := []candidate{
		at.candidate(ConvertWindow, row.ID, func(*dice) (Question, bool) { return j.convert() }),
		at.candidate(LowestGoverns, row.ID, func(d *dice) (Question, bool) { return j.lowestGoverns(d, false) }),
		at.candidate(LowestGoverns, row.ID+"/conflict", func(d *dice) (Question, bool) { return j.lowestGoverns(d, true) }),
		at.candidate(Deviation, row.ID, j.deviation),
		at.candidate(WorstCase, row.ID, j.worstCase),
		at.candidate(ToolChoice, row.ID, func(d *dice) (Question, bool) { return m.toolChoice(j, d) }),
	}
	if at.of.Allowance == procedure.AllowTool {
		for i := range m.options.Tools {
			tool := &m.options.Tools[i]
			out = append(out,
				at.candidate(SettingRange, row.ID+"/"+tool.ID, func(*dice) (Question, bool) { return m.settingRange(j, tool) }),
				at.candidate(DeliveredRange, row.ID+"/"+tool.ID, func(*dice) (Question, bool) { return m.deliveredRange(j, tool) }))
		}
	}
	return about(row, out)
}

// about names the row in each of the questions.
func about(row *procedure.JointRow, out []candidate) []candidate {
	for i := range out {
		out[i].ask = aboutRow(row, out[i].ask)
	}
	return out
}

// aboutRow names the row and its source in a question.
func aboutRow(row *procedure.JointRow, ask asker) asker {
	return func(d *dice) (Question, bool) {
		q, ok := ask(d)
		q.Joint, q.Source = row.ID, row.Source
		q.Caution = cautionFor(row)
		return q, ok
	}
}

// cautionFor says what goes before the window of a row, and how far it can be
// leaned on.
func cautionFor(row *procedure.JointRow) string {
	if row.Source.Confidence <= procedure.FromMemory {
		return "This window is from memory. " + PrintedFirst
	}
	return PrintedFirst
}

// A jointRow is a row whose window has both ends.
type jointRow struct {
	*procedure.JointRow
	written   torque.FigureWindow
	window    torque.Window
	low, high torque.Torque
	aim       torque.Torque
}

// readJointRow reads a row's window and aim, the aim being the middle where the
// row names none inside.
func readJointRow(row *procedure.JointRow) (jointRow, bool) {
	marking, err := torque.ParseMarking(row.Window)
	if err != nil {
		return jointRow{}, false
	}
	j := jointRow{JointRow: row, written: marking.FigureWindow()}
	if j.window, err = j.written.Window(); err != nil {
		return jointRow{}, false
	}
	var hasLow, hasHigh bool
	j.low, hasLow = j.window.Min()
	j.high, hasHigh = j.window.Max()
	if !hasLow || !hasHigh || j.low <= 0 {
		return jointRow{}, false
	}
	j.aim = j.low + (j.high-j.low)/2
	if aim, err := torque.Parse(row.Aim); err == nil && j.window.Contains(aim) {
		j.aim = aim
	}
	return j, true
}

// rowOf returns the first joint of a step that has a window.
func rowOf(at place) (jointRow, *procedure.JointRow, bool) {
	for _, c := range at.step.Torque.Joints {
		if row, ok := at.of.Joint(c.Joint); ok {
			if j, ok := readJointRow(row); ok {
				return j, row, true
			}
		}
	}
	return jointRow{}, nil, false
}

// name is what the bench calls the joint, with its place where there is one.
func (j *jointRow) name() string {
	if j.Location == "" || strings.Contains(j.Title, j.Location) {
		return j.Title
	}
	return j.Title + " (" + j.Location + ")"
}

// convert asks for the window in whole lbf·in. A limit is never rounded
// outwards.
func (j *jointRow) convert() (Question, bool) {
	const unit = torque.PoundForceInches
	marks, err := j.written.RoundInward(torque.Scale{Unit: unit, Step: "1"})
	if err != nil {
		return Question{}, false
	}
	low, high := j.written.Min.In(unit), j.written.Max.In(unit)
	q := Question{
		Stem:   fmt.Sprintf("The window of the %s is %v. The wrench at hand has whole %s. Between which of its marks does the window lie, the deviation of the wrench left aside?", j.name(), j.written, unit),
		Answer: between(marks.Min.Digits(), marks.Max.Digits(), unit),
		Solution: fmt.Sprintf("1 %v is %s %v. %v is %s %v, up to the next mark: %v. %v is %s %v, down to the mark: %v.",
			unit, torque.NewExact(unit.Factor(), torque.NewtonMeters).RoundSignificant(7), torque.NewtonMeters,
			j.written.Min, low.RoundPlaces(2), unit, marks.Min, j.written.Max, high.RoundPlaces(2), unit, marks.Max),
	}
	q.give("min", j.written.Min.String())
	q.give("max", j.written.Max.String())
	q.give("unit", unit.Symbol())
	q.give("step", "1")
	q.wrong(between(low.RoundPlaces(0), high.RoundPlaces(0), unit), "rounds to the nearest mark, which lets a limit slip out of the window")
	q.wrong(between(low.FloorPlaces(0), high.CeilPlaces(0), unit), "rounds outwards")
	feet := torque.PoundForceFeet
	q.wrong(span(j.written.Min.In(feet).CeilPlaces(0), j.written.Max.In(feet).FloorPlaces(0), unit), "takes the factor of the pound-force foot")
	q.wrong(span(multiplied(j.written.Min, unit).CeilPlaces(0), multiplied(j.written.Max, unit).FloorPlaces(0), unit), "multiplies where the factor divides")
	return q, true
}

// multiplied is the figure converted the wrong way round.
func multiplied(f torque.Figure, unit torque.Unit) torque.Exact {
	return torque.NewExact(new(big.Rat).Mul(f.Rat(), unit.Factor()), unit)
}

// between writes two marks, or the one that both are, or nothing where they are the wrong way round.
func between(low, high string, unit torque.Unit) string {
	if decimal(low).Cmp(decimal(high)) > 0 || decimal(high).Sign() == 0 {
		return ""
	}
	if low == high {
		return fmt.Sprintf("%s %v alone", low, unit)
	}
	return fmt.Sprintf("%s %v to %s %v", low, unit, high, unit)
}

// span writes two marks that are not the same.
func span(low, high string, unit torque.Unit) string {
	if low == high {
		return ""
	}
	return between(low, high, unit)
}
