package audit

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// A Finding is one thing that was not as it should be.
type Finding struct {
	// Rule is the stable code of the rule, Risk the class of what it touches.
	Rule string         `json:"rule"`
	Risk procedure.Risk `json:"risk"`
	// Procedure and Job say in which job; empty for the build as a whole.
	Procedure string `json:"procedure,omitempty"`
	Job       string `json:"job,omitempty"`
	// Step and Item say where in the job, as far as it is about one place.
	Step string `json:"step,omitempty"`
	Item string `json:"item,omitempty"`
	// Tool is the torque tool it is about, if any.
	Tool string `json:"tool,omitempty"`
	// Because is the rule that the record itself gave for a fact that does
	// not count, such as bolt-out-of-order.
	Because string `json:"because,omitempty"`
	// Entries are the evidence, in the order of the record. A finding about
	// what is missing has none.
	Entries []EntryRef `json:"entries,omitempty"`
	// Text says what was found, Mend what to do about it, in plain words.
	Text string `json:"text"`
	Mend string `json:"mend"`
	// Sure says how far the record proves it.
	Sure Sureness `json:"sure"`
	// Status says whether the record shows that it was made good.
	Status Status `json:"status"`
	// Note marks what an auditor should know and nobody has to mend.
	Note bool `json:"note,omitempty"`
}

// An EntryRef names an entry of the record and who made it.
type EntryRef struct {
	ID    string `json:"id"`
	Seq   int64  `json:"seq"`
	Actor string `json:"actor"`
}

// Status says whether a finding still stands.
type Status uint8

// The statuses.
const (
	// Open findings wait for a person.
	Open Status = iota + 1
	// Reworked findings were made good, and the record shows it.
	Reworked
)

var statusNames = []string{"", "open", "reworked"}

// String returns the status in words.
func (s Status) String() string { return nameOf(statusNames, s) }

// MarshalText writes the status in words.
func (s Status) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *Status) UnmarshalText(text []byte) (err error) {
	*s, err = parseName[Status]("status", statusNames, string(text))
	return err
}

// Sureness says how far the record proves a finding.
type Sureness uint8

// The degrees, weakest first.
const (
	// Possible: the record allows it, and does not rule it out.
	Possible Sureness = iota + 1
	// Likely: it is what the record would look like.
	Likely
	// Certain: it follows from the record.
	Certain
)

var surenessNames = []string{"", "possible", "likely", "certain"}

// String returns the degree in words.
func (s Sureness) String() string { return nameOf(surenessNames, s) }

// MarshalText writes the degree in words.
func (s Sureness) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *Sureness) UnmarshalText(text []byte) (err error) {
	*s, err = parseName[Sureness]("sureness", surenessNames, string(text))
	return err
}

// nameOf shows a number for a value of a newer version, so that it is still
// visible.
func nameOf[E ~uint8](names []string, v E) string {
	if int(v) < len(names) {
		return names[v]
	}
	return fmt.Sprintf("unknown(%d)", v)
}

// parseName finds a text among the names; the error lists what is accepted.
func parseName[E ~uint8](what string, names []string, text string) (E, error) {
	for i, n := range names {
		if n != "" && n == text {
			return E(i), nil
		}
	}
	return 0, &procedure.FieldError{Rule: "unknown-" + what, Text: fmt.Sprintf("unknown %s %q: write one of %q", what, text, names[1:])}
}
