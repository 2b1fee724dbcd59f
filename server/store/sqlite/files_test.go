package sqlite_test

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

func TestFilesAreForTheirOwnerOnly(t *testing.T) {
	// A name in which nothing may be taken for a part of a URI.
	path := filepath.Join(t.TempDir(), "shop 1 %41?mode=memory&x#y.db")
	s := open(t, path)
	appendOne(t, s, 1)
	for _, suffix := range []string{"", "-wal", "-shm", "-lock"} {
		info, err := os.Stat(path + suffix)
		require.NoError(t, err)
		require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "%q", suffix)
	}
	require.NoError(t, s.Close())
	names, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, names, 2, "the store and its lock")
}

func TestOneStoreAtATime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s := open(t, path)
	_, err := sqlite.Open(path, sqlite.Options{})
	require.ErrorIs(t, err, store.ErrInUse)
	require.ErrorContains(t, err, path)
	appendOne(t, s, 1)
	_, err = sqlite.Open(path, sqlite.Options{})
	require.ErrorIs(t, err, store.ErrInUse, "the attempt before must not have dropped the lock")
	out, err := child(t, "write", path, "").Output()
	require.Error(t, err, "another process")
	require.Empty(t, out)
	require.NoError(t, s.Close())
	appendOne(t, open(t, path), 2)
}

func TestOneStoreAtATimeThroughALink(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "w.db"), filepath.Join(dir, "link.db")
	open(t, path)
	require.NoError(t, os.Symlink(path, link))
	_, err := sqlite.Open(link, sqlite.Options{})
	require.ErrorIs(t, err, store.ErrInUse)
}

func TestAFolderIsNoStore(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	require.NoError(t, os.Mkdir(dir, 0o700))
	_, err := sqlite.Open(dir, sqlite.Options{})
	require.ErrorIs(t, err, store.ErrForeign)
	require.NoFileExists(t, dir+"-lock")
}

func TestNotAStore(t *testing.T) {
	other := filepath.Join(t.TempDir(), "other.db")
	db, err := sql.Open("sqlite", other)
	require.NoError(t, err)
	_, err = db.Exec("CREATE TABLE birds (name TEXT)")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	text := filepath.Join(t.TempDir(), "notes.txt")
	require.NoError(t, os.WriteFile(text, []byte("Torque is not a guess. It is written on the part, or in its manual."), 0o600))

	for _, path := range []string{other, text} {
		before, err := os.ReadFile(path)
		require.NoError(t, err)
		_, err = sqlite.Open(path, sqlite.Options{})
		require.ErrorIs(t, err, store.ErrForeign)
		after, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, before, after, "it must not be touched")
	}
	_, err = sqlite.Open(filepath.Join(t.TempDir(), "no", "such", "directory.db"), sqlite.Options{})
	require.ErrorIs(t, err, os.ErrNotExist)
}

func TestPragmas(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	require.NoError(t, open(t, path).Close())
	for _, c := range []struct {
		name, dsn string
		want      map[string]string
	}{
		{"write", sqlite.WriteDSN(path), map[string]string{
			"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "5000",
			"secure_delete": "1", "query_only": "0", "application_id": "1415008852",
		}},
		{"read", sqlite.ReadDSN(path), map[string]string{
			"journal_mode": "wal", "foreign_keys": "1", "busy_timeout": "5000", "query_only": "1",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, err := sql.Open("sqlite", c.dsn)
			require.NoError(t, err)
			defer db.Close()
			for pragma, want := range c.want {
				var got string
				require.NoError(t, db.QueryRow("PRAGMA "+pragma).Scan(&got))
				require.Equal(t, want, got, pragma)
			}
		})
	}
}

func appendOne(tb testing.TB, s store.Store, n int64) {
	tb.Helper()
	require.NoError(tb, s.Update(tb.Context(), "w-1", func(tx store.Tx) error {
		return tx.Append([]store.Entry{benchEntry(n, 0)})
	}))
}
