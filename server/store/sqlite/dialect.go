package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	driver "modernc.org/sqlite"
	codes "modernc.org/sqlite/lib"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/internal/sqlstore"
)

func dialect() sqlstore.Dialect {
	return sqlstore.Dialect{
		Begin:     `BEGIN IMMEDIATE`,
		BeginView: `BEGIN`,
		Classify:  classify,
		Scrub:     scrub,
	}
}

// classify maps the primary result code, the low byte of
// https://www.sqlite.org/rescode.html.
func classify(err error) error {
	var e *driver.Error
	if !errors.As(err, &e) {
		return nil
	}
	switch e.Code() & 0xff {
	case codes.SQLITE_BUSY, codes.SQLITE_LOCKED:
		return store.ErrBusy
	case codes.SQLITE_FULL:
		return store.ErrFull
	case codes.SQLITE_READONLY, codes.SQLITE_PERM:
		return store.ErrReadOnly
	case codes.SQLITE_CORRUPT, codes.SQLITE_NOTADB:
		return store.ErrCorrupt
	}
	return nil
}

// isNotDatabase reports whether a file does not begin as a database does.
func isNotDatabase(err error) bool {
	var e *driver.Error
	return errors.As(err, &e) && e.Code()&0xff == codes.SQLITE_NOTADB
}

// scrub empties the write-ahead log, which still has the pages as they were.
// Content in the file itself was overwritten by secure_delete. It does not wait
// for readers: the writer has others to serve.
func scrub(ctx context.Context, conn *sql.Conn) (clean bool, err error) {
	if _, err := conn.ExecContext(ctx, `PRAGMA busy_timeout = 0`); err != nil {
		return false, fmt.Errorf("empty log: %w", err)
	}
	var busy, pages, moved int64
	err = conn.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &pages, &moved)
	if err != nil && !errors.Is(classify(err), store.ErrBusy) {
		return false, fmt.Errorf("empty log: %w", err)
	}
	clean = err == nil && busy == 0
	if _, err := conn.ExecContext(ctx, `PRAGMA busy_timeout = `+busyMilliseconds); err != nil {
		return false, fmt.Errorf("empty log: %w", err)
	}
	return clean, nil
}
