package sqlstore

import (
	"context"
	"database/sql"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

// readers lends out the connections that only read. A nil session in the pool
// is one still to be opened.
type readers struct {
	db      *sql.DB
	dialect *Dialect
	pool    chan *session
	closing chan struct{}
}

func newReaders(db *sql.DB, d *Dialect, count int) *readers {
	p := &readers{db: db, dialect: d, pool: make(chan *session, count), closing: make(chan struct{})}
	for range count {
		p.pool <- nil
	}
	return p
}

// take waits for a connection to be free.
func (p *readers) take(ctx context.Context) (*session, error) {
	select {
	case <-p.closing:
		return nil, store.ErrClosed
	default:
	}
	select {
	case s := <-p.pool:
		if s != nil {
			return s, nil
		}
		s, err := newSession(context.WithoutCancel(ctx), p.db)
		if err != nil {
			p.pool <- nil
			return nil, p.dialect.wrap("open read connection", err)
		}
		return s, nil
	case <-ctx.Done():
		return nil, fmt.Errorf("view: wait for a connection: %w", ctx.Err())
	case <-p.closing:
		return nil, store.ErrClosed
	}
}

// view runs fn in a transaction that only reads.
func (p *readers) view(ctx context.Context, workshop string, fn func(*reader) error) (err error) {
	s, err := p.take(ctx)
	if err != nil {
		return err
	}
	r := &reader{ctx: ctx, dialect: p.dialect, session: s, workshop: workshop}
	defer func() {
		r.err = errFinished
		if _, endErr := s.exec(context.Background(), `ROLLBACK`); endErr != nil {
			s.discard()
			s = nil
		}
		p.pool <- s
	}()
	if _, err := s.exec(context.Background(), p.dialect.BeginView); err != nil {
		return p.dialect.wrap("begin view", err)
	}
	return fn(r)
}

// close waits for the Views that are open and closes every connection.
func (p *readers) close() error {
	close(p.closing)
	var first error
	for range cap(p.pool) {
		if s := <-p.pool; s != nil {
			if err := s.close(); err != nil && first == nil {
				first = err
			}
		}
	}
	return first
}
