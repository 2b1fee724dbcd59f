package teaching

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// A BenchTest is the practical test of a module.
type BenchTest struct {
	// Tasks say what to do, one for each skill that has a test.
	Tasks []string `json:"tasks,omitempty"`
	// Criteria are what must be recorded, as at the bench. A trainer's feeling
	// is none.
	Criteria []Criterion `json:"criteria,omitempty"`
	// Fails end the test at once, whatever else went well.
	Fails []string `json:"fails,omitempty"`
	// Limits are the times allowed.
	Limits []TimeLimit `json:"limits,omitempty"`
	// Runs is how often in a row the test has to be passed.
	Runs int `json:"runs"`
}

// A Criterion is one thing to be recorded.
type Criterion struct {
	Procedure string           `json:"procedure"`
	Step      string           `json:"step"`
	Text      string           `json:"text"`
	Source    procedure.Source `json:"source"`
}

// A TimeLimit is the time allowed for a procedure.
type TimeLimit struct {
	Procedure string `json:"procedure"`
	Minutes   int    `json:"minutes"`
}

// Bounds of practical tests (common practice, no source).
const (
	// SafetyRuns is how often in a row a test on safety-critical joints is
	// passed before it counts.
	SafetyRuns = 3
	// timePercent is the time a trainee may take, in percent of what a
	// practiced person takes: speed is not the aim.
	timePercent = 150
)

// benchTest makes the practical test of a module from the tests of its skills
// and the steps of the procedures that they end.
func benchTest(skills []*skill) BenchTest {
	t := BenchTest{Runs: 1}
	for _, s := range skills {
		if s.Test != "" {
			t.Tasks = append(t.Tasks, s.Test)
		}
		if isSafetyCritical(s) {
			t.Runs = SafetyRuns
		}
	}
	for _, p := range owned(skills) {
		if p.Minutes > 0 {
			t.Limits = append(t.Limits, TimeLimit{p.ID, p.Minutes * timePercent / 100})
		}
		for i := range p.Steps {
			t.criteria(place{p, &p.Steps[i]})
		}
		t.Fails = union(t.Fails, fails(p))
	}
	return t
}

// criteria adds what a step asks to be recorded in figures or signed.
func (t *BenchTest) criteria(p place) {
	add := func(source procedure.Source, format string, args ...any) {
		t.Criteria = append(t.Criteria, Criterion{p.of.ID, p.step.ID, fmt.Sprintf("%q: ", p.step.Title) + fmt.Sprintf(format, args...), source})
	}
	if r := p.step.Torque; r != nil {
		for _, c := range r.Joints {
			row, ok := p.of.Joint(c.Joint)
			switch {
			case !ok:
			case row.Window == "":
				add(row.Source, "no figure is known for the %s: stops and asks for the maker's", row.Title)
			default:
				add(row.Source, "every reading on the %s ends inside %s%s, or inside what the part itself prints", row.Title, row.Window, closing(r))
			}
		}
	}
	for _, c := range p.step.Checks {
		if c.Kind == procedure.Measure && c.Expect == "" {
			source := p.source()
			if c.Source != nil {
				source = *c.Source
			}
			add(source, "%s %s", c.Ask, limitWords(c.Min, c.Max, c.Unit))
		}
	}
	if p.step.Hold != nil {
		add(p.source(), "stops and calls the %s before going on", plain(p.step.Hold.By.String()))
	}
}

// closing adds what makes the readings of a group count.
func closing(r *procedure.TorqueRule) string {
	if r.Closing {
		return ", with a closing round in which no bolt turns"
	}
	return ""
}

// fails lists what ends a test on this procedure at once.
func fails(p *procedure.Resolved) []string {
	var out []string
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Hold != nil {
			out = union(out, []string{"goes past a hold point, or signs for own work"})
		}
		if s.Prep != nil {
			out = union(out, []string{"prepares a thread or a contact face otherwise than planned"})
		}
		if s.Torque != nil {
			out = union(out, []string{"pulls past the maximum of any part of a joint"})
		}
		if len(s.Waits) > 0 {
			out = union(out, []string{"goes on before a wait is over"})
		}
	}
	for i := range p.Joints {
		if t, err := joint.ParseThread(p.Joints[i].Thread); err == nil && t.Hand() == joint.LeftHand {
			out = union(out, []string{"puts force on a left-hand thread the wrong way"})
		}
	}
	return out
}
