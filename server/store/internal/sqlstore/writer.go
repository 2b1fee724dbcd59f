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

// writer owns the write connection. There is one turn to use it. Whoever finds
// the turn free begins a batch, at once and in its own goroutine; whoever does
// not waits in the queue, is given the turn by the one before, and the last of a
// batch commits for all of them and sets the turn free. So a caller that is
// alone waits for nobody but the disk.
type writer struct {
	db      *sql.DB
	dialect *Dialect
	limits  Options
	queue   chan *call
	free    chan struct{} // holds the turn while nobody has it
	closing chan struct{}

	// Only for whoever has the turn.
	session *session
	known   knownRows
	unclean bool        // erased content is still in the files
	retry   *time.Timer // runs while it is

	calls, commits atomic.Int64
}

// call is a caller that waits for its turn.
type call struct {
	turn chan *batch   // unbuffered: either both are here, or there is no turn
	gone chan struct{} // closed by a caller that waits here no more
}

func newWriter(db *sql.DB, d *Dialect, o Options) *writer {
	w := &writer{
		db: db, dialect: d, limits: o,
		queue:   make(chan *call, o.Queue),
		free:    make(chan struct{}, 1),
		closing: make(chan struct{}),
	}
	w.free <- struct{}{}
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
	if w.isClosing() {
		return store.ErrClosed
	}
	select {
	case <-w.free:
		return w.lead(workshop, fn)
	default:
	}
	c := &call{turn: make(chan *batch), gone: make(chan struct{})}
	select {
	case w.queue <- c:
	default:
		return fmt.Errorf("update: %d callers are waiting: %w", w.limits.Queue, store.ErrBusy)
	}
	select {
	case b := <-c.turn:
		return b.join(workshop, fn)
	case <-w.free:
		close(c.gone)
		return w.lead(workshop, fn)
	case <-ctx.Done():
		close(c.gone)
		return fmt.Errorf("update: wait for a turn: %w", ctx.Err())
	case <-w.closing:
		close(c.gone)
		return store.ErrClosed
	}
}

// lead begins a batch. The caller has the turn.
func (w *writer) lead(workshop string, fn func(store.Tx) error) error {
	if w.isClosing() {
		w.release()
		return store.ErrClosed
	}
	b := &batch{writer: w, settled: make(chan struct{})}
	return b.join(workshop, fn)
}

// release sets the turn free: it goes to the one who has waited longest.
func (w *writer) release() { w.free <- struct{}{} }

func (w *writer) isClosing() bool {
	select {
	case <-w.closing:
		return true
	default:
		return false
	}
}

// next returns the next caller for a batch, or nil if it should be committed:
// because nobody waits, because it is large or has taken long enough, or
// because there is no transaction to be shared.
func (w *writer) next(b *batch) *call {
	if b.broken != nil || b.calls >= w.limits.BatchCalls ||
		(b.begun && time.Since(b.started) >= w.limits.BatchTime) {
		return nil
	}
	if w.isClosing() {
		return nil
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
	w.unclean = false
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
	if clean {
		return
	}
	w.unclean = true
	if w.retry == nil {
		w.retry = time.AfterFunc(scrubRetry, w.scrubAgain)
	}
}

func (w *writer) scrubAgain() {
	select {
	case <-w.free:
		w.retry = nil
		if w.unclean {
			w.scrub()
		}
		w.release()
	case <-w.closing:
	}
}

// stop waits for the batch under way and takes the turn for good.
func (w *writer) stop() {
	close(w.closing)
	<-w.free
	if w.retry != nil {
		w.retry.Stop()
	}
}

// disconnectCleanly ends what stop began, once no View is open any more.
func (w *writer) disconnectCleanly() error {
	if w.unclean {
		w.scrub()
	}
	if w.session == nil {
		return nil
	}
	return w.session.close()
}
