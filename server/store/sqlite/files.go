package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"github.com/tightwright/tightwright/server/store"
)

// ownMark is the application id in the header of a store's file: "TWRT".
const ownMark = 0x54575254

const (
	busyMilliseconds = "5000"
	// Pages of 4 KiB: a checkpoint moves the log into the file when it has this
	// many, and the log does not stay larger on disk than limitBytes.
	checkpointPages = "4000"
	limitBytes      = "67108864"
	cacheKibibytes  = "-16384"
)

// createPrivate makes an empty file for the owner only, unless there is a file.
// SQLite gives its other files the same permissions. An existing file is not
// opened here: closing it again would drop the locks that this process has on it.
func createPrivate(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("create %s: %w: %w", path, store.ErrReadOnly, err)
	case err != nil:
		return fmt.Errorf("create store: %w", err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("create store: %w", err)
	}
	return syncDir(filepath.Dir(path))
}

// syncDir makes a new name durable.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("create store: %w", err)
	}
	// Not every system can sync a directory, and where it matters it can.
	_ = d.Sync()
	return d.Close()
}

// dsn names a file as a URI, so that no character of its path has a meaning,
// and sets the pragmas in it: they then hold on every connection of a pool.
func dsn(path string, pragmas ...string) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") { // a drive letter
		slashed = "/" + slashed
	}
	u := url.URL{Scheme: "file", Path: slashed, RawQuery: url.Values{"_pragma": pragmas}.Encode()}
	return u.String()
}

var writePragmas = []string{
	"busy_timeout(" + busyMilliseconds + ")", // first: the next one may have to wait
	"journal_mode(WAL)",
	"synchronous(FULL)",
	"foreign_keys(ON)",
	"secure_delete(ON)", // erased content is overwritten in the file
	"wal_autocheckpoint(" + checkpointPages + ")",
	"journal_size_limit(" + limitBytes + ")",
	"cache_size(" + cacheKibibytes + ")",
	"temp_store(MEMORY)",
}

var readPragmas = []string{
	"busy_timeout(" + busyMilliseconds + ")",
	"query_only(ON)",
	"foreign_keys(ON)",
	"cache_size(" + cacheKibibytes + ")",
	"temp_store(MEMORY)",
}

// openPool opens a pool whose connections stay until they are broken.
func openPool(dsn string, size int) (*sql.DB, error) {
	db, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, fmt.Errorf("open store: %w", err)
	}
	db.SetMaxOpenConns(size)
	db.SetMaxIdleConns(size)
	return db, nil
}

// checkOwner refuses a file that is not a store, before anything in it is
// changed. A database without tables is a new one.
func checkOwner(ctx context.Context, path string) (err error) {
	db, err := openPool(dsn(path, readPragmas...), 1)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	var mark, tables int64
	err = db.QueryRowContext(ctx,
		`SELECT application_id, (SELECT count(*) FROM sqlite_schema) FROM pragma_application_id`).Scan(&mark, &tables)
	if err != nil {
		if isNotDatabase(err) {
			return store.ErrForeign
		}
		return errors.Join(classify(err), fmt.Errorf("read header: %w", err))
	}
	if mark != ownMark && (mark != 0 || tables != 0) {
		return store.ErrForeign
	}
	return nil
}

// trueName returns the name of the file behind links, so that the lock beside
// it is the same one whichever link it is opened by. A hard link is a second
// true name and not seen through: do not give a store one.
func trueName(path string) (string, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("open store: %w", err)
	}
	switch target, err := filepath.EvalSymlinks(path); {
	case err == nil:
		path = target
	case !errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("open store: %w", err)
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return "", fmt.Errorf("%s: no regular file: %w", path, store.ErrForeign)
	}
	return path, nil
}
