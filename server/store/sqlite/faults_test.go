package sqlite_test

import (
	"bytes"
	"database/sql"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

func openChanged(tb testing.TB, path string, c sqlite.ChangedSetup) *sqlite.Store {
	tb.Helper()
	s, err := sqlite.OpenChanged(path, sqlite.Options{}, c)
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, s.Close()) })
	return s
}

// raw is another connection to a store's file.
func raw(tb testing.TB, path string) *sql.Conn {
	tb.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(tb, err)
	conn, err := db.Conn(tb.Context())
	require.NoError(tb, err)
	tb.Cleanup(func() {
		require.NoError(tb, conn.Close())
		require.NoError(tb, db.Close())
	})
	return conn
}

// TestNoRoom gives the file a largest size, which an engine meets as it meets a
// full disk. What was told to each caller must be true, and there must be a way on.
func TestNoRoom(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "w.db")
		s := openChanged(t, path, sqlite.ChangedSetup{Pragmas: []string{"max_page_count(120)"}})
		large := make([]byte, 200*4096)
		errs := crowd(s, 9, func(tx store.Tx, n int64) error {
			if err := appendNumber(tx, n); err != nil || n != 4 {
				return err
			}
			return tx.PutAttachment(store.Attachment{ID: "large", MediaType: "image/jpeg", Body: large})
		})()
		require.ErrorIs(t, errs[4], store.ErrFull)
		for _, err := range errs[5:9] {
			require.NoError(t, err, "those behind have a transaction of their own")
		}
		require.NoError(t, s.View(t.Context(), "w-1", func(r store.Reader) error {
			for n := range int64(9) {
				_, err := r.EntryByID(benchEntry(n, 0).ID)
				if errs[n] == nil {
					require.NoError(t, err)
				} else {
					require.ErrorIs(t, errs[n], store.ErrFull)
					require.ErrorIs(t, err, store.ErrNotFound)
				}
			}
			return nil
		}))
		appendOne(t, s, 100)
	})
}

func TestCannotBeWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	require.NoError(t, open(t, path).Close())
	s := openChanged(t, path, sqlite.ChangedSetup{Pragmas: []string{"query_only(ON)"}})
	err := s.Update(t.Context(), "w-1", func(tx store.Tx) error { return appendNumber(tx, 1) })
	require.ErrorIs(t, err, store.ErrReadOnly)
	require.NoError(t, s.Check(t.Context()))
}

func TestSomeoneElseWrites(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s := openChanged(t, path, sqlite.ChangedSetup{Pragmas: []string{"busy_timeout(1)"}})
	appendOne(t, s, 1)
	other := raw(t, path)
	mustExec(t, other, "BEGIN IMMEDIATE")
	err := s.Update(t.Context(), "w-1", func(tx store.Tx) error { return appendNumber(tx, 2) })
	require.ErrorIs(t, err, store.ErrBusy)
	mustExec(t, other, "ROLLBACK")
	appendOne(t, s, 2)
}

// TestCommitFails brings rows into the transaction, for as long as a table says
// so, that the engine finds fault with only at the commit.
func TestCommitFails(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "w.db")
		require.NoError(t, open(t, path).Close())
		other := raw(t, path)
		mustExec(t, other, "CREATE TABLE faulty (build TEXT)")
		s := openChanged(t, path, sqlite.ChangedSetup{Begin: `BEGIN IMMEDIATE; PRAGMA defer_foreign_keys = ON;
 INSERT INTO builds SELECT 'nobody', build, 1 FROM faulty`})
		appendOne(t, s, 1)
		mustExec(t, other, "INSERT INTO faulty VALUES ('b-1')")
		errs := crowd(s, 5, func(tx store.Tx, n int64) error {
			if n == 3 {
				return os.ErrInvalid // it may have seen what is now undone
			}
			return appendNumber(tx, 10+n)
		})()
		for _, err := range errs {
			require.ErrorContains(t, err, "commit")
			require.NotErrorIs(t, err, os.ErrInvalid)
		}
		mustExec(t, other, "DELETE FROM faulty")
		for _, err := range crowd(s, 5, func(tx store.Tx, n int64) error { return appendNumber(tx, 10+n) })() {
			require.NoError(t, err)
		}
		require.NoError(t, s.View(t.Context(), "w-1", func(r store.Reader) error {
			checkLeaves(t, r, 6)
			return nil
		}))
	})
}

func TestDamaged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s := open(t, path)
	for n := range int64(50) {
		appendOne(t, s, n)
	}
	require.NoError(t, s.Close())
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	const pageSize = 4096

	t.Run("from where the layout is described", func(t *testing.T) {
		damaged := bytes.Clone(content)
		copy(damaged[pageSize:], bytes.Repeat([]byte{0xff}, len(damaged)-pageSize))
		require.NoError(t, os.WriteFile(path, damaged, 0o600))
		_, err = sqlite.Open(path, sqlite.Options{})
		require.ErrorIs(t, err, store.ErrCorrupt)
	})
	t.Run("where entries are", func(t *testing.T) {
		damaged := bytes.Clone(content)
		for at := 0; at+pageSize <= len(damaged); at += pageSize {
			if bytes.Count(damaged[at:at+pageSize], []byte("reading")) > 1 {
				copy(damaged[at:], bytes.Repeat([]byte{0xff}, pageSize))
			}
		}
		require.NoError(t, os.WriteFile(path, damaged, 0o600))
		s := open(t, path)
		require.ErrorIs(t, s.View(t.Context(), "w-1", func(r store.Reader) error {
			_, err := r.Leaves(0, 0)
			return err
		}), store.ErrCorrupt)
	})
}

// TestRecordStays tries to change what is recorded, as a mistake would.
func TestRecordStays(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s := open(t, path)
	appendOne(t, s, 1)
	writeSecrets(t, s)
	require.NoError(t, s.Update(t.Context(), "w-1", func(tx store.Tx) error {
		return tx.PutRequest(store.Request{ID: "r-1", Digest: []byte{1}})
	}))
	other := raw(t, path)
	for _, statement := range []string{
		"UPDATE entries SET payload = x'00'", "UPDATE entries SET kind = 'other'", "DELETE FROM entries",
		"UPDATE workshops SET size = size - 1", "DELETE FROM workshops",
		"UPDATE builds SET build = 'other'", "DELETE FROM builds",
		"UPDATE documents SET version = version", "DELETE FROM documents",
		"UPDATE document_versions SET body = x'00'", "UPDATE document_versions SET actor = 'other', body = x'', erased_us = 1",
		"DELETE FROM document_versions",
		"UPDATE attachments SET body = x'00', erased_us = 1", "UPDATE attachments SET body = x''", "DELETE FROM attachments",
		"UPDATE requests SET answer = x'00'",
	} {
		_, err := other.ExecContext(t.Context(), statement)
		require.ErrorContains(t, err, "(1811)", "%s: a trigger must refuse it", statement)
	}
}
