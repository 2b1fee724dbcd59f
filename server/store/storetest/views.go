package storetest

import (
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func testViews(t *testing.T, open Open) {
	s := opened(t, open)
	appendAll(t, s, entries("a", 0, 2))
	require.NoError(t, s.Check(t.Context()))

	t.Run("stay as they were begun", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			require.Len(t, whole(t, r, "a"), 2)
			appendAll(t, s, entries("a", 2, 3))
			put(t, s, document("tool", "t-1", 1))
			require.Len(t, whole(t, r, "a"), 2)
			size, err := r.LedgerSize()
			require.NoError(t, err)
			require.EqualValues(t, 2, size)
			_, err = r.Document("tool", "t-1")
			require.ErrorIs(t, err, store.ErrNotFound)
			view(t, s, func(r store.Reader) { require.Len(t, whole(t, r, "a"), 5) })
		})
	})
	t.Run("see what was answered, and nothing by halves", func(t *testing.T) { testViewsWhileWriting(t, s) })
	t.Run("return what the function returns", func(t *testing.T) {
		require.ErrorIs(t, s.View(t.Context(), shop, func(store.Reader) error { return errRefused }), errRefused)
		require.Panics(t, func() {
			_ = s.View(t.Context(), shop, func(store.Reader) error { panic("lost the thread") })
		})
	})
	t.Run("end with their function", func(t *testing.T) {
		var kept store.Reader
		view(t, s, func(r store.Reader) { kept = r })
		_, err := kept.Head("a")
		require.ErrorIs(t, err, store.ErrInvalid)
	})
}

// testViewsWhileWriting writes pairs of entries to two builds in one Update each
// and looks at both builds at once, from several sides.
func testViewsWhileWriting(t *testing.T, s store.Store) {
	const pairs = 40
	var wg sync.WaitGroup
	for c := range 2 {
		wg.Go(func() {
			for n := range pairs {
				left, right := fmt.Sprintf("left-%d", c), fmt.Sprintf("right-%d", c)
				if err := s.Update(t.Context(), shop, func(tx store.Tx) error {
					return tx.Append(append(entries(left, n, 1), entries(right, n, 1)...))
				}); err != nil {
					t.Error(err)
				}
				checkPairs(t, s, left, right, int64(n)+1, int64(n)+1)
			}
		})
		wg.Go(func() {
			for range pairs {
				checkPairs(t, s, fmt.Sprintf("left-%d", c), fmt.Sprintf("right-%d", c), 0, pairs)
			}
		})
	}
	wg.Wait()
}

// checkPairs expects both builds to have the same length, between least and most.
func checkPairs(tb testing.TB, s store.Store, left, right string, least, most int64) {
	tb.Helper()
	err := s.View(tb.Context(), shop, func(r store.Reader) error {
		l, err := r.Head(left)
		if err != nil {
			return err
		}
		entries, err := r.Entries(right, 0, 0)
		if err != nil {
			return err
		}
		if l != int64(len(entries)) || l < least || l > most {
			return fmt.Errorf("%d on the left, %d on the right, want %d to %d of both", l, len(entries), least, most)
		}
		return nil
	})
	if err != nil {
		tb.Error(err)
	}
}
