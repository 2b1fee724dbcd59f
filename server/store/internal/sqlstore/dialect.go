// Package sqlstore implements the store contract over database/sql. The text of
// every statement that runs in normal use is here and is the same for all
// engines: $1 placeholders, TEXT, INTEGER and BLOB, upserts with RETURNING, ids
// and times made by Go. What differs is in a [Dialect] and in each engine's
// migrations.
//
// Two rules keep the text portable. A refusal is found by a statement that does
// nothing (ON CONFLICT DO NOTHING, a WHERE that matches no row), never by
// letting one fail, because a failed statement ends a transaction in some
// engines. And texts are compared by their bytes, which an engine must state in
// its migrations where that is not its default.
package sqlstore

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// Dialect is what an engine has to say beyond its migrations.
type Dialect struct {
	// Begin starts a transaction that will write. It must take the right to
	// write at once, so that a later statement does not find it taken.
	Begin string
	// BeginView starts a transaction that only reads one snapshot.
	BeginView string
	// Classify returns the sentinel of package store for an error of the
	// driver, or nil if there is none.
	Classify func(error) error
	// Scrub overwrites erased content in files that belong to the engine, on
	// the write connection and outside any transaction. It reports false if
	// open Views are in the way and it has to be tried again. May be nil.
	Scrub func(context.Context, *sql.Conn) (bool, error)
}

// wrap says which operation an error of the driver belongs to, and adds the
// sentinel it stands for.
func (d *Dialect) wrap(operation string, err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("%s: %w", operation, err)
	}
	if sentinel := d.Classify(err); sentinel != nil {
		return fmt.Errorf("%s: %w: %w", operation, sentinel, err)
	}
	return fmt.Errorf("%s: %w", operation, err)
}
