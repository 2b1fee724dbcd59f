package procedure

import (
	"encoding/json"
	"fmt"
)

// EntrySchema is the version of the envelope written today.
const EntrySchema = 1

// An Envelope is what every entry of a build's record carries, whatever it
// says.
type Envelope struct {
	Schema   int    `json:"schema"`
	ID       string `json:"id"`
	Workshop string `json:"workshop"`
	Build    string `json:"build"`
	Seq      int64  `json:"seq"`
	// Job is empty for entries about the build as a whole.
	Job   string `json:"job,omitempty"`
	Kind  string `json:"kind"`
	Actor string `json:"actor"`
	// BasedOn is the last sequence the actor had seen; 0 makes no claim.
	BasedOn int64  `json:"based_on"`
	Moment  Moment `json:"moment"`
	// Happened is when the hand did it, where that is not Moment: an entry
	// moved here from another build keeps its own time.
	Happened *Moment `json:"happened,omitempty"`
}

// when returns the moment the hand did it.
func (e Envelope) when() Moment {
	if e.Happened != nil {
		return *e.Happened
	}
	return e.Moment
}

// An Entry is one line of a build's record. It never changes.
type Entry struct {
	Envelope
	Payload Payload
}

// A Payload is what an entry says. The set of kinds is closed here; kinds of
// a newer version are kept as Unknown.
type Payload interface {
	// Kind is the name under which the payload is stored.
	Kind() string
	payload()
}

// Encode returns the envelope and the payload as they are stored: together
// they are the leaf of the ledger.
func (e Entry) Encode() (envelope, payload []byte, err error) {
	if u, ok := e.Payload.(Unknown); ok {
		payload = u.Raw
	} else if payload, err = json.Marshal(e.Payload); err != nil {
		return nil, nil, fmt.Errorf("encode entry %s: %w", e.ID, err)
	}
	if envelope, err = json.Marshal(e.Envelope); err != nil {
		return nil, nil, fmt.Errorf("encode entry %s: %w", e.ID, err)
	}
	return envelope, payload, nil
}

// DecodeEntry reads what Encode wrote. Kinds it doesn't know are kept whole
// as Unknown, and change no state.
func DecodeEntry(envelope, payload []byte) (Entry, error) {
	var e Entry
	if err := json.Unmarshal(envelope, &e.Envelope); err != nil {
		return Entry{}, fmt.Errorf("decode envelope: %w", err)
	}
	decode, known := payloadKinds[e.Kind]
	if !known {
		e.Payload = Unknown{Name: e.Kind, Raw: payload}
		return e, nil
	}
	p, err := decode(payload)
	if err != nil {
		return Entry{}, fmt.Errorf("decode entry %s of kind %s: %w", e.ID, e.Kind, err)
	}
	e.Payload = p
	return e, nil
}

func decodeAs[P Payload](data []byte) (Payload, error) {
	var p P
	err := json.Unmarshal(data, &p)
	return p, err
}

var payloadKinds = map[string]func([]byte) (Payload, error){
	JobOpened{}.Kind():      decodeAs[JobOpened],
	ReadingTaken{}.Kind():   decodeAs[ReadingTaken],
	MeasureTaken{}.Kind():   decodeAs[MeasureTaken],
	LookTaken{}.Kind():      decodeAs[LookTaken],
	PhotoTaken{}.Kind():     decodeAs[PhotoTaken],
	PrepDone{}.Kind():       decodeAs[PrepDone],
	ReworkBegun{}.Kind():    decodeAs[ReworkBegun],
	HoldSigned{}.Kind():     decodeAs[HoldSigned],
	ResultAccepted{}.Kind(): decodeAs[ResultAccepted],
	FigureAccepted{}.Kind(): decodeAs[FigureAccepted],
	EntryWithdrawn{}.Kind(): decodeAs[EntryWithdrawn],
	ToolCorrected{}.Kind():  decodeAs[ToolCorrected],
	PartSwapped{}.Kind():    decodeAs[PartSwapped],
	JobFinished{}.Kind():    decodeAs[JobFinished],
	JobAbandoned{}.Kind():   decodeAs[JobAbandoned],
	BuildReleased{}.Kind():  decodeAs[BuildReleased],
}
