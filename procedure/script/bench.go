package script

import (
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// A Bench is what a script is played on. Names of people, builds, jobs and
// entries are the script's own; a bench that needs other ids keeps the map.
type Bench interface {
	// Change tells of something that changed in the shop.
	Change(at Hand, c Change) error
	// Plan works a procedure out for the build, Job shows how far a job is.
	Plan(at Hand, procedureID string) (*PlanView, error)
	Job(at Hand, job string) (*JobView, error)
	// Do carries out one command. Open and swap name their procedure or part
	// through Request.
	Do(at Hand, request Request) (*Outcome, error)
	// Audit lists what an auditor finds on the build.
	Audit(at Hand) ([]Found, error)
}

// A Hand says who acts, where, on what and when.
type Hand struct {
	Person, Tablet, Build string
	// Now is the time at which the bench hears of it.
	Now time.Time
	// Told is the time at which the hand did it, where a tablet without a
	// network kept it until Now; the zero time means Now.
	Told time.Time
	// Ahead is how far the clock of the tablet is ahead. Unmeasured says that
	// it was never compared with that of the bench.
	Ahead      time.Duration
	Unmeasured bool
}

// When is the true time at which the hand did it.
func (h Hand) When() time.Time {
	if h.Told.IsZero() {
		return h.Now
	}
	return h.Told
}

// TabletTime is the time at which the hand did it, as the tablet has it.
func (h Hand) TabletTime() time.Time { return h.When().Add(h.Ahead) }

// A Request is a command, with the texts and files that travel beside it.
type Request struct {
	// Entry names the entry to be made.
	Entry string
	// Command is the command; nil when Open or Part is given.
	Command procedure.Command
	// Note is the free text of the command.
	Note string
	// Open begins Job on a procedure.
	Open *Opening
	// Part is the part put in its place in a job.
	Part *Swap
}

// An Opening begins a job. Supervisor is who stays with the work, empty for
// nobody.
type Opening struct{ Job, Procedure, Supervisor string }

// A Swap puts another part into a job.
type Swap struct {
	Job  string
	Part procedure.Part
}

// An Outcome is what the bench says of a request.
type Outcome struct {
	Seq       int64
	Judgement *procedure.Judgement
	Voids     []procedure.ResultRef
	// Supervisor is who stays with the job that was opened, if anybody does.
	Supervisor string
	// Refused is the rule that refused an intention, Text why.
	Refused string
	Text    string
}

// A PlanView is what a script shows of a plan.
type PlanView struct {
	Blocked  bool
	Fit      []string
	Steps    []string
	Findings []procedure.PlanFinding
}

// A JobView is what working a job needs to know.
type JobView struct {
	Current string
	Steps   []StepView
}

// A StepView is one step of a JobView.
type StepView struct {
	ID, Title  string
	Status     procedure.StepStatus
	Missing    []string
	Bolt       string
	Pass       int
	Hold       procedure.Signer
	Checks     []procedure.PlannedCheck
	ThreadPrep procedure.Prep
	FacePrep   procedure.Prep
	// Settings are the marks of each pass by tool, for tools that can do the
	// step, in the order of the rack.
	Settings []Setting
}

// A Setting is one tool's marks for the passes of a step.
type Setting struct {
	Tool   string
	Passes []torque.Figure
}
