package server

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// A mutation is a request that changes something.
type mutation interface {
	proto.Message
	GetRequestId() string
}

// An answer says what a call did, so that the same answer can be made again
// from the store. It is kept for good and not reached by erasing: ids, numbers
// and our own words only.
type answer struct {
	// Document that was written, with its version.
	ID      string `json:"id,omitempty"`
	Version int64  `json:"version,omitempty"`
	// Outcomes of commands, in order.
	Outcomes []outcome `json:"outcomes,omitempty"`
	// Before and Head are the last entries of the build before and after.
	Before int64 `json:"before,omitempty"`
	Head   int64 `json:"head,omitempty"`
	// AtUS is when the call was answered.
	AtUS int64 `json:"at_us"`

	// since is what others recorded, to be shown with a conflict.
	since []store.Entry
}

// An outcome is what became of one command.
type outcome struct {
	Entry   string   `json:"entry"`
	Refused *refusal `json:"refused,omitempty"`

	// stored is the entry, where this call has it at hand.
	stored *store.Entry
}

// complete fills in the entries that are not at hand.
func (a *answer) complete(r store.Reader) error {
	for i := range a.Outcomes {
		o := &a.Outcomes[i]
		if o.Refused != nil || o.stored != nil {
			continue
		}
		e, err := r.EntryByID(o.Entry)
		if err != nil {
			return fmt.Errorf("read entry %s: %w", o.Entry, err)
		}
		o.stored = &e
	}
	return nil
}

// A change runs in the transaction of a mutation. do makes the change and
// returns what it did; same says whether a repeated call carries the texts
// that were stored then (they are in no digest); show makes the response, for
// a new answer and for a repeated one alike.
type change struct {
	do   func(tx store.Tx, at time.Time) (answer, error)
	same func(r store.Reader, a answer) (bool, error)
	show func(r store.Reader, a answer) error
	// hopeful changes are made before looking whether the request was answered
	// already, which it hardly ever was: do finds out by itself what is
	// recorded already, and show needs no reader for a new answer. Where that
	// fails, everything is undone and the request looked up after all.
	hopeful bool
}

// mutating begins to gather what is wrong with a mutation.
func mutating(req mutation) *fields {
	f := &fields{}
	if !uuidForm.MatchString(req.GetRequestId()) {
		f.add("request_id", "malformed-request-id",
			"write a UUID such as 6f1c1c0e-5f0c-4c57-9d5c-0b7a4f7f1d11, a new one for each call that is no repetition")
	}
	return f
}

// mutate runs a change once for its request id, which was checked. It returns
// after the change is durable.
func (s *Server) mutate(ctx context.Context, req mutation, c change) error {
	id := strings.ToLower(req.GetRequestId())
	digest, err := requestDigest(ctx, req)
	if err != nil {
		return err
	}
	if c.hopeful {
		var a answer
		err := s.store.Update(ctx, s.workshop(ctx), func(tx store.Tx) (err error) {
			a, err = s.once(tx, id, digest, c)
			return err
		})
		if err == nil {
			return c.show(nil, a)
		}
		if ctx.Err() != nil || errors.Is(err, store.ErrBusy) {
			return err
		}
	}
	return s.store.Update(ctx, s.workshop(ctx), func(tx store.Tx) error {
		if a, known, err := answered(tx, id, digest); err != nil {
			return err
		} else if known {
			return again(tx, id, a, c)
		}
		a, err := s.once(tx, id, digest, c)
		if err != nil {
			return err
		}
		return c.show(tx, a)
	})
}

// once makes a change and stores the answer.
func (s *Server) once(tx store.Tx, id string, digest []byte, c change) (answer, error) {
	at := s.now()
	a, err := c.do(tx, at)
	if err != nil {
		return answer{}, err
	}
	a.AtUS = at.UnixMicro()
	data, err := json.Marshal(a)
	if err != nil {
		return answer{}, fmt.Errorf("encode answer: %w", err)
	}
	return a, tx.PutRequest(store.Request{ID: id, Digest: digest, Answer: data, ServerUS: at.UnixMicro()})
}

// again answers a repeated call.
func again(tx store.Tx, id string, a answer, c change) error {
	if c.same != nil {
		same, err := c.same(tx, a)
		if err != nil {
			return err
		}
		if !same {
			return fmt.Errorf("request %s: %w", id, store.ErrRequestReused)
		}
	}
	return c.show(tx, a)
}

func answered(r store.Reader, id string, digest []byte) (answer, bool, error) {
	data, known, err := store.Answered(r, id, digest)
	if err != nil || !known {
		return answer{}, false, err
	}
	var a answer
	if err := json.Unmarshal(data, &a); err != nil {
		return answer{}, false, fmt.Errorf("decode answer of request %s: %w", id, err)
	}
	return a, true, nil
}

// requestDigest is what a repeated call must have in common with the first:
// the method, the person and the content, but for names and free text.
func requestDigest(ctx context.Context, req mutation) ([]byte, error) {
	data, err := contentOf(redacted(req))
	if err != nil {
		return nil, err
	}
	p, _ := principalOf(ctx)
	method, _ := grpc.Method(ctx)
	h := sha256.New()
	for _, part := range []string{method, p.Person} {
		h.Write(fmt.Appendf(nil, "%d:%s", len(part), part))
	}
	h.Write(data)
	return h.Sum(nil), nil
}

// contentOf is a copy of a request in bytes, its request id left out.
func contentOf(req proto.Message) ([]byte, error) {
	m := req.ProtoReflect()
	m.Clear(m.Descriptor().Fields().ByName("request_id"))
	data, err := proto.MarshalOptions{Deterministic: true}.Marshal(req)
	if err != nil {
		return nil, fmt.Errorf("digest request: %w", err)
	}
	return data, nil
}

// actor reads who calls as the store knows them now: a rank that was lowered a
// moment ago does not sign any more.
func (s *Server) actor(ctx context.Context, r store.Reader) (procedure.Actor, error) {
	p, ok := principalOf(ctx)
	if !ok {
		return procedure.Actor{}, ErrNoSession
	}
	_, person, err := readDocument[personDoc](r, kindPerson, p.Person)
	switch {
	case isMissing(err), err == nil && person.Retired:
		return procedure.Actor{}, ErrNoSession
	case err != nil:
		return procedure.Actor{}, err
	}
	return procedure.Actor{Person: p.Person, Rank: person.Rank, Skills: person.Skills}, nil
}
