package sqlstore

import (
	"context"
	"database/sql"
	"fmt"
	"sync/atomic"
	"time"

	"github.com/tightwright/tightwright/server/store"
)

// scrubRetry is how long erased content may stay in the files after the last
// View that needed it has ended.
const scrubRetry = time.Second

// call is a caller that waits for its turn.
type call struct {
	ctxDone <-chan struct{}
	turn    chan *batch // unbuffered: either both are here, or there is no turn
}

// writer owns the write connection. One goroutine decides who has the turn.
type writer struct {
	db      *sql.DB
	dialect *Dialect
	limits  Options
	queue   chan *call
	closing chan struct{}
	stopped chan struct{}

	// Only for whoever holds the turn.
	session  *session
	known    knownRows
	unclean  bool // erased content is still in the files
	retrying <-chan time.Time

	calls, commits atomic.Int64
}

func newWriter(db *sql.DB, d *Dialect, o Options) *writer {
	w := &writer{
		db: db, dialect: d, limits: o,
		queue:   make(chan *call, o.Queue),
		closing: make(chan struct{}),
		stopped: make(chan struct{}),
	}
	go w.serve()
	return w
}

// update is Store.Update.
func (w *writer) update(ctx context.Context, workshop string, fn func(store.Tx) error) error {
	if err := checkKey("workshop", workshop); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("update: %w", err)
	}
	c := &call{ctxDone: ctx.Done(), turn: make(chan *batch)}
	select {
	case <-w.closing:
		return store.ErrClosed
	default:
	}
	select {
	case w.queue <- c:
	default:
		return fmt.Errorf("update: %d callers are waiting: %w", w.limits.Queue, store.ErrBusy)
	}
	select {
	case b := <-c.turn:
		err := b.run(workshop, fn)
		<-b.settled
		if b.err != nil {
			return b.err
		}
		return err
	case <-ctx.Done():
		return fmt.Errorf("update: wait for a turn: %w", ctx.Err())
	case <-w.closing:
		return store.ErrClosed
	}
}

func (w *writer) serve() {
	defer close(w.stopped)
	for {
		select {
		case <-w.closing:
			return
		case <-w.retrying:
			w.scrub()
		case c := <-w.queue:
			w.serveBatch(c)
		}
	}
}

// serveBatch gives turns to c and to those who wait behind it, and commits.
func (w *writer) serveBatch(c *call) {
	b := &batch{writer: w, over: make(chan struct{}), settled: make(chan struct{})}
	if !b.pass(c) {
		return
	}
	<-b.over
	b.settle()
	w.calls.Add(int64(b.calls))
	w.commits.Add(1)
}

// next returns the next caller for a batch, or nil if it should be committed:
// because nobody waits, because it is large or has taken long enough, or
// because there is no transaction to be shared.
func (w *writer) next(b *batch) *call {
	if b.broken != nil || b.calls >= w.limits.BatchCalls ||
		(b.begun && time.Since(b.started) >= w.limits.BatchTime) {
		return nil
	}
	select {
	case <-w.closing:
		return nil
	default:
	}
	select {
	case c := <-w.queue:
		return c
	default:
		return nil
	}
}

func (w *writer) connect() (err error) {
	if w.session == nil {
		w.session, err = newSession(context.Background(), w.db)
		if err != nil {
			return w.dialect.wrap("open write connection", err)
		}
	}
	return nil
}

func (w *writer) disconnect() {
	if w.session != nil {
		w.session.discard()
		w.session = nil
	}
}

// scrub overwrites erased content, or arranges for another attempt.
func (w *writer) scrub() {
	w.unclean, w.retrying = false, nil
	if w.dialect.Scrub == nil {
		return
	}
	clean := false
	if err := w.connect(); err == nil {
		clean, err = w.dialect.Scrub(context.Background(), w.session.conn)
		if err != nil {
			w.disconnect()
		}
	}
	if !clean {
		w.unclean, w.retrying = true, time.After(scrubRetry)
	}
}

// close ends the goroutine after the batch under way.
func (w *writer) close() {
	close(w.closing)
	<-w.stopped
}

// release closes the connection. No View may be open any more.
func (w *writer) release() error {
	if w.unclean {
		w.scrub()
	}
	if w.session == nil {
		return nil
	}
	return w.session.close()
}
