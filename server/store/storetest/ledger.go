package storetest

import (
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

// testLedger lets many callers write at the same time, some of them refused
// after they have written, and then reads the ledger from its first leaf.
func testLedger(t *testing.T, open Open) {
	s := opened(t, open)
	const callers, rounds = 8, 12
	var wg sync.WaitGroup
	for c := range callers {
		wg.Go(func() {
			build := fmt.Sprintf("build-%d", c%3)
			for n := range rounds {
				mine := entries(build, 100*c+n*3, 1+n%3)
				err := s.Update(t.Context(), shop, func(tx store.Tx) error {
					if err := tx.Append(mine); err != nil {
						return err
					}
					if (n+c)%4 == 0 {
						return errRefused
					}
					return nil
				})
				if (n+c)%4 != 0 && err != nil {
					t.Errorf("caller %d round %d: %v", c, n, err)
				}
			}
		})
	}
	wg.Wait()
	view(t, s, func(r store.Reader) { checkLedger(t, r) })

	t.Run("size inside a transaction", func(t *testing.T) {
		update(t, s, func(tx store.Tx) error {
			before, err := tx.LedgerSize()
			require.NoError(t, err)
			more := entries("more", 0, 2)
			require.NoError(t, tx.Append(more))
			require.Equal(t, before, more[0].LedgerIndex)
			after, err := tx.LedgerSize()
			require.NoError(t, err)
			require.Equal(t, before+2, after)
			return nil
		})
		view(t, s, func(r store.Reader) { checkLedger(t, r) })
	})
	t.Run("of a workshop of its own", func(t *testing.T) {
		first := entries("build-0", 0, 1)
		require.NoError(t, s.Update(t.Context(), "shop-2", func(tx store.Tx) error { return tx.Append(first) }))
		require.Zero(t, first[0].LedgerIndex)
		viewOf(t, s, "shop-3", func(r store.Reader) {
			size, err := r.LedgerSize()
			require.NoError(t, err)
			require.Zero(t, size)
		})
	})
	t.Run("listed with the workshops", func(t *testing.T) {
		var size int64
		view(t, s, func(r store.Reader) { size = checkLedger(t, r) })
		all, err := s.Workshops(t.Context(), "", 0)
		require.NoError(t, err)
		require.Len(t, all, 2)
		require.Equal(t, shop, all[0].ID)
		require.Equal(t, size, all[0].Size)
		require.Positive(t, all[0].CreatedUS)
		all, err = s.Workshops(t.Context(), shop, 1)
		require.NoError(t, err)
		require.Len(t, all, 1)
		require.Equal(t, "shop-2", all[0].ID)
	})
}

// checkLedger reads all leaves in small pages. They must be numbered without a
// gap, as many as the ledger says, and in the order of each build.
func checkLedger(t testing.TB, r store.Reader) int64 {
	t.Helper()
	size, err := r.LedgerSize()
	require.NoError(t, err)
	next, heads := int64(0), make(map[string]int64)
	for {
		leaves, err := r.Leaves(next, 7)
		require.NoError(t, err)
		for _, e := range leaves {
			require.Equal(t, next, e.LedgerIndex)
			require.Equal(t, heads[e.Build]+1, e.Seq)
			heads[e.Build] = e.Seq
			next++
		}
		if len(leaves) < 7 {
			break
		}
	}
	require.Equal(t, size, next)
	for build, want := range heads {
		head, err := r.Head(build)
		require.NoError(t, err)
		require.Equal(t, want, head)
	}
	return size
}

func testDuplicates(t *testing.T, open Open) {
	s := opened(t, open)
	first := entries("a", 1, 2)
	appendAll(t, s, first)

	for _, c := range []struct {
		name    string
		swallow bool
		build   string
	}{
		{"refused with the stored entry", false, "a"},
		{"refused in another build too", false, "b"},
		{"refused even if the function says nothing", true, "a"},
	} {
		t.Run(c.name, func(t *testing.T) {
			batch := []store.Entry{entry(c.build, 8), first[1], entry(c.build, 9)}
			batch[1].Build, batch[1].Seq = c.build, 0
			err := s.Update(t.Context(), shop, func(tx store.Tx) error {
				err := tx.Append(batch)
				require.ErrorIs(t, err, store.ErrDuplicateEntry)
				require.ErrorIs(t, tx.Append(entries(c.build, 20, 1)), store.ErrDuplicateEntry)
				if c.swallow {
					return nil
				}
				return err
			})
			var duplicate *store.DuplicateError
			require.ErrorAs(t, err, &duplicate)
			require.Equal(t, first[1], duplicate.Existing)
			view(t, s, func(r store.Reader) {
				require.Equal(t, first, whole(t, r, "a"))
				require.EqualValues(t, 2, checkLedger(t, r))
			})
		})
	}
	t.Run("twice in one call", func(t *testing.T) {
		twice := []store.Entry{entry("c", 1), entry("c", 2), entry("c", 1)}
		err := s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.Append(twice) })
		require.ErrorIs(t, err, store.ErrInvalid)
		view(t, s, func(r store.Reader) { require.EqualValues(t, 2, checkLedger(t, r)) })
	})
	t.Run("one retry of many at the same time is stored", func(t *testing.T) { testRetries(t, s) })
}

// testRetries sends one entry from many callers at once.
func testRetries(t *testing.T, s store.Store) {
	var wg sync.WaitGroup
	stored := make([]store.Entry, 16)
	errs := make([]error, len(stored))
	for i := range stored {
		wg.Go(func() {
			mine := []store.Entry{entry("retried", 1)}
			errs[i] = s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.Append(mine) })
			stored[i] = mine[0]
		})
	}
	wg.Wait()
	view(t, s, func(r store.Reader) {
		all := whole(t, r, "retried")
		require.Len(t, all, 1)
		accepted := 0
		for i, err := range errs {
			if err == nil {
				accepted++
				require.Equal(t, all[0], stored[i])
				continue
			}
			var duplicate *store.DuplicateError
			require.ErrorAs(t, err, &duplicate)
			require.Equal(t, all[0], duplicate.Existing)
		}
		require.Equal(t, 1, accepted)
	})
}
