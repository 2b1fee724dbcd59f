package teaching

import (
	"slices"

	"github.com/tightwright/tightwright/procedure"
)

// A Question asks for something that can be worked out. It never stands in a
// build's record, and neither does what somebody answered.
type Question struct {
	// ID names the question: the same id and seed give the same question.
	ID   string `json:"id"`
	Kind Kind   `json:"kind"`
	// Stem is the question, Options are the answers to choose from, the right
	// one among them, mixed.
	Stem    string   `json:"text"`
	Options []string `json:"options,omitempty"`
	// Answer is worked out, Solution shows how.
	Answer   string `json:"answer"`
	Solution string `json:"solution"`
	// Wrong lists the other options with the mistake that leads to each.
	Wrong []Wrong `json:"wrong,omitempty"`
	// Given are the figures and words that the answer follows from.
	Given []Given `json:"given"`
	// Procedure, Step and Joint say where the question comes from; one about
	// tools alone has none.
	Procedure string `json:"procedure,omitempty"`
	Step      string `json:"step,omitempty"`
	Joint     string `json:"joint,omitempty"`
	// Source says where the figures come from, Caution what goes before them.
	Source  procedure.Source `json:"source"`
	Caution string           `json:"caution"`
	// Why names the findings of this shop that the question answers to.
	Why string `json:"why,omitempty"`
}

// Wrong is a wrong answer and the mistake that leads to it.
type Wrong struct {
	Text    string `json:"text"`
	Mistake string `json:"mistake"`
}

// Given is one figure or word that an answer follows from.
type Given struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// PrintedFirst is the caution of every question with a torque figure.
const PrintedFirst = "On a bike, the figure printed on the part or in its manual comes first; where several parts of a joint print one, the lowest maximum governs."

// BenchFirst is the caution of questions without a torque figure.
const BenchFirst = "On a bike, the plan for this bike says what holds."

// give adds a given.
func (q *Question) give(name, value string) { q.Given = append(q.Given, Given{name, value}) }

// wrong adds a wrong answer unless it is empty, the right one, or there
// already. At most four are kept.
func (q *Question) wrong(text, mistake string) {
	if text == "" || text == q.Answer || len(q.Wrong) >= 4 ||
		slices.ContainsFunc(q.Wrong, func(w Wrong) bool { return w.Text == text }) {
		return
	}
	q.Wrong = append(q.Wrong, Wrong{text, mistake})
}

// mix fills Options from the answer and the wrong ones.
func (q *Question) mix(d *dice) {
	if len(q.Wrong) == 0 {
		return
	}
	q.Options = []string{q.Answer}
	for _, w := range q.Wrong {
		q.Options = append(q.Options, w.Text)
	}
	shuffle(d, q.Options)
}
