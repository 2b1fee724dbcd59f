package sqlstore

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/server/store"
)

const (
	createMigrations = `CREATE TABLE IF NOT EXISTS migrations (
 version INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL, applied_us BIGINT NOT NULL)`

	selectVersion = `SELECT version FROM migrations ORDER BY version DESC LIMIT 1`

	insertMigration = `INSERT INTO migrations (version, name, applied_us) VALUES ($1, $2, $3)`
)

// Migration is one step of a store's layout, forward only.
type Migration struct {
	Version int
	Name    string
	SQL     string
}

// LoadMigrations reads the files 0001_name.sql, 0002_name.sql ... of an engine.
// A gap or a name of another form is an error.
func LoadMigrations(files fs.FS) ([]Migration, error) {
	names, err := fs.Glob(files, "*.sql")
	if err != nil {
		return nil, fmt.Errorf("list migrations: %w", err)
	}
	all := make([]Migration, 0, len(names))
	for _, name := range names { // Glob sorts by name
		number, rest, _ := strings.Cut(strings.TrimSuffix(path.Base(name), ".sql"), "_")
		version, err := strconv.Atoi(number)
		if err != nil || version != len(all)+1 || rest == "" || len(number) != 4 {
			return nil, fmt.Errorf("migration %s: name must begin with %04d_", name, len(all)+1)
		}
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, fmt.Errorf("migration %s: %w", name, err)
		}
		all = append(all, Migration{Version: version, Name: rest, SQL: string(text)})
	}
	return all, nil
}

// Migrate brings a database to the version of the last migration, each step in
// a transaction of its own. A database beyond that version is refused with
// store.ErrNewerStore and not touched.
func Migrate(ctx context.Context, db *sql.DB, d Dialect, all []Migration, nowUS int64) error {
	conn, err := db.Conn(ctx)
	if err != nil {
		return d.wrap("open store", err)
	}
	defer conn.Close() //nolint:errcheck // goes back to its pool
	if _, err := conn.ExecContext(ctx, createMigrations); err != nil {
		return d.wrap("open store", err)
	}
	var version int
	err = conn.QueryRowContext(ctx, selectVersion).Scan(&version)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return d.wrap("read store version", err)
	}
	if version > len(all) {
		return fmt.Errorf("%w: it has version %d and this program knows versions up to %d; "+
			"start the newer program, or restore a backup made before the upgrade",
			store.ErrNewerStore, version, len(all))
	}
	for _, m := range all[version:] {
		if err := m.apply(ctx, conn, d.Begin, nowUS); err != nil {
			return d.wrap(fmt.Sprintf("migrate store to version %d (%s)", m.Version, m.Name), err)
		}
	}
	return nil
}

func (m Migration) apply(ctx context.Context, conn *sql.Conn, begin string, nowUS int64) error {
	if _, err := conn.ExecContext(ctx, begin); err != nil {
		return err
	}
	_, err := conn.ExecContext(ctx, m.SQL)
	if err == nil {
		_, err = conn.ExecContext(ctx, insertMigration, m.Version, m.Name, nowUS)
	}
	if err == nil {
		_, err = conn.ExecContext(ctx, `COMMIT`)
	}
	if err != nil {
		// The first error is the one that tells what happened.
		_, _ = conn.ExecContext(context.WithoutCancel(ctx), `ROLLBACK`)
	}
	return err
}
