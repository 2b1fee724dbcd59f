package sqlite_test

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

var update = flag.Bool("update", false, "write the golden files anew; never for a version that was released")

// firstVersion is a store as the first version wrote it.
const firstVersion = "testdata/version1.sql"

// fillFirstVersion writes one row of everything.
func fillFirstVersion(tx store.Tx) error {
	return firstError(
		tx.Append(firstEntries()),
		func() error { _, err := tx.PutDocument(firstDocument(1), 0); return err }(),
		func() error { _, err := tx.PutDocument(firstDocument(2), 1); return err }(),
		tx.PutAttachment(store.Attachment{
			ID: "a-1", Build: "b-1", Person: "p-1", MediaType: "text/plain", ServerUS: 1_700_000_000_000_003,
			Body: []byte("play in the left bearing"), Key: []byte{1, 2, 3},
		}),
		tx.PutRequest(store.Request{ID: "r-1", Digest: []byte{0xd1}, Answer: []byte("{}"), ServerUS: 1_700_000_000_000_004}),
	)
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func firstEntries() []store.Entry {
	return []store.Entry{
		{
			Build: "b-1", ID: "e-1", Job: "j-1", Schema: 1, Kind: "job opened", Actor: "p-1",
			ServerUS: 1_700_000_000_000_000, Envelope: []byte(`{"v":1}`),
		},
		{
			Build: "b-1", ID: "e-2", Job: "j-1", Schema: 1, Kind: "reading", Actor: "p-1", Tablet: "t-1", TabletSeq: 7,
			Boot: "boot-1", MonotonicUS: 5, TabletUS: 1_700_000_000_000_009, ServerUS: 1_700_000_000_000_001,
			OffsetUS: -8, OffsetKnown: true, BasedOnSeq: 1, Tools: []string{"tw-1", "ad-1"},
			Envelope: []byte(`{"v":1}`), Payload: []byte(`{"as_written":"5 N·m"}`),
		},
	}
}

func firstDocument(version int64) store.Document {
	return store.Document{
		Kind: "tool", ID: "tw-1", Version: version, Actor: "p-1", ServerUS: 1_700_000_000_000_002,
		Body: fmt.Appendf(nil, "version %d", version),
	}
}

func TestFirstVersionOpens(t *testing.T) {
	if *update {
		writeFirstVersion(t)
	}
	script, err := os.ReadFile(firstVersion)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "w.db")
	mustExec(t, raw(t, path), string(script))

	s := open(t, path)
	require.NoError(t, s.View(t.Context(), "w-1", func(r store.Reader) error {
		want := firstEntries()
		for i := range want {
			want[i].Workshop, want[i].Seq, want[i].LedgerIndex = "w-1", int64(i)+1, int64(i)
		}
		leaves, err := r.Leaves(0, 0)
		require.NoError(t, err)
		require.Equal(t, want, leaves)
		versions, err := r.DocumentVersions("tool", "tw-1", 0, 0)
		require.NoError(t, err)
		require.Equal(t, []store.Document{firstDocument(1), firstDocument(2)}, versions)
		a, err := r.Attachment("a-1")
		require.NoError(t, err)
		require.Equal(t, "play in the left bearing", string(a.Body))
		answer, known, err := store.Answered(r, "r-1", []byte{0xd1})
		require.NoError(t, err)
		require.True(t, known)
		require.Equal(t, "{}", string(answer))
		uses, err := r.ToolUses("ad-1", store.ToolUse{}, 0, 0)
		require.NoError(t, err)
		require.Len(t, uses, 1)
		return nil
	}))
	more := []store.Entry{benchEntry(3, 0)}
	require.NoError(t, s.Update(t.Context(), "w-1", func(tx store.Tx) error { return tx.Append(more) }))
	require.EqualValues(t, 2, more[0].LedgerIndex, "the ledger goes on")
}

// TestFirstMigrationStays compares the layout that the first migration makes now
// with the one it made then.
func TestFirstMigrationStays(t *testing.T) {
	golden, err := os.ReadFile(firstVersion)
	require.NoError(t, err)
	first, err := fs.ReadFile(sqlite.Migrations(), "0001_record.sql")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "w.db")
	steps := fstest.MapFS{"0001_record.sql": {Data: first}}
	require.NoError(t, openChanged(t, path, sqlite.ChangedSetup{Steps: steps}).Close())
	for _, statement := range schema(t, path) {
		require.Contains(t, string(golden), statement)
	}
}

