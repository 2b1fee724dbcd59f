package sqlite_test

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// benchEntry is a reading of ordinary size: 300 bytes of envelope, 500 of payload.
func benchEntry(n int64, caller int) store.Entry {
	return store.Entry{
		Build: fmt.Sprintf("b-%03d", caller), ID: fmt.Sprintf("e-%012d-%03d", n, caller),
		Job: "j-1", Schema: 1, Kind: "reading", Actor: "p-1", Tablet: "t-1", TabletSeq: n,
		Boot: "boot-1", MonotonicUS: n, TabletUS: n, ServerUS: n, Tools: []string{"tw-1"},
		Envelope: make([]byte, 300), Payload: make([]byte, 500),
	}
}

func reportRate(b *testing.B) {
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "entries/s")
}

// BenchmarkBareInsert is what the engine does without the store: the row of an
// entry alone, in the same table with the same indexes and the same durability,
// by one prepared statement. It has no numbers to give out, no lists to keep and
// nobody to isolate.
func BenchmarkBareInsert(b *testing.B) {
	for _, rows := range []int{1, 16, 64} {
		b.Run(fmt.Sprintf("rows=%d", rows), func(b *testing.B) {
			conn := bareConn(b)
			insert, err := conn.PrepareContext(b.Context(), `INSERT INTO entries (workshop, build, seq, entry_id,
 job, schema_version, kind, actor, tablet, tablet_seq, boot, monotonic_us, tablet_us, server_us, offset_us,
 based_on_seq, tools, envelope, payload, ledger_index)
 VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20)`)
			require.NoError(b, err)
			b.ReportAllocs()
			b.ResetTimer()
			for done := 0; done < b.N; done += rows {
				mustExec(b, conn, "BEGIN IMMEDIATE")
				for n := done; n < min(done+rows, b.N); n++ {
					e := benchEntry(int64(n), n%rows)
					_, err := insert.Exec("w-1", e.Build, n+1, e.ID, e.Job, e.Schema, e.Kind, e.Actor, e.Tablet, e.TabletSeq,
						e.Boot, e.MonotonicUS, e.TabletUS, e.ServerUS, nil, 0, "tw-1", e.Envelope, e.Payload, n)
					require.NoError(b, err)
				}
				mustExec(b, conn, "COMMIT")
			}
			b.StopTimer()
			reportRate(b)
		})
	}
}

// BenchmarkUpdate appends one entry a call, durably.
func BenchmarkUpdate(b *testing.B) {
	for _, callers := range []int{1, 16, 64} {
		b.Run(fmt.Sprintf("callers=%d", callers), func(b *testing.B) {
			s := open(b, filepath.Join(b.TempDir(), "w.db"))
			b.ReportAllocs()
			var next atomic.Int64
			var wg sync.WaitGroup
			b.ResetTimer()
			for c := range callers {
				wg.Go(func() {
					for n := next.Add(1); n <= int64(b.N); n = next.Add(1) {
						entries := []store.Entry{benchEntry(n, c)}
						if err := s.Update(b.Context(), "w-1", func(tx store.Tx) error {
							return tx.Append(entries)
						}); err != nil {
							b.Error(err)
						}
					}
				})
			}
			wg.Wait()
			b.StopTimer()
			reportRate(b)
			b.ReportMetric(float64(s.Stats().Calls)/float64(s.Stats().Commits), "callers/commit")
		})
	}
}

// bareConn is a connection to a store's tables with the pragmas of the store.
func bareConn(tb testing.TB) *sql.Conn {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "w.db")
	require.NoError(tb, open(tb, path).Close())
	query := url.Values{"_pragma": {"synchronous(FULL)", "foreign_keys(ON)", "secure_delete(ON)",
		"wal_autocheckpoint(4000)", "cache_size(-16384)", "temp_store(MEMORY)"}}
	db, err := sql.Open("sqlite", "file:"+path+"?"+query.Encode())
	require.NoError(tb, err)
	conn, err := db.Conn(tb.Context())
	require.NoError(tb, err)
	tb.Cleanup(func() {
		require.NoError(tb, conn.Close())
		require.NoError(tb, db.Close())
	})
	mustExec(tb, conn, "INSERT INTO workshops VALUES ('w-1', 0, 0)")
	for c := range 64 {
		mustExec(tb, conn, "INSERT INTO builds VALUES ('w-1', $1, 0)", fmt.Sprintf("b-%03d", c))
	}
	return conn
}

func mustExec(tb testing.TB, conn *sql.Conn, query string, args ...any) {
	tb.Helper()
	_, err := conn.ExecContext(tb.Context(), query, args...)
	require.NoError(tb, err)
}

func open(tb testing.TB, path string) *sqlite.Store {
	tb.Helper()
	return openWith(tb, path, sqlite.Options{})
}

func openWith(tb testing.TB, path string, o sqlite.Options) *sqlite.Store {
	tb.Helper()
	s, err := sqlite.Open(path, o)
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, s.Close()) })
	return s
}

// BenchmarkView reads a build of 200 entries, as each decision does, with a
// context that could end, as every call of a server has.
func BenchmarkView(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "w.db"))
	for n := range int64(200) {
		appendOne(b, s, n)
	}
	ctx, cancel := context.WithCancel(b.Context())
	defer cancel()
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, s.View(ctx, "w-1", func(r store.Reader) error {
			entries, err := r.Entries("b-000", 0, 0)
			require.Len(b, entries, 200)
			return err
		}))
	}
}
