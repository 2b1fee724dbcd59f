package sqlstore

import (
	"context"
	"time"

	"github.com/tightwright/tightwright/server/store"
)

// batch is one transaction with the callers that share it. Only the caller that
// has the turn touches it. Each runs its function in its own goroutine, which
// keeps a panic, or a runtime.Goexit, where it belongs.
type batch struct {
	writer  *writer
	settled chan struct{} // closed once err is the outcome
	err     error

	started time.Time
	begun   bool
	calls   int
	broken  error              // the transaction is gone or never began
	numbers map[string]numbers // by workshop, as claimed by those kept so far
	seen    []row              // that exist if this is committed
	erased  bool
}

// keep takes over what the commit has to know of a caller.
func (b *batch) keep(t *tx) {
	b.erased = b.erased || t.erased
	b.seen = append(b.seen, t.seen...)
	if t.numbers.claimed {
		if b.numbers == nil {
			b.numbers = make(map[string]numbers)
		}
		b.numbers[t.workshop] = t.numbers
	}
}

// join runs fn in the batch and returns what is known when that is durable.
func (b *batch) join(workshop string, fn func(store.Tx) error) error {
	err := b.run(workshop, fn)
	<-b.settled
	if b.err != nil {
		return b.err
	}
	return err
}

// run is one caller's turn. It ends in every case with the turn passed on, or
// with the batch settled and the turn free.
func (b *batch) run(workshop string, fn func(store.Tx) error) (err error) {
	defer func() {
		if !b.pass() {
			b.settle()
			b.writer.release()
		}
	}()
	b.calls++
	if err := b.begin(); err != nil {
		return err
	}
	t, returned := b.newTx(workshop), false
	defer func() { err = t.finish(err, returned) }()
	err = fn(t)
	returned = true
	return err
}

// pass gives the turn to the first that still waits, and reports false if nobody
// is to join this batch any more.
func (b *batch) pass() bool {
	for c := b.writer.next(b); c != nil; c = b.writer.next(b) {
		select {
		case c.turn <- b:
			return true
		case <-c.gone:
		}
	}
	return false
}

// begin starts the transaction, unless that was done or tried before.
func (b *batch) begin() error {
	if b.begun || b.broken != nil {
		return b.broken
	}
	b.started = time.Now()
	if b.broken = b.writer.connect(); b.broken != nil {
		return b.broken
	}
	_, err := b.writer.session.exec(context.Background(), b.writer.dialect.Begin)
	if err != nil {
		b.broken = b.writer.dialect.wrap("begin transaction", err)
		return b.broken
	}
	b.begun = true
	return nil
}

func (b *batch) commit(ctx context.Context) error {
	if err := b.writeSizes(ctx); err != nil {
		return err
	}
	if _, err := b.writer.session.exec(ctx, `COMMIT`); err != nil {
		return b.writer.dialect.wrap("commit", err)
	}
	return nil
}

// settle makes the outcome durable and lets the callers know.
func (b *batch) settle() {
	defer close(b.settled)
	b.writer.calls.Add(int64(b.calls))
	b.writer.commits.Add(1)
	b.err = b.broken
	if b.begun && b.err == nil {
		b.err = b.commit(context.Background())
	}
	if b.err != nil {
		// Nothing is known for certain about this connection any more. Closing
		// it undoes whatever is open on it.
		b.writer.disconnect()
		return
	}
	b.writer.known.add(b.seen)
	if b.erased {
		b.writer.scrub()
	}
}
