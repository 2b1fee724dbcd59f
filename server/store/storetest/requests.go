package storetest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func testRequests(t *testing.T, open Open) {
	s := opened(t, open)
	first := store.Request{ID: "r-1", Digest: []byte{1, 1}, Answer: []byte("yes"), ServerUS: 9}
	silent := store.Request{ID: "r-2", Digest: []byte{2}, ServerUS: 10}
	update(t, s, func(tx store.Tx) error { return tx.PutRequest(first) })
	update(t, s, func(tx store.Tx) error { return tx.PutRequest(silent) })

	t.Run("kept as given", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			for _, want := range []store.Request{first, silent} {
				got, err := r.Request(want.ID)
				require.NoError(t, err)
				require.Equal(t, want, got)
			}
			_, err := r.Request("unknown")
			require.ErrorIs(t, err, store.ErrNotFound)
		})
	})
	t.Run("answered", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			for _, c := range []struct {
				name   string
				id     string
				digest []byte
				answer []byte
				known  bool
				want   error
			}{
				{"same content", "r-1", []byte{1, 1}, []byte("yes"), true, nil},
				{"same content, no answer", "r-2", []byte{2}, nil, true, nil},
				{"new", "r-3", []byte{1, 1}, nil, false, nil},
				{"other content", "r-1", []byte{1}, nil, false, store.ErrRequestReused},
			} {
				answer, known, err := store.Answered(r, c.id, c.digest)
				require.ErrorIs(t, err, c.want, c.name)
				require.Equal(t, c.known, known, c.name)
				require.Equal(t, c.answer, answer, c.name)
			}
		})
		viewOf(t, s, "shop-2", func(r store.Reader) {
			_, known, err := store.Answered(r, "r-1", []byte{7})
			require.NoError(t, err)
			require.False(t, known)
		})
	})
	t.Run("not written twice", func(t *testing.T) {
		again := first
		again.Answer = []byte("no")
		err := s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.PutRequest(again) })
		require.ErrorIs(t, err, store.ErrRequestReused)
	})
	t.Run("undone with what it answers", func(t *testing.T) {
		err := s.Update(t.Context(), shop, func(tx store.Tx) error {
			require.NoError(t, tx.PutRequest(store.Request{ID: "r-4", Digest: []byte{4}}))
			_, known, err := store.Answered(tx, "r-4", []byte{4})
			require.NoError(t, err)
			require.True(t, known, "seen in its own transaction")
			return errRefused
		})
		require.ErrorIs(t, err, errRefused)
		view(t, s, func(r store.Reader) {
			_, err := r.Request("r-4")
			require.ErrorIs(t, err, store.ErrNotFound)
		})
	})
}
