package procedure

import (
	"encoding/json"

	"github.com/tightwright/tightwright/torque"
)

// A ResultRef names one result: a bolt ("bolt.A"), a check ("check.rock") or
// the prep ("prep") of a step of a job.
type ResultRef struct {
	Job  string `json:"job"`
	Step string `json:"step"`
	Item string `json:"item"`
}

// A Judgement is what the rules of the day said of a fact. It is data: an old
// judgement is never made again by newer rules.
type Judgement struct {
	// Counts says whether the fact is evidence; where not, Rule says why.
	Counts bool   `json:"counts"`
	Rule   string `json:"rule,omitempty"`
	Text   string `json:"text,omitempty"`
	// Verdict and Probability say what the fact proves.
	Verdict     Verdict `json:"verdict,omitempty"`
	Probability float64 `json:"probability,omitempty"`
	// Retake says that a nonconforming fact may simply be taken again, such
	// as a bolt short of its window; otherwise the joint must be reworked.
	Retake bool `json:"retake,omitempty"`
	// Pass counts from 0 in the plan's passes; Round from 1 among closing
	// rounds, 0 outside them.
	Pass  int `json:"pass,omitempty"`
	Round int `json:"round,omitempty"`
	// Voids lists the results that this fact spoiled. StillVoid lists those it
	// would have spoiled, had they not been void already: they stay void when
	// the entry that spoiled them first is withdrawn.
	Voids     []ResultRef `json:"voids,omitempty"`
	StillVoid []ResultRef `json:"still_void,omitempty"`
}

// A NoteRef stands for free text or a picture kept beside the record: a keyed
// digest, so that the text can be erased and the record still be whole.
type NoteRef string

// JobOpened begins a job on a plan.
type JobOpened struct {
	Procedure  string `json:"procedure"`
	Revision   string `json:"revision"`
	PlanDigest string `json:"plan_digest"`
	Engine     int    `json:"engine"`
	// Supervisor is the person who stays with the work, if anybody does, and
	// SupervisorRank the rank of that day.
	Supervisor     string `json:"supervisor,omitempty"`
	SupervisorRank Rank   `json:"supervisor_rank,omitempty"`
}

// ReadingTaken is one pull of a torque tool on one bolt.
type ReadingTaken struct {
	Step string `json:"step"`
	Bolt string `json:"bolt"`
	// Figure is the reading as the mechanic saw it, Value the same in
	// nanonewton metres.
	Figure torque.Figure `json:"figure"`
	Value  torque.Torque `json:"value"`
	Tool   string        `json:"tool"`
	// Turned says whether the bolt moved before the tool signalled.
	Turned bool `json:"turned,omitempty"`
	// AngleDeg is how far it moved, as digits; empty means not observed.
	AngleDeg  string     `json:"angle_deg,omitempty"`
	From      *MovedFrom `json:"from,omitempty"`
	Judgement Judgement  `json:"judgement"`
}

// MovedFrom names the entry of another build that this one corrects.
type MovedFrom struct {
	Build string `json:"build"`
	Entry string `json:"entry"`
}

// MeasureTaken is one measured figure.
type MeasureTaken struct {
	Step       string    `json:"step"`
	Check      string    `json:"check"`
	Value      string    `json:"value"`
	Unit       string    `json:"unit"`
	Instrument string    `json:"instrument,omitempty"`
	Judgement  Judgement `json:"judgement"`
}

// LookTaken is a yes or no from eye, ear or finger.
type LookTaken struct {
	Step      string    `json:"step"`
	Check     string    `json:"check"`
	OK        bool      `json:"ok"`
	Note      NoteRef   `json:"note,omitempty"`
	Judgement Judgement `json:"judgement"`
}

// PhotoTaken is a picture kept beside the record.
type PhotoTaken struct {
	Step      string    `json:"step"`
	Check     string    `json:"check"`
	Picture   NoteRef   `json:"picture"`
	Judgement Judgement `json:"judgement"`
}

// PrepDone says what was put on, from which batch, in which conditions.
type PrepDone struct {
	Step   string `json:"step"`
	Thread Prep   `json:"thread,omitempty"`
	Face   Prep   `json:"face,omitempty"`
	// Batch is the mark on the container.
	Batch string `json:"batch,omitempty"`
	// Metal and Celsius are the conditions a wait depends on.
	Metal     string    `json:"metal,omitempty"`
	Celsius   *int      `json:"celsius,omitempty"`
	Judgement Judgement `json:"judgement"`
}

// ReworkBegun says that the joint was taken apart again, back to From.
type ReworkBegun struct {
	Step   string  `json:"step"`
	From   string  `json:"from"`
	Reason NoteRef `json:"reason"`
	// Voids and StillVoid are as in Judgement.
	Voids     []ResultRef `json:"voids,omitempty"`
	StillVoid []ResultRef `json:"still_void,omitempty"`
}

