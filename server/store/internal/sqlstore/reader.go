package sqlstore

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

var errFinished = fmt.Errorf("%w: transaction used after its function has returned", store.ErrInvalid)

// reader implements store.Reader on a session that is inside a transaction. It
// lives as long as the function it is given to, which is why it may hold a
// context.
type reader struct {
	ctx      context.Context //nolint:containedctx // see above
	dialect  *Dialect
	session  *session
	workshop string
	// err is the first error of a statement. From then on nothing more is
	// sent, because the engine may have ended the transaction, and what is
	// sent outside of one would be kept.
	err error
}

var _ store.Reader = (*reader)(nil)

// fail keeps the first error that is more than an answer.
func (r *reader) fail(operation string, err error) error {
	if ended := r.ctx.Err(); ended != nil {
		err = ended // however the driver puts it
	}
	err = r.dialect.wrap(operation, err)
	if r.err == nil {
		r.err = err
	}
	return err
}

// exec runs a statement that returns no rows and reports how many it changed.
func (r *reader) exec(operation, query string, args ...any) (int64, error) {
	if r.err != nil {
		return 0, r.err
	}
	n, err := r.session.exec(r.ctx, query, args...)
	if err != nil {
		return 0, r.fail(operation, err)
	}
	return n, nil
}

// each runs a query and calls scan for each row. It always reads to the end,
// since a statement that writes is complete only then.
func (r *reader) each(operation string, scan func(*sql.Rows) error, query string, args ...any) error {
	if r.err != nil {
		return r.err
	}
	rows, err := r.session.query(r.ctx, query, args...)
	if err != nil {
		return r.fail(operation, err)
	}
	for err == nil && rows.Next() {
		err = scan(rows)
	}
	if err := errors.Join(err, rows.Err(), rows.Close()); err != nil {
		return r.fail(operation, err)
	}
	return nil
}

// number runs a query for one integer and reports whether there was a row.
func (r *reader) number(operation, query string, args ...any) (n int64, found bool, err error) {
	err = r.each(operation, func(rows *sql.Rows) error {
		found = true
		return rows.Scan(&n)
	}, query, args...)
	return n, found, err
}

// list collects the rows of a query.
func list[T any](r *reader, operation string, scan func(*sql.Rows) (T, error), query string, args ...any) ([]T, error) {
	var all []T
	err := r.each(operation, func(rows *sql.Rows) error {
		one, err := scan(rows)
		all = append(all, one)
		return err
	}, query, args...)
	if err != nil {
		return nil, err
	}
	return all, nil
}

// single returns the only row of a query, or ErrNotFound.
func single[T any](r *reader, operation string, scan func(*sql.Rows) (T, error), query string, args ...any) (T, error) {
	var zero T
	rows, err := list(r, operation, scan, query, args...)
	if err != nil {
		return zero, err
	}
	if len(rows) == 0 {
		return zero, fmt.Errorf("%s: %w", operation, store.ErrNotFound)
	}
	return rows[0], nil
}

// pageLimit applies the rule for the limit of a list.
func pageLimit(limit int) int {
	if limit <= 0 || limit > store.MaxPage {
		return store.MaxPage
	}
	return limit
}
