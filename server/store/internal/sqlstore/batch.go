package sqlstore

import (
	"context"
	"time"

	"github.com/tightwright/tightwright/server/store"
)

// batch is one transaction with the callers that share it. Whoever has the turn
// may use it: first the writer, then each caller, then the writer again. Each
// caller runs its function in its own goroutine, which keeps a panic, or a
// runtime.Goexit, where it belongs, and hands the turn straight to the next.
type batch struct {
	writer  *writer
	over    chan struct{} // the last caller gives the turn back to the writer
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

// run is one caller's turn. It is passed on in every case.
func (b *batch) run(workshop string, fn func(store.Tx) error) (err error) {
	defer func() {
		if !b.pass(b.writer.next(b)) {
			b.over <- struct{}{}
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

// pass gives the turn to c, or to the first behind it that still waits, and
// reports false if there is none.
func (b *batch) pass(c *call) bool {
	for ; c != nil; c = b.writer.next(b) {
		select {
		case c.turn <- b:
			return true
		case <-c.ctxDone:
		case <-b.writer.closing:
		}
	}
	return false
}

// begin starts the transaction when the first caller has come.
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
