package procedure

// JobState says how far a job of the whole has come on the bike.
type JobState uint8

// The states.
const (
	// NotBegun: no job of this procedure stands in the record.
	NotBegun JobState = iota
	// UnderWay: a job is open.
	UnderWay
	// ToRepeat: a job was done, and some of it is void or was planned for
	// other parts since.
	ToRepeat
	// Kept: a finished job that still holds.
	Kept
)

var jobStateNames = []string{"not-begun", "under-way", "to-repeat", "kept"}

// String returns the state in words.
func (s JobState) String() string { return enumName(jobStateNames, s) }

// MarshalText writes the state in words.
func (s JobState) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *JobState) UnmarshalText(b []byte) (err error) {
	*s, err = enumParse[JobState]("job state", jobStateNames, string(b))
	return err
}

// A JobProgress is how far one job of the whole has come.
type JobProgress struct {
	Procedure string   `json:"procedure"`
	State     JobState `json:"state"`
	// Job is the id of the job in the record, if there is one.
	Job string `json:"job,omitempty"`
	// Open lists the steps that have still to be done or done again.
	Open []string `json:"open,omitempty"`
}

// Progress compares the whole with the bike's record: what was done and holds
// is kept, whatever was planned since. A step holds where its results stand
// and the new plan asks the hand for the same work.
func (w *Whole) Progress(b *Build) []JobProgress {
	out := make([]JobProgress, 0, len(w.Jobs))
	for _, j := range w.Jobs {
		out = append(out, progress(j.Plan, b))
	}
	return out
}

func progress(plan *Plan, b *Build) JobProgress {
	p := JobProgress{Procedure: plan.Procedure}
	var job *Job
	for _, j := range b.Jobs {
		if j.Plan.Procedure == plan.Procedure && j.Abandoned == nil {
			job = j
		}
	}
	if job == nil {
		return p
	}
	p.Job = job.ID
	for i := range plan.Steps {
		s := &plan.Steps[i]
		done, ok := job.Step(s.ID)
		if ok && done.Done() && sameWork(done.Planned, s) {
			continue
		}
		p.Open = append(p.Open, s.ID)
	}
	switch {
	case job.Finished == nil:
		p.State = UnderWay
	case len(p.Open) == 0 || onlyDue(plan, p.Open):
		p.State = Kept
	default:
		p.State = ToRepeat
	}
	return p
}

// onlyDue reports whether all that is open comes after the job: re-checks that
// hold back the bike.
func onlyDue(plan *Plan, open []string) bool {
	for _, id := range open {
		if s, ok := plan.Step(id); ok && s.Due != BeforeRelease {
			return false
		}
	}
	return true
}
