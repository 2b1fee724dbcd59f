package teaching

import (
	"errors"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// Defaults of Options (common practice, no source).
const (
	// DefaultQuestions is the number of questions of a module.
	DefaultQuestions = 3
	// DefaultModuleHours is half a working day.
	DefaultModuleHours = 4
)

// Options say what a curriculum is for. The zero value teaches everything, to
// nobody in particular, with practice tools.
type Options struct {
	// Seed makes the choices. Another seed gives other questions.
	Seed uint64
	// Questions is the number of questions of a module; 0 means
	// DefaultQuestions.
	Questions int
	// ModuleHours is the length beyond which a module is split between skills,
	// in whole hours; 0 means DefaultModuleHours.
	ModuleHours int
	// Held lists the ids of skills that need not be taught any more.
	Held []string
	// Also lists skills to teach although no procedure given takes them.
	Also []procedure.Skill
	// Tools are the shop's torque tools as of At, for questions about them;
	// without any, invented practice tools are used.
	Tools []procedure.Tool
	At    time.Time
}

// check reports every option that cannot be.
func (o *Options) check() error {
	var errs []error
	add := func(path, rule, format string, args ...any) {
		errs = append(errs, &procedure.FieldError{Path: path, Rule: rule, Text: fmt.Sprintf(format, args...)})
	}
	if o.Questions < 0 || o.Questions > 100 {
		add("questions", "out-of-range", "ask 1 to 100 questions in a module, or 0 for %d", DefaultQuestions)
	}
	if o.ModuleHours < 0 || o.ModuleHours > 40 {
		add("module_hours", "out-of-range", "a module takes 1 to 40 hours, or 0 for %d", DefaultModuleHours)
	}
	if len(o.Tools) > 0 && o.At.IsZero() {
		add("at", "missing", "say as of when the tools are to be looked at")
	}
	for i := range o.Tools {
		for _, fe := range procedure.FieldErrors(o.Tools[i].Check()) {
			add(fmt.Sprintf("tools[%d].%s", i, fe.Path), fe.Rule, "%s", fe.Text)
		}
	}
	return errors.Join(errs...)
}

// filled returns the options with defaults put in.
func (o Options) filled() Options {
	if o.Questions == 0 {
		o.Questions = DefaultQuestions
	}
	if o.ModuleHours == 0 {
		o.ModuleHours = DefaultModuleHours
	}
	if len(o.Tools) == 0 {
		o.Tools, o.At = practiceTools()
	}
	return o
}

// practiceTools are invented: scales of usual lengths, one tool past its due
// date, one calibrated in one direction only, as of an invented day.
func practiceTools() ([]procedure.Tool, time.Time) {
	at := time.Date(2025, time.March, 3, 8, 30, 0, 0, time.UTC)
	right := []joint.Hand{joint.RightHand}
	both := []joint.Hand{joint.RightHand, joint.LeftHand}
	tool := func(id, low, high, step string, kind procedure.ToolKind, due int, hands []joint.Hand) procedure.Tool {
		return procedure.Tool{ID: id, Label: "practice tool, invented", Kind: kind, Unit: torque.NewtonMeters, Min: low, Max: high, Graduation: step,
			Calibrations: []procedure.Calibration{{At: at.AddDate(-1, due, 0), Due: at.AddDate(0, due, 0), Hands: hands}}}
	}
	return []procedure.Tool{
		tool("practice-a", "2", "14", "0.1", procedure.Setting, 5, right),
		tool("practice-b", "20", "100", "1", procedure.Setting, 3, right),
		tool("practice-c", "10", "60", "0.5", procedure.Setting, 7, both),
		tool("practice-d", "3", "20", "0.2", procedure.Setting, -1, both),
		tool("practice-e", "0", "20", "0.01", procedure.Indicating, 9, both),
		tool("practice-f", "0.3", "2", "0.05", procedure.Setting, 6, right),
	}, at
}
