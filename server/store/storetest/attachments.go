package storetest

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func attachment(n int, build, person string) store.Attachment {
	return store.Attachment{
		ID: fmt.Sprintf("att-%d", n), Build: build, Person: person, MediaType: "text/plain",
		ServerUS: int64(n), Body: fmt.Appendf(nil, "seen at the bench %d", n), Key: []byte{1, 2, 3, byte(n)},
	}
}

func testAttachments(t *testing.T, open Open) {
	s := opened(t, open)
	all := []store.Attachment{
		attachment(1, "a", "p-1"), attachment(2, "a", "p-2"), attachment(3, "b", "p-1"),
		attachment(4, "", ""), attachment(5, "a", "p-1"),
	}
	for _, a := range all {
		update(t, s, func(tx store.Tx) error { return tx.PutAttachment(a) })
	}
	t.Run("come back as they were given", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			for _, want := range all {
				got, err := r.Attachment(want.ID)
				require.NoError(t, err)
				require.Equal(t, want, got)
			}
			_, err := r.Attachment("unknown")
			require.ErrorIs(t, err, store.ErrNotFound)
		})
	})
	t.Run("are not changed", func(t *testing.T) {
		changed := attachment(1, "a", "p-1")
		changed.Body = []byte("other words")
		err := s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.PutAttachment(changed) })
		require.ErrorIs(t, err, store.ErrConflict)
	})
	t.Run("listed without content", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			for _, c := range []struct {
				build, person string
				want          []int
			}{
				{"", "", []int{0, 1, 2, 3, 4}},
				{"a", "", []int{0, 1, 4}},
				{"", "p-1", []int{0, 2, 4}},
				{"a", "p-1", []int{0, 4}},
				{"unknown", "", nil},
			} {
				var want []store.Attachment
				for _, i := range c.want {
					a := all[i]
					a.Body, a.Key = nil, nil
					want = append(want, a)
				}
				got := pages(t, 2, func(after store.Attachment) ([]store.Attachment, error) {
					return r.Attachments(store.AttachmentQuery{Build: c.build, Person: c.person, After: after.ID, Limit: 2})
				})
				require.Equal(t, want, got, "build %q person %q", c.build, c.person)
			}
		})
	})
	t.Run("erase", func(t *testing.T) { testEraseAttachment(t, open, s, all) })
}

func testEraseAttachment(t *testing.T, open Open, s store.Store, all []store.Attachment) {
	erase := func(id string, at int64) error {
		return s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.EraseAttachment(id, at) })
	}
	require.NoError(t, erase(all[0].ID, 55))
	require.NoError(t, erase(all[0].ID, 66), "erasing again changes nothing")
	require.ErrorIs(t, erase("unknown", 55), store.ErrNotFound)
	require.ErrorIs(t, erase(all[1].ID, 0), store.ErrInvalid)

	check := func(s store.Store) {
		view(t, s, func(r store.Reader) {
			got, err := r.Attachment(all[0].ID)
			require.NoError(t, err)
			want := all[0]
			want.Body, want.Key, want.ErasedUS = nil, nil, 55
			require.Equal(t, want, got)
			for _, other := range all[1:] {
				got, err := r.Attachment(other.ID)
				require.NoError(t, err)
				require.Equal(t, other, got)
			}
		})
	}
	check(s)
	require.NoError(t, s.Close())
	check(opened(t, open))
}
