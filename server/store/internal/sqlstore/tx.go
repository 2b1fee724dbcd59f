package sqlstore

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/server/store"
)

const (
	savepoint   = `SAVEPOINT caller`
	keepPoint   = `RELEASE SAVEPOINT caller`
	returnPoint = `ROLLBACK TO SAVEPOINT caller`

	insertWorkshop = `INSERT INTO workshops (workshop, size, created_us) VALUES ($1, 0, $2)
 ON CONFLICT (workshop) DO NOTHING`
)

// tx implements store.Tx for one caller inside a batch. The caller's savepoint
// is set before the first write: a call that only reads, or is refused before
// it writes, costs no round trip for it.
type tx struct {
	reader
	batch   *batch
	writing bool    // the savepoint is set
	numbers numbers // claimed by this caller or, before it, by the batch
	seen    []row   // that exist if this is kept
	refused bool    // err is a refusal; the statements themselves went well
	erased  bool    // content was erased
}

var _ store.Tx = (*tx)(nil)

func (b *batch) newTx(workshop string) *tx {
	return &tx{batch: b, reader: reader{
		// The caller's context must not reach the connection that all share: an
		// interrupted statement can take the whole transaction with it.
		ctx:      context.Background(),
		dialect:  b.writer.dialect,
		session:  b.writer.session,
		workshop: workshop,
	}}
}

// refuse notes that the transaction must be undone though no statement failed.
func (t *tx) refuse(err error) error {
	if t.err == nil {
		t.err, t.refused = err, true
	}
	return err
}

// startWriting sets the savepoint.
func (t *tx) startWriting() error {
	if t.err != nil || t.writing {
		return t.err
	}
	if _, err := t.exec("set savepoint", savepoint); err != nil {
		return err
	}
	t.writing = true
	return nil
}

// startWritingIn also makes sure that the workshop has its row.
func (t *tx) startWritingIn(serverUS int64) error {
	r := row{workshop: t.workshop}
	if err := t.startWriting(); err != nil || t.isKnown(r) {
		return err
	}
	_, err := t.exec("add workshop "+t.workshop, insertWorkshop, t.workshop, serverUS)
	if err == nil {
		t.seen = append(t.seen, r)
	}
	return err
}

func (t *tx) isKnown(r row) bool {
	return slices.Contains(t.seen, r) || slices.Contains(t.batch.seen, r) || t.batch.writer.known.has(r)
}

// finish keeps or undoes what the caller wrote, before the next caller has its
// turn, and returns the outcome as far as it is known before the commit.
// returned is false if fn ended by a panic or by runtime.Goexit.
func (t *tx) finish(fnErr error, returned bool) error {
	if fnErr == nil {
		fnErr = t.err
	}
	lost := t.err != nil && !t.refused && !t.writing // a read failed: is there still a transaction?
	cause := t.err
	if t.writing {
		t.err = nil // so that the savepoint itself can be dealt with
		if fnErr == nil && returned {
			_, cause = t.exec("keep savepoint", keepPoint)
			lost = cause != nil
		} else if err := t.undo(); err != nil {
			lost, cause = true, errors.Join(cause, err)
		}
	}
	if lost {
		t.batch.broken = fmt.Errorf("transaction was lost: %w", cause)
	}
	if fnErr == nil && returned {
		t.batch.keep(t)
	}
	t.err = errFinished
	return fnErr
}

func (t *tx) undo() error {
	if _, err := t.exec("return to savepoint", returnPoint); err != nil {
		return err
	}
	_, err := t.exec("release savepoint", keepPoint)
	return err
}
