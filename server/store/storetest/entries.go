package storetest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func testEntries(t *testing.T, open Open) {
	s := opened(t, open)
	mixed := append(entries("a", 1, 3), append(entries("b", 1, 2), entries("a", 4, 2)...)...)
	bare := store.Entry{
		Build: "c", ID: "bare", Schema: 1, Kind: "note", Tablet: "tablet-1",
		TabletUS: -1, OffsetUS: 0, Envelope: []byte{0},
	}
	appendAll(t, s, mixed)
	bareStored := []store.Entry{bare}
	appendAll(t, s, bareStored)

	t.Run("numbers within a build", func(t *testing.T) {
		for i, want := range []struct {
			build string
			seq   int64
		}{{"a", 1}, {"a", 2}, {"a", 3}, {"b", 1}, {"b", 2}, {"a", 4}, {"a", 5}} {
			require.Equal(t, want.build, mixed[i].Build)
			require.Equal(t, want.seq, mixed[i].Seq)
		}
	})
	t.Run("come back as they were given", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			require.Equal(t, append(mixed[0:3:3], mixed[5:7]...), whole(t, r, "a"))
			require.Equal(t, mixed[3:5], whole(t, r, "b"))
			require.Equal(t, bareStored, whole(t, r, "c"))
			require.False(t, bareStored[0].OffsetKnown)
		})
	})
	t.Run("head", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			for build, want := range map[string]int64{"a": 5, "b": 2, "c": 1, "unknown": 0} {
				head, err := r.Head(build)
				require.NoError(t, err)
				require.Equal(t, want, head, build)
			}
		})
	})
	t.Run("pages", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			page, err := r.Entries("a", 1, 2)
			require.NoError(t, err)
			require.Equal(t, mixed[1:3], page)
			page, err = r.Entries("a", 5, 2)
			require.NoError(t, err)
			require.Empty(t, page)
			page, err = r.Entries("unknown", 0, 2)
			require.NoError(t, err)
			require.Empty(t, page)
		})
	})
	t.Run("by id", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			e, err := r.EntryByID(mixed[3].ID)
			require.NoError(t, err)
			require.Equal(t, mixed[3], e)
			_, err = r.EntryByID("unknown")
			require.ErrorIs(t, err, store.ErrNotFound)
		})
	})
	t.Run("only in their workshop", func(t *testing.T) { testOtherWorkshop(t, s, mixed[0]) })
	t.Run("an expected place", func(t *testing.T) { testExpectedSeq(t, s) })
	t.Run("nothing to append", func(t *testing.T) { appendAll(t, s, nil) })
}

// testOtherWorkshop looks from another workshop for an entry of build a.
func testOtherWorkshop(t *testing.T, s store.Store, known store.Entry) {
	viewOf(t, s, "shop-2", func(r store.Reader) {
		require.Empty(t, whole(t, r, "a"))
		_, err := r.EntryByID(known.ID)
		require.ErrorIs(t, err, store.ErrNotFound)
	})
	// The same ids in another workshop are other entries.
	again := entries("a", 1, 1)
	require.NoError(t, s.Update(t.Context(), "shop-2", func(tx store.Tx) error { return tx.Append(again) }))
	require.Equal(t, "shop-2", again[0].Workshop)
	require.EqualValues(t, 1, again[0].Seq)
}

func testExpectedSeq(t *testing.T, s store.Store) {
	next := entries("expected", 1, 2)
	next[0].Seq, next[1].Seq = 1, 2
	appendAll(t, s, next)

	late := entries("expected", 3, 1)
	late[0].Seq = 2
	err := s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.Append(late) })
	var conflict *store.ConflictError
	require.ErrorAs(t, err, &conflict)
	require.ErrorIs(t, err, store.ErrConflict)
	require.EqualValues(t, 1, conflict.Expected)
	require.EqualValues(t, 2, conflict.Actual)

	view(t, s, func(r store.Reader) { require.Equal(t, next, whole(t, r, "expected")) })
}
