package sqlite_test

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// TestKill lets a child write under load, kills it, and compares what is found
// with what the child was told, again and again on the same file.
func TestKill(t *testing.T) {
	rounds := 5
	if os.Getenv("TIGHTWRIGHT_LONG") != "" {
		rounds = 50
	}
	path := filepath.Join(t.TempDir(), "w.db")
	acknowledged := make(map[string]int64) // number of updates, by build
	for round := range rounds {
		killWhileWriting(t, path, acknowledged)
		checkAfterKill(t, path, acknowledged)
		if t.Failed() {
			t.Fatalf("in round %d", round)
		}
	}
}

// killWhileWriting counts what the child was told before it was killed.
func killWhileWriting(tb testing.TB, path string, acknowledged map[string]int64) {
	tb.Helper()
	cmd := child(tb, "write", path, "")
	out, err := cmd.StdoutPipe()
	require.NoError(tb, err)
	require.NoError(tb, cmd.Start())
	killed := false
	kill := func() {
		if !killed {
			killed = true
			require.NoError(tb, cmd.Process.Kill())
		}
	}
	defer kill()

	killAfter := 50 + rand.IntN(400)
	seen := 0
	for line := range lines(bufio.NewScanner(out)) {
		var build string
		var n int64
		_, err := fmt.Sscanf(line, "%s %d", &build, &n)
		require.NoError(tb, err)
		require.Equal(tb, acknowledged[build], n, "updates of %s", build)
		acknowledged[build]++
		if seen++; seen == killAfter/2 {
			_, err := sqlite.Open(path, sqlite.Options{})
			require.ErrorIs(tb, err, store.ErrInUse)
		}
		if seen == killAfter {
			kill() // what it has written to the pipe is still read
		}
	}
	require.GreaterOrEqual(tb, seen, killAfter, "the child ended by itself")
	require.Error(tb, cmd.Wait())
}

// checkAfterKill opens the store that the child has left. Everything that was
// acknowledged must be there once and in order; an update that was under way may
// be there too, but only whole.
func checkAfterKill(tb testing.TB, path string, acknowledged map[string]int64) {
	tb.Helper()
	s, err := sqlite.Open(path, sqlite.Options{})
	require.NoError(tb, err)
	defer func() { require.NoError(tb, s.Close()) }()
	require.NoError(tb, s.View(tb.Context(), "shop", func(r store.Reader) error {
		total := int64(0)
		for w := range childWriters {
			build := childBuild(w)
			found := checkBuild(tb, r, build)
			require.GreaterOrEqual(tb, found, acknowledged[build])
			require.LessOrEqual(tb, found, acknowledged[build]+1)
			acknowledged[build] = found // the child goes on from here
			total += 2 * found
		}
		checkLeaves(tb, r, total)
		checkUses(tb, r, total)
		return nil
	}))
}

// checkBuild returns the number of complete updates of a build.
func checkBuild(tb testing.TB, r store.Reader, build string) int64 {
	tb.Helper()
	n := int64(0)
	for e, err := range store.All(r, build, 0) {
		require.NoError(tb, err)
		n++
		require.Equal(tb, n, e.Seq)
		require.Equal(tb, n-1, e.TabletSeq)
		require.Equal(tb, fmt.Sprintf("envelope %s %d", build, (n-1)/2), string(e.Envelope))
		require.Len(tb, e.Payload, int((n-1)/2*37%900))
	}
	require.Zero(tb, n%2, "half an update")
	updates := n / 2
	if updates > 0 {
		d, err := r.Document("sheet", build)
		require.NoError(tb, err)
		require.Equal(tb, updates, d.Version)
	}
	for i := range updates + 1 {
		_, err := r.Request(fmt.Sprintf("%s/%d", build, i))
		if i < updates {
			require.NoError(tb, err)
		} else {
			require.ErrorIs(tb, err, store.ErrNotFound)
		}
	}
	return updates
}

func checkLeaves(tb testing.TB, r store.Reader, total int64) {
	tb.Helper()
	size, err := r.LedgerSize()
	require.NoError(tb, err)
	require.Equal(tb, total, size)
	next := int64(0)
	for next < size {
		leaves, err := r.Leaves(next, 0)
		require.NoError(tb, err)
		require.NotEmpty(tb, leaves)
		for _, e := range leaves {
			require.Equal(tb, next, e.LedgerIndex)
			next++
		}
	}
}

// checkUses expects one use of the tool in each entry.
func checkUses(tb testing.TB, r store.Reader, total int64) {
	tb.Helper()
	uses := int64(0)
	for after := (store.ToolUse{}); ; {
		page, err := r.ToolUses("tool", after, 0, 0)
		require.NoError(tb, err)
		uses += int64(len(page))
		if len(page) < store.MaxPage {
			break
		}
		after = page[len(page)-1]
	}
	require.Equal(tb, total, uses)
}
