package sqlstore

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/tightwright/tightwright/server/store"
)

// Options bounds what a store uses. A field that is not above zero takes
// the default.
type Options struct {
	Queue      int           // callers that may wait for a turn; 1024
	BatchCalls int           // callers that share one transaction; 256
	BatchTime  time.Duration // after which no more callers join it, their functions included; 10 ms
	Views      int           // Views that run at the same time; 4
}

// WithDefaults fills in the defaults.
func (o Options) WithDefaults() Options {
	if o.Queue <= 0 {
		o.Queue = 1024
	}
	if o.BatchCalls <= 0 {
		o.BatchCalls = 256
	}
	if o.BatchTime <= 0 {
		o.BatchTime = 10 * time.Millisecond
	}
	if o.Views <= 0 {
		o.Views = 4
	}
	return o
}

// Stats counts since the store was opened.
type Stats struct {
	Calls   int64 // Updates that had their turn
	Commits int64 // transactions they shared
}

// Store implements store.Store over two pools: one write connection, and the
// connections that only read.
type Store struct {
	writer  *writer
	readers *readers
	dbs     []*sql.DB
	close   func() error
}

var _ store.Store = (*Store)(nil)

// New returns a store over a migrated database. The pools become its own; write
// must be limited to one connection. o must have no zero field.
func New(write, read *sql.DB, d Dialect, o Options) *Store {
	s := &Store{
		writer:  newWriter(write, &d, o),
		readers: newReaders(read, &d, o.Views),
		dbs:     []*sql.DB{read, write},
	}
	s.close = sync.OnceValue(s.closeOnce)
	return s
}

// Update implements store.Store.
func (s *Store) Update(ctx context.Context, workshop string, fn func(store.Tx) error) error {
	return s.writer.update(ctx, workshop, fn)
}

// View implements store.Store.
func (s *Store) View(ctx context.Context, workshop string, fn func(store.Reader) error) error {
	if err := checkKey("workshop", workshop); err != nil {
		return err
	}
	return s.readers.view(ctx, workshop, func(r *reader) error { return fn(r) })
}

// Workshops implements store.Store.
func (s *Store) Workshops(ctx context.Context, after string, limit int) (all []store.Workshop, err error) {
	err = s.readers.view(ctx, "", func(r *reader) error {
		all, err = r.workshops(after, limit)
		return err
	})
	return all, err
}

// Check implements store.Store.
func (s *Store) Check(ctx context.Context) error {
	return s.readers.view(ctx, "", func(r *reader) error {
		_, found, err := r.number("read store version", selectVersion)
		if err == nil && !found {
			return fmt.Errorf("read store version: %w", store.ErrCorrupt)
		}
		return err
	})
}

// Stats returns the counts so far.
func (s *Store) Stats() Stats {
	return Stats{Calls: s.writer.calls.Load(), Commits: s.writer.commits.Load()}
}

// Close implements store.Store.
func (s *Store) Close() error { return s.close() }

func (s *Store) closeOnce() error {
	s.writer.stop()
	err := errors.Join(s.readers.close(), s.writer.disconnectCleanly())
	for _, db := range s.dbs {
		err = errors.Join(err, db.Close())
	}
	if err != nil {
		return fmt.Errorf("close store: %w", err)
	}
	return nil
}
