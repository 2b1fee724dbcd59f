package store

import (
	"bytes"
	"errors"
	"fmt"
)

// Request is the answer that was given to a request id. Every mutation stores
// one in its own transaction, so that a repeated call changes nothing and gets
// the same answer. Neither Digest nor Answer may hold free text or a name: a
// request is not reached by erasing.
type Request struct {
	ID       string
	Digest   []byte // of the method and the content of the call; not empty
	Answer   []byte // may be empty
	ServerUS int64
}

// RequestReader reads what was answered.
type RequestReader interface {
	// Request returns what was answered to a request id, or ErrNotFound.
	Request(id string) (Request, error)
}

// RequestWriter writes what is answered.
type RequestWriter interface {
	// PutRequest stores an answer. If the id exists already it fails with
	// ErrRequestReused, whatever the content: call Answered first, in the same
	// transaction.
	PutRequest(r Request) error
}

// Answered looks up whether a call was answered before. It returns the answer
// and true if id was answered for the same digest, false if id is new, and
// ErrRequestReused if id was used with another content.
func Answered(r RequestReader, id string, digest []byte) (answer []byte, known bool, err error) {
	stored, err := r.Request(id)
	switch {
	case errors.Is(err, ErrNotFound):
		return nil, false, nil
	case err != nil:
		return nil, false, err
	case !bytes.Equal(stored.Digest, digest):
		return nil, false, fmt.Errorf("request %s: %w", id, ErrRequestReused)
	}
	return stored.Answer, true, nil
}