func TestMigrations(t *testing.T) {
	first, err := fs.ReadFile(sqlite.Migrations(), "0001_record.sql")
	require.NoError(t, err)
	old := fstest.MapFS{"0001_record.sql": {Data: first}}
	with := func(name, text string) fstest.MapFS {
		return fstest.MapFS{"0001_record.sql": {Data: first}, name: {Data: []byte(text)}}
	}
	path := filepath.Join(t.TempDir(), "w.db")
	s := openChanged(t, path, sqlite.ChangedSetup{Steps: old})
	appendOne(t, s, 1)
	require.NoError(t, s.Close())

	t.Run("a mistake leaves the store as it was", func(t *testing.T) {
		broken := with("0002_notes.sql", "CREATE TABLE notes (workshop TEXT NOT NULL) STRICT; CREATE TABLE notes (x TEXT);")
		_, err := sqlite.OpenChanged(path, sqlite.Options{}, sqlite.ChangedSetup{Steps: broken})
		require.ErrorContains(t, err, "version 2 (notes)")
		appendAndClose(t, openChanged(t, path, sqlite.ChangedSetup{Steps: old}), 2)
	})
	t.Run("one step forward", func(t *testing.T) {
		next := with("0002_notes.sql", "CREATE TABLE notes (workshop TEXT NOT NULL) STRICT;")
		appendAndClose(t, openChanged(t, path, sqlite.ChangedSetup{Steps: next}), 3)
		appendAndClose(t, openChanged(t, path, sqlite.ChangedSetup{Steps: next}), 4)
		require.Contains(t, strings.Join(schema(t, path), "\n"), "CREATE TABLE notes")
	})
	t.Run("no step back", func(t *testing.T) {
		_, err := sqlite.OpenChanged(path, sqlite.Options{}, sqlite.ChangedSetup{Steps: old})
		require.ErrorIs(t, err, store.ErrNewerStore)
	})
	t.Run("names", func(t *testing.T) {
		for _, name := range []string{"0003_gap.sql", "2_short.sql", "0002.sql", "0002_.sql", "later.sql"} {
			_, err := sqlite.OpenChanged(filepath.Join(t.TempDir(), "x.db"), sqlite.Options{}, sqlite.ChangedSetup{Steps: with(name, "")})
			require.ErrorContains(t, err, "0002_", name)
		}
	})
}

func appendAndClose(t testing.TB, s store.Store, n int64) {
	t.Helper()
	appendOne(t, s, n)
	require.NoError(t, s.Close())
}

func TestNewerStoreIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s := open(t, path)
	appendOne(t, s, 1)
	require.NoError(t, s.Close())
	conn := raw(t, path)
	mustExec(t, conn, "INSERT INTO migrations VALUES (999, 'from the future', 0)")
	before := schema(t, path)

	_, err := sqlite.Open(path, sqlite.Options{})
	require.ErrorIs(t, err, store.ErrNewerStore)
	require.ErrorContains(t, err, "version 999")
	require.ErrorContains(t, err, "start the newer program")
	require.Equal(t, before, schema(t, path))
}

// schema returns the statements that made the tables of a store.
func schema(tb testing.TB, path string) []string {
	tb.Helper()
	return column(tb, path, "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY rowid")
}

func column(tb testing.TB, path, query string) []string {
	tb.Helper()
	rows, err := raw(tb, path).QueryContext(tb.Context(), query)
	require.NoError(tb, err)
	defer rows.Close()
	var all []string
	for rows.Next() {
		var one string
		require.NoError(tb, rows.Scan(&one))
		all = append(all, one)
	}
	require.NoError(tb, rows.Err())
	return all
}

// writeFirstVersion writes the golden file: the layout, then the rows.
func writeFirstVersion(tb testing.TB) {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "w.db")
	s := open(tb, path)
	require.NoError(tb, s.Update(tb.Context(), "w-1", fillFirstVersion))
	require.NoError(tb, s.Close())
	var b strings.Builder
	b.WriteString("-- A store as version 1 wrote it. Once released, this file does not change.\n")
	fmt.Fprintf(&b, "PRAGMA application_id = %s;\n", column(tb, path, "PRAGMA application_id")[0])
	for _, statement := range schema(tb, path) {
		b.WriteString(statement + ";\n")
	}
	tables := column(tb, path, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid")
	for _, table := range tables {
		names := column(tb, path, fmt.Sprintf("SELECT 'quote(' || name || ')' FROM pragma_table_info('%s') ORDER BY cid", table))
		for _, row := range column(tb, path, fmt.Sprintf("SELECT %s FROM %s", strings.Join(names, " || ', ' || "), table)) {
			fmt.Fprintf(&b, "INSERT INTO %s VALUES (%s);\n", table, row)
		}
	}
	require.NoError(tb, os.MkdirAll("testdata", 0o755))
	require.NoError(tb, os.WriteFile(firstVersion, []byte(b.String()), 0o644))
}
