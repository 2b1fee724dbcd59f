package storetest

import (
	"fmt"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

// gate holds the writer inside an Update until release is called, so that those
// who call Update in the meantime have to wait for one another. It returns once
// the writer is held.
func gate(tb testing.TB, s store.Store) (release func()) {
	tb.Helper()
	held, opened, done := make(chan struct{}), make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		if err := s.Update(tb.Context(), shop, func(store.Tx) error {
			close(held)
			<-opened
			return nil
		}); err != nil {
			tb.Errorf("gate: %v", err)
		}
	}()
	<-held
	return sync.OnceFunc(func() {
		close(opened)
		<-done
	})
}

// misbehavior is how one caller in a crowd ends, after it has written.
type misbehavior struct {
	name  string
	end   func(tx store.Tx) error
	check func(t *testing.T, got ending)
}

// ending is what Update returned, or what came instead of a return.
type ending struct {
	err      error
	panicked any
	returned bool
}

var misbehaviors = []misbehavior{
	{"returns an error", func(store.Tx) error { return errRefused },
		func(t *testing.T, got ending) { require.ErrorIs(t, got.err, errRefused) }},
	{"repeats an entry", func(tx store.Tx) error { return tx.Append(entries("crowd-0", 0, 1)) },
		func(t *testing.T, got ending) { require.ErrorIs(t, got.err, store.ErrDuplicateEntry) }},
	{"hides an error", func(tx store.Tx) error {
		_, _ = tx.PutDocument(store.Document{}, 0)
		return nil
	}, func(t *testing.T, got ending) { require.ErrorIs(t, got.err, store.ErrInvalid) }},
	{"panics", func(store.Tx) error { panic("lost the thread") },
		func(t *testing.T, got ending) { require.Equal(t, "lost the thread", got.panicked) }},
	{"ends its goroutine", func(store.Tx) error {
		runtime.Goexit()
		return nil
	}, func(t *testing.T, got ending) { require.Equal(t, ending{}, got) }},
}

func testIsolation(t *testing.T, open Open) {
	s := opened(t, open)
	appendAll(t, s, entries("crowd-0", 0, 1))
	for i, m := range misbehaviors {
		t.Run("one caller "+m.name, func(t *testing.T) { testMisbehavior(t, s, m, fmt.Sprintf("crowd-%d", i+1)) })
	}
	t.Run("after the function has returned", func(t *testing.T) {
		var kept store.Tx
		update(t, s, func(tx store.Tx) error {
			kept = tx
			return nil
		})
		require.ErrorIs(t, kept.Append(entries("late", 0, 1)), store.ErrInvalid)
		_, err := kept.Head("late")
		require.ErrorIs(t, err, store.ErrInvalid)
		_, err = kept.LedgerSize()
		require.ErrorIs(t, err, store.ErrInvalid)
	})
	t.Run("each sees those before it", func(t *testing.T) { testSerial(t, s) })
	view(t, s, func(r store.Reader) { checkLedger(t, r) })
}

// testMisbehavior sends a crowd of callers, of which every fifth misbehaves.
func testMisbehavior(t *testing.T, s store.Store, m misbehavior, build string) {
	const callers = 30
	isBad := func(c int) bool { return c%5 == 2 }
	release := gate(t, s)
	defer release()
	var ready, done sync.WaitGroup
	endings := make([]ending, callers)
	for c := range callers {
		ready.Add(1)
		done.Go(func() {
			got := &endings[c]
			defer func() { got.panicked = recover() }()
			ready.Done()
			got.err = s.Update(t.Context(), shop, func(tx store.Tx) error {
				if err := tx.Append(entries(build, c, 1)); err != nil || !isBad(c) {
					return err
				}
				return m.end(tx)
			})
			got.returned = true
		})
	}
	ready.Wait()
	release()
	done.Wait()
	view(t, s, func(r store.Reader) {
		stored := make(map[int64]bool)
		for _, e := range whole(t, r, build) {
			stored[e.TabletSeq] = true
		}
		for c, got := range endings {
			require.Equal(t, !isBad(c), stored[int64(c)], "caller %d", c)
			if isBad(c) {
				m.check(t, got)
			} else {
				require.Equal(t, ending{returned: true}, got)
			}
		}
	})
}

// testSerial lets many callers raise one number. None of them may be lost.
func testSerial(t *testing.T, s store.Store) {
	const callers, rounds = 8, 10
	var wg sync.WaitGroup
	for range callers {
		wg.Go(func() {
			for range rounds {
				err := s.Update(t.Context(), shop, func(tx store.Tx) error {
					head, err := tx.Head("counter")
					if err != nil {
						return err
					}
					next := entries("counter", int(head), 1)
					next[0].Seq = head + 1
					return tx.Append(next)
				})
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	view(t, s, func(r store.Reader) {
		head, err := r.Head("counter")
		require.NoError(t, err)
		require.EqualValues(t, callers*rounds, head)
	})
}