// HoldSigned is another person's word for a hold point.
type HoldSigned struct {
	Step string `json:"step"`
	// Saw is what the person saw, in words kept beside the record.
	Saw  NoteRef `json:"saw"`
	Rank Rank    `json:"rank"`
}

// ResultAccepted is a foreman's word for an undecided result.
type ResultAccepted struct {
	Entry  string  `json:"entry"`
	Reason NoteRef `json:"reason"`
	Rank   Rank    `json:"rank"`
}

// FigureAccepted is a foreman's word for a window that nobody printed.
type FigureAccepted struct {
	Joint  string        `json:"joint"`
	Window torque.Window `json:"window"`
	Reason NoteRef       `json:"reason"`
	Rank   Rank          `json:"rank"`
}

// The causes of a withdrawal.
const (
	CauseMisTap    = "mis-tap"
	CauseWrongBike = "wrong-bike"
	CauseDoubtful  = "doubtful"
)

// EntryWithdrawn takes a fact back: it stays in the record and counts for
// nothing.
type EntryWithdrawn struct {
	Entry   string  `json:"entry"`
	Cause   string  `json:"cause"`
	Reason  NoteRef `json:"reason"`
	MovedTo string  `json:"moved_to,omitempty"`
}

// ToolCorrected says that a reading was taken with another tool than
// recorded, and what the rules say of it then.
type ToolCorrected struct {
	Entry     string    `json:"entry"`
	Tool      string    `json:"tool"`
	Reason    NoteRef   `json:"reason"`
	Judgement Judgement `json:"judgement"`
}

// PartSwapped puts the job on a new plan; results that do not touch the part
// stay.
type PartSwapped struct {
	Role       string  `json:"role"`
	PlanDigest string  `json:"plan_digest"`
	Revision   string  `json:"revision"`
	Engine     int     `json:"engine"`
	Reason     NoteRef `json:"reason"`
	// Voids and StillVoid are as in Judgement.
	Voids     []ResultRef `json:"voids,omitempty"`
	StillVoid []ResultRef `json:"still_void,omitempty"`
}

// JobFinished says that every result of the job stood at that moment.
type JobFinished struct{}

// JobAbandoned closes a job that will not be finished.
type JobAbandoned struct {
	Reason NoteRef `json:"reason"`
}

// BuildReleased lets the bike leave the workshop.
type BuildReleased struct {
	Rank Rank `json:"rank"`
}

// Unknown is an entry of a newer version, kept whole.
type Unknown struct {
	Name string
	Raw  json.RawMessage
}

// Kind implements Payload.
func (JobOpened) Kind() string      { return "job-opened" }
func (ReadingTaken) Kind() string   { return "reading-taken" }   // Kind implements Payload.
func (MeasureTaken) Kind() string   { return "measure-taken" }   // Kind implements Payload.
func (LookTaken) Kind() string      { return "look-taken" }      // Kind implements Payload.
func (PhotoTaken) Kind() string     { return "photo-taken" }     // Kind implements Payload.
func (PrepDone) Kind() string       { return "prep-done" }       // Kind implements Payload.
func (ReworkBegun) Kind() string    { return "rework-begun" }    // Kind implements Payload.
func (HoldSigned) Kind() string     { return "hold-signed" }     // Kind implements Payload.
func (ResultAccepted) Kind() string { return "result-accepted" } // Kind implements Payload.
func (FigureAccepted) Kind() string { return "figure-accepted" } // Kind implements Payload.
func (EntryWithdrawn) Kind() string { return "entry-withdrawn" } // Kind implements Payload.
func (ToolCorrected) Kind() string  { return "tool-corrected" }  // Kind implements Payload.
func (PartSwapped) Kind() string    { return "part-swapped" }    // Kind implements Payload.
func (JobFinished) Kind() string    { return "job-finished" }    // Kind implements Payload.
func (JobAbandoned) Kind() string   { return "job-abandoned" }   // Kind implements Payload.
func (BuildReleased) Kind() string  { return "build-released" }  // Kind implements Payload.
func (u Unknown) Kind() string      { return u.Name }            // Kind implements Payload.

func (JobOpened) payload()      {}
func (ReadingTaken) payload()   {}
func (MeasureTaken) payload()   {}
func (LookTaken) payload()      {}
func (PhotoTaken) payload()     {}
func (PrepDone) payload()       {}
func (ReworkBegun) payload()    {}
func (HoldSigned) payload()     {}
func (ResultAccepted) payload() {}
func (FigureAccepted) payload() {}
func (EntryWithdrawn) payload() {}
func (ToolCorrected) payload()  {}
func (PartSwapped) payload()    {}
func (JobFinished) payload()    {}
func (JobAbandoned) payload()   {}
func (BuildReleased) payload()  {}
func (Unknown) payload()        {}
