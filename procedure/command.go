package procedure

import "github.com/tightwright/tightwright/torque"

// A Command is what a person tells the record. Facts (readings, measures,
// looks, photos, prep, rework) are always recorded; intentions (everything
// else) can be refused. The set is closed here.
type Command interface{ command() }

// OpenJob begins a job on a plan that nothing blocks.
type OpenJob struct {
	Job  string
	Plan *Plan
	// Supervisor is another person who stays with the work; nil means nobody
	// does, and then who opens the job must have the skills that it takes.
	Supervisor *Actor
}

// TakeReading records one pull of a torque tool.
type TakeReading struct {
	Job, Step, Bolt string
	Figure          torque.Figure
	Tool            string
	Turned          bool
	AngleDeg        string
	From            *MovedFrom
	// Happened is when the hand did it, for a reading moved from another
	// build; nil means now.
	Happened *Moment
}

// TakeMeasure records a measured figure: a plain decimal in the check's unit.
type TakeMeasure struct {
	Job, Step, Check string
	Value, Unit      string
	Instrument       string
}

// TakeLook records a yes or no.
type TakeLook struct {
	Job, Step, Check string
	OK               bool
	Note             NoteRef
}

// TakePhoto records a picture.
type TakePhoto struct {
	Job, Step, Check string
	Picture          NoteRef
}

// DoPrep records what was put on the thread and on the contact face.
type DoPrep struct {
	Job, Step    string
	Thread, Face Prep
	Batch, Metal string
	Celsius      *int
}

// BeginRework records that the joint was taken apart, back to From; empty
// means this step.
type BeginRework struct {
	Job, Step, From string
	Reason          NoteRef
}

// SignHold signs a hold point as another person.
type SignHold struct {
	Job, Step string
	Saw       NoteRef
}

// AcceptResult accepts an undecided result.
type AcceptResult struct {
	Job, Entry string
	Reason     NoteRef
}

// AcceptFigure answers for a window from memory on this build.
type AcceptFigure struct {
	Joint  string
	Window torque.Window
	Reason NoteRef
}

// WithdrawEntry takes a fact back.
type WithdrawEntry struct {
	Entry, Cause string
	Reason       NoteRef
	// MovedTo is the build the fact belongs to, when Cause is wrong-bike.
	MovedTo string
}

// CorrectTool names the tool that a reading was really taken with.
type CorrectTool struct {
	Entry, Tool string
	Reason      NoteRef
}

// SwapPart puts a job on the plan made after a part was swapped.
type SwapPart struct {
	Job, Role string
	Plan      *Plan
	Reason    NoteRef
}

// FinishJob says that the job is done.
type FinishJob struct{ Job string }

// AbandonJob closes a job that will not be finished.
type AbandonJob struct {
	Job    string
	Reason NoteRef
}

// ReleaseBuild lets the bike leave.
type ReleaseBuild struct{}

func (OpenJob) command()       {}
func (TakeReading) command()   {}
func (TakeMeasure) command()   {}
func (TakeLook) command()      {}
func (TakePhoto) command()     {}
func (DoPrep) command()        {}
func (BeginRework) command()   {}
func (SignHold) command()      {}
func (AcceptResult) command()  {}
func (AcceptFigure) command()  {}
func (WithdrawEntry) command() {}
func (CorrectTool) command()   {}
func (SwapPart) command()      {}
func (FinishJob) command()     {}
func (AbandonJob) command()    {}
func (ReleaseBuild) command()  {}
