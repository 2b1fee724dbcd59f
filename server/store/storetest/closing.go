package storetest

import (
	"errors"
	"fmt"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func testClosing(t *testing.T, open Open) {
	t.Run("nothing after it", func(t *testing.T) {
		s := open(t)
		appendAll(t, s, entries("a", 0, 1))
		require.NoError(t, s.Close())
		require.NoError(t, s.Close())
		ctx := t.Context()
		require.ErrorIs(t, s.Update(ctx, shop, func(store.Tx) error { return nil }), store.ErrClosed)
		require.ErrorIs(t, s.View(ctx, shop, func(store.Reader) error { return nil }), store.ErrClosed)
		_, err := s.Workshops(ctx, "", 0)
		require.ErrorIs(t, err, store.ErrClosed)
		require.ErrorIs(t, s.Check(ctx), store.ErrClosed)
	})
	t.Run("waits for views", func(t *testing.T) {
		s := open(t)
		closed := make(chan error, 1)
		view(t, s, func(r store.Reader) {
			require.Len(t, whole(t, r, "a"), 1)
			go func() { closed <- s.Close() }()
			// Until the view ends, Close can do no more than keep others out.
			for s.Check(t.Context()) == nil {
				runtime.Gosched()
			}
			select {
			case err := <-closed:
				t.Errorf("closed under a view: %v", err)
			case <-time.After(20 * time.Millisecond):
			}
			require.Len(t, whole(t, r, "a"), 1)
		})
		require.NoError(t, <-closed)
	})
	t.Run("what was answered is there, what was not is not", func(t *testing.T) { testCloseUnderLoad(t, open) })
}

// testCloseUnderLoad closes the store while callers are writing, opens it again
// and compares with what they were told.
func testCloseUnderLoad(t *testing.T, open Open) {
	for round := range 3 {
		s := open(t)
		const callers = 8
		var started, wg sync.WaitGroup
		acknowledged := make([]int, callers)
		for c := range callers {
			build := fmt.Sprintf("load-%d-%d", round, c)
			started.Add(1)
			wg.Go(func() {
				for n := 0; ; n++ {
					err := s.Update(t.Context(), shop, func(tx store.Tx) error {
						return tx.Append(entries(build, n, 1))
					})
					if n == 0 {
						started.Done()
					}
					if errors.Is(err, store.ErrClosed) {
						return
					}
					if err != nil {
						t.Error(err)
						return
					}
					acknowledged[c]++
				}
			})
		}
		started.Wait()
		require.NoError(t, s.Close())
		wg.Wait()

		s = open(t)
		view(t, s, func(r store.Reader) {
			checkLedger(t, r)
			for c, want := range acknowledged {
				all := whole(t, r, fmt.Sprintf("load-%d-%d", round, c))
				require.Len(t, all, want)
				for n, e := range all {
					require.EqualValues(t, n, e.TabletSeq)
				}
			}
		})
		require.NoError(t, s.Close())
	}
}
