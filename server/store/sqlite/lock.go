package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

// fileLock is an exclusive SQLite lock on an empty file of its own. That takes
// the locks of whatever system this runs on, which end with the process, and
// lets two stores in one process exclude each other as well.
type fileLock struct {
	db   *sql.DB
	conn *sql.Conn
}

func lockFile(path string) (*fileLock, error) {
	name := path + "-lock"
	if err := createPrivate(name); err != nil {
		return nil, err
	}
	db, err := openPool(dsn(name, "busy_timeout(0)"), 1)
	if err != nil {
		return nil, err
	}
	conn, err := db.Conn(context.Background())
	if err == nil {
		_, err = conn.ExecContext(context.Background(), `BEGIN EXCLUSIVE`)
		if err == nil {
			return &fileLock{db: db, conn: conn}, nil
		}
		err = errors.Join(err, conn.Close())
	}
	if errors.Is(classify(err), store.ErrBusy) {
		err = fmt.Errorf("%s: %w; stop that one first, or use another file", path, store.ErrInUse)
	} else {
		err = fmt.Errorf("lock %s: %w", name, err)
	}
	return nil, errors.Join(err, db.Close())
}

func (l *fileLock) release() error {
	return errors.Join(l.conn.Close(), l.db.Close())
}
