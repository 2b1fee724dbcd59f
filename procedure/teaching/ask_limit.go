package teaching

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// lowestGoverns asks for the window when a part prints a lower maximum than the
// table has, or one below the minimum.
func (j *jointRow) lowestGoverns(d *dice, conflict bool) (Question, bool) {
	printed := pick(d, 1, 2, 3)
	limit := down(j.low + (j.high-j.low)*torque.Torque(printed)/4)
	if conflict {
		limit = down(j.low * torque.Torque(pick(d, 60, 70, 80)) / 100)
	}
	most, err := torque.AtMost(limit)
	if err != nil {
		return Question{}, false
	}
	q := Question{
		Stem: fmt.Sprintf("The joint table gives %v for the %s. The part in your hand prints %q. Which window holds?", j.window, j.name(), "max "+limit.String()),
	}
	q.give("table_min", j.low.String())
	q.give("table_max", j.high.String())
	q.give("printed_max", limit.String())
	both, err := j.window.Intersect(most)
	if err != nil {
		q.Answer = stopAnswer
		q.Solution = fmt.Sprintf("The table asks for at least %v and the part allows at most %v: no torque satisfies both, so the plan stops.", j.low, limit)
		q.wrong(most.String(), "takes the part's figure and forgets the minimum")
		q.wrong(j.low.String(), "takes the minimum although the part forbids it")
		q.wrong((j.low + (limit-j.low)/2).String(), "meets in the middle")
	} else {
		q.Answer = both.String()
		q.Solution = fmt.Sprintf("The lowest maximum of all parts governs: %v. The minimum stays: %v.", limit, j.low)
		q.wrong(stopAnswer, "stops although both limits leave room")
	}
	q.wrong(j.window.String(), "keeps to the table although the part says less")
	if w, err := torque.NewWindow(limit, max(limit, j.high)); err == nil {
		q.wrong(w.String(), "takes the printed maximum for a minimum")
	}
	return q, q.Answer != j.window.String()
}

// stopAnswer is what a plan does where it finds no torque.
const stopAnswer = "None: stop and ask. Nothing is guessed."

// down rounds a torque down to a figure that could be printed: two significant
// digits.
func down(t torque.Torque) torque.Torque {
	step := torque.Torque(1)
	for t/step >= 100 {
		step *= 10
	}
	return t / step * step
}

// limitUnknown asks what to do where nobody knows a window.
func (m *maker) limitUnknown(at place, row *procedure.JointRow) (Question, bool) {
	q := Question{
		Stem:     fmt.Sprintf("No torque is printed for the %s, the papers of the part are not at hand, and the joint table has no window for it. What do you set?", row.Title),
		Answer:   stopAnswer,
		Solution: "With no known limit the plan stops. Read the part or its manual again, enter the figure and where it stood, and have the job planned again.",
		Joint:    row.ID, Source: row.Source, Caution: PrintedFirst,
	}
	q.give("joint", row.ID)
	q.give("window", row.Window)
	others := 0
	for _, other := range at.of.Joints {
		if w, ok := readJointRow(&other); ok && others < 2 {
			others++
			q.wrong(fmt.Sprintf("%v, as for the %s", w.window, w.name()), "borrows the window of another joint")
		}
	}
	q.wrong("As tight as the same joint felt on the last bike.", "tightens by feel")
	q.wrong("The lowest figure of the joint table, to be safe.", "takes a low figure for a safe one")
	return q, row.Window == ""
}
