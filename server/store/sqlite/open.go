// Package sqlite keeps the store in one SQLite file, for a workshop that runs
// one server. It uses modernc.org/sqlite, so no C compiler is needed.
//
// # Files
//
// Beside the file named to [Open] there are, while the store is open, name-wal
// (what was committed and is not in the file yet), name-shm, and name-lock,
// which stays. All are made readable and writable for the owner only. A copy of
// the file alone, taken while the store is open, is not a backup.
//
// # Durability
//
// Write-ahead log with synchronous=FULL: every commit is synced before Update
// returns. This holds as far as the disk and its driver keep what they confirm.
// The file must be on a local disk: the log does not work over a network.
//
// # One writer
//
// The process that has the store open holds a lock on name-lock. The operating
// system releases it when the process ends, however it ends, so a crash leaves
// nothing to clean up. A second process gets store.ErrInUse at once.
package sqlite

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"sync"
	"time"

	driver "modernc.org/sqlite"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/internal/sqlstore"
)

//go:embed migrations/*.sql
var migrations embed.FS

// Options bounds what a store uses. A field that is not above zero takes the
// default.
type Options struct {
	Queue      int           // callers that may wait for a turn to write; 1024
	BatchCalls int           // callers that share one transaction; 256
	BatchTime  time.Duration // after which no more callers join it, their functions included; 10 ms
	Views      int           // Views that run at the same time; 4
}

// Stats counts since the store was opened.
type Stats struct {
	Calls   int64 // Updates that had their turn
	Commits int64 // transactions they shared
}

// Store is an open store.
type Store struct {
	*sqlstore.Store
	close func() error
}

var _ store.Store = (*Store)(nil)

// Open opens the store in a file, and makes it if there is none. An older store
// is brought up to date; one of a newer program is refused with
// store.ErrNewerStore, and a file that is something else with store.ErrForeign.
func Open(path string, o Options) (*Store, error) {
	steps, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return nil, fmt.Errorf("open store: %w", err)
	}
	return setup{steps: steps, dialect: dialect(), pragmas: writePragmas}.open(path, o)
}

// setup is what tests change to bring about what is rare.
type setup struct {
	steps   fs.FS
	dialect sqlstore.Dialect
	pragmas []string // of the write connection
}

func (u setup) open(path string, o Options) (*Store, error) {
	path, err := trueName(path)
	if err != nil {
		return nil, err
	}
	lock, err := lockFile(path)
	if err != nil {
		return nil, err
	}
	s, err := u.openLocked(path, sqlstore.Options(o).WithDefaults())
	if err != nil {
		return nil, errors.Join(err, lock.release())
	}
	return &Store{Store: s, close: sync.OnceValue(func() error {
		return errors.Join(s.Close(), lock.release())
	})}, nil
}

func (u setup) openLocked(path string, o sqlstore.Options) (*sqlstore.Store, error) {
	ctx := context.Background()
	all, err := sqlstore.LoadMigrations(u.steps)
	if err != nil {
		return nil, err
	}
	if err := createPrivate(path); err != nil {
		return nil, err
	}
	if err := checkOwner(ctx, path); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	// Half the time of a commit, the same durability; where the system has no
	// such call the driver keeps to fsync.
	_, _ = driver.Fdatasync(true)
	write, err := openPool(dsn(path, u.pragmas...), 1)
	if err != nil {
		return nil, err
	}
	err = sqlstore.Migrate(ctx, write, u.dialect, all, time.Now().UnixMicro())
	if err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", path, err), write.Close())
	}
	read, err := openPool(dsn(path, readPragmas...), o.Views)
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	return sqlstore.New(write, read, u.dialect, o), nil
}

// Stats returns the counts so far.
func (s *Store) Stats() Stats { return Stats(s.Store.Stats()) }

// Close implements store.Store.
func (s *Store) Close() error { return s.close() }
