package procedure

import "time"

// StepStatus says how far a step has come.
type StepStatus uint8

// The statuses of a step.
const (
	// StepLater waits for earlier steps.
	StepLater StepStatus = iota + 1
	// StepNow is the step to work on.
	StepNow
	// StepWaiting runs a clock before it may start.
	StepWaiting
	// StepRework must follow its rework path first.
	StepRework
	// StepRetake held before and has lost a result.
	StepRetake
	// StepToSign is done and waits for another person.
	StepToSign
	// StepDone holds.
	StepDone
)

var stepStatusNames = []string{"", "later", "now", "waiting", "rework", "retake", "to-sign", "done"}

// String returns the status in words.
func (s StepStatus) String() string { return enumName(stepStatusNames, s) }

// MarshalText writes the status in words.
func (s StepStatus) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *StepStatus) UnmarshalText(b []byte) (err error) {
	*s, err = enumParse[StepStatus]("step status", stepStatusNames, string(b))
	return err
}

// A Guide tells the hand what comes next in a job. It is derived from the
// record and can be thrown away.
type Guide struct {
	Job   string      `json:"job"`
	Steps []GuideStep `json:"steps"`
	// Current is the step to turn to, empty when the job can be finished, is
	// closed, or was spoiled after it was finished: then nothing in it counts
	// any more, and the work is done again in a new job.
	Current string `json:"current,omitempty"`
	// Done and Total count steps that belong to the job.
	Done  int `json:"done"`
	Total int `json:"total"`
	// FinishWait is how long finishing must still wait.
	FinishWait time.Duration `json:"finish_wait_ns,omitempty"`
}

// A GuideStep is one step of the guide.
type GuideStep struct {
	ID     string     `json:"id"`
	Status StepStatus `json:"status"`
	// Missing lists the items still to be taken, the next one first.
	Missing []string `json:"missing,omitempty"`
	// Void lists results that must be taken again.
	Void []string `json:"void,omitempty"`
	// Lacks says in words what the step needs.
	Lacks string `json:"lacks,omitempty"`
	// Bolt, Pass and Round are the next pull of a torque step: the pass
	// counts from 1, the round is 0 outside closing rounds.
	Bolt  string        `json:"bolt,omitempty"`
	Pass  int           `json:"pass,omitempty"`
	Round int           `json:"round,omitempty"`
	Wait  time.Duration `json:"wait_ns,omitempty"`
}

// Guide works out what comes next in a job at a moment.
func (b *Build) Guide(job string, now Moment) (*Guide, error) {
	j, ok := b.Job(job)
	if !ok {
		return nil, ErrNotFound
	}
	g := &Guide{Job: job}
	blocked := false
	for _, s := range j.Steps {
		gs := b.guideStep(j, s, now, blocked)
		g.Steps = append(g.Steps, gs)
		if s.Planned.Due == BeforeFinish {
			g.Total++
			if gs.Status == StepDone {
				g.Done++
			}
		}
		if gs.Status != StepDone && !blocked && (s.Planned.Due == BeforeFinish || j.Finished != nil) {
			blocked = true
			if j.takes(s) {
				g.Current = s.Planned.ID
			}
		}
	}
	g.FinishWait = max(0, j.waitLeft(BeforeFinishing, now))
	return g, nil
}

// takes reports whether facts of the step can still count in the job.
func (j *Job) takes(s *StepState) bool {
	return j.Abandoned == nil && (j.Finished == nil || s.Planned.Due == BeforeRelease)
}

func (b *Build) guideStep(j *Job, s *StepState, now Moment, blocked bool) GuideStep {
	gs := GuideStep{ID: s.Planned.ID, Missing: s.Missing(), Lacks: s.lacks(), Wait: max(0, b.stepWait(j, s.Planned.ID, now))}
	for _, item := range s.Planned.items() {
		if r := s.Results[item]; r != nil && r.Void != nil {
			gs.Void = append(gs.Void, item)
		}
	}
	if s.Planned.Torque != nil && !s.Group.Closed {
		gs.Bolt, gs.Pass, gs.Round = s.nextBolt(), s.Group.Pass+1, s.Group.Round
	}
	gs.Status = s.status(j, gs, blocked)
	return gs
}

func (s *StepState) status(j *Job, gs GuideStep, blocked bool) StepStatus {
	switch {
	case s.Complete():
		return StepDone
	case blocked:
		if len(gs.Void) > 0 {
			return StepRetake
		}
		return StepLater
	case s.Planned.Due == BeforeRelease && j.Finished == nil:
		return StepLater
	case s.Rework != "":
		return StepRework
	case s.Done():
		return StepToSign
	case gs.Wait > 0:
		return StepWaiting
	case len(gs.Void) > 0:
		return StepRetake
	}
	return StepNow
}
