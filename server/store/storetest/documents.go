package storetest

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func document(kind, id string, version int64) store.Document {
	return store.Document{
		Kind: kind, ID: id, Version: version, Actor: fmt.Sprintf("person-%d", version),
		ServerUS: 1000 * version, Body: fmt.Appendf(nil, "%s %s %d", kind, id, version),
	}
}

// put stores a version of a document on top of the one before it.
func put(t testing.TB, s store.Store, d store.Document) {
	t.Helper()
	update(t, s, func(tx store.Tx) error {
		version, err := tx.PutDocument(d, d.Version-1)
		require.NoError(t, err)
		require.Equal(t, d.Version, version)
		return nil
	})
}

func testDocuments(t *testing.T, open Open) {
	s := opened(t, open)
	for version := range int64(3) {
		put(t, s, document("tool", "t-1", version+1))
	}
	t.Run("every version stays", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			current, err := r.Document("tool", "t-1")
			require.NoError(t, err)
			require.Equal(t, document("tool", "t-1", 3), current)
			second, err := r.DocumentVersion("tool", "t-1", 2)
			require.NoError(t, err)
			require.Equal(t, document("tool", "t-1", 2), second)
			all, err := r.DocumentVersions("tool", "t-1", 0, 0)
			require.NoError(t, err)
			require.Len(t, all, 3)
			rest, err := r.DocumentVersions("tool", "t-1", 1, 1)
			require.NoError(t, err)
			require.Equal(t, all[1:2], rest)
		})
	})
	t.Run("not found", func(t *testing.T) {
		view(t, s, func(r store.Reader) {
			_, err := r.Document("tool", "unknown")
			require.ErrorIs(t, err, store.ErrNotFound)
			_, err = r.Document("person", "t-1")
			require.ErrorIs(t, err, store.ErrNotFound)
			_, err = r.DocumentVersion("tool", "t-1", 4)
			require.ErrorIs(t, err, store.ErrNotFound)
		})
		viewOf(t, s, "shop-2", func(r store.Reader) {
			_, err := r.Document("tool", "t-1")
			require.ErrorIs(t, err, store.ErrNotFound)
		})
	})
	t.Run("conflict", func(t *testing.T) { testDocumentConflict(t, s) })
	t.Run("pages by id", func(t *testing.T) { testDocumentPages(t, s) })
	t.Run("erase", func(t *testing.T) { testEraseDocument(t, s) })
}

func testDocumentConflict(t *testing.T, s store.Store) {
	for _, c := range []struct {
		name     string
		id       string
		expected int64
		want     error
		actual   int64
	}{
		{"exists already", "t-1", 0, store.ErrConflict, 3},
		{"changed in the meantime", "t-1", 2, store.ErrConflict, 3},
		{"never was so far", "t-1", 4, store.ErrConflict, 3},
		{"no such document", "unknown", 1, store.ErrNotFound, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := s.Update(t.Context(), shop, func(tx store.Tx) error {
				_, err := tx.PutDocument(document("tool", c.id, c.expected+1), c.expected)
				return err
			})
			require.ErrorIs(t, err, c.want)
			var conflict *store.ConflictError
			if c.actual > 0 {
				require.ErrorAs(t, err, &conflict)
				require.Equal(t, c.expected, conflict.Expected)
				require.Equal(t, c.actual, conflict.Actual)
			}
		})
	}
	view(t, s, func(r store.Reader) {
		current, err := r.Document("tool", "t-1")
		require.NoError(t, err)
		require.Equal(t, document("tool", "t-1", 3), current)
	})
}

func testDocumentPages(t *testing.T, s store.Store) {
	// Ids that sort by their bytes only if nobody thinks they are words, and
	// prefixes at the edges of what a prefix can be.
	ids := []string{
		"A/1", "Z/1", "a", "a/1", "a/2", "a/2/1", "a0", "z", "é", "\uD7FF/1", "\uE000/1", "\U0010FFFF", "\U0010FFFF/1",
	}
	for _, id := range ids {
		put(t, s, document("sheet", id, 1))
	}
	put(t, s, document("sheet", "a/1", 2))
	view(t, s, func(r store.Reader) {
		for _, limit := range []int{1, 3, 50} {
			for prefix, want := range map[string][]string{
				"":               ids,
				"a/":             {"a/1", "a/2", "a/2/1"},
				"a":              {"a", "a/1", "a/2", "a/2/1", "a0"},
				"\uD7FF":         {"\uD7FF/1"},
				"\U0010FFFF":     {"\U0010FFFF", "\U0010FFFF/1"},
				"no such prefix": nil,
			} {
				after := store.Document{}
				all := pages(t, limit, func(store.Document) ([]store.Document, error) {
					page, err := r.Documents(store.DocumentQuery{Kind: "sheet", Prefix: prefix, After: after.ID, Limit: limit})
					if len(page) > 0 {
						after = page[len(page)-1]
					}
					return page, err
				})
				var got []string
				for _, d := range all {
					got = append(got, d.ID)
				}
				require.Equal(t, want, got, "prefix %q", prefix)
			}
		}
		changed, err := r.Documents(store.DocumentQuery{Kind: "sheet", Prefix: "a/1"})
		require.NoError(t, err)
		require.Equal(t, []store.Document{document("sheet", "a/1", 2)}, changed)
	})
}

func testEraseDocument(t *testing.T, s store.Store) {
	put(t, s, document("person", "p-1", 1))
	put(t, s, document("person", "p-1", 2))
	put(t, s, document("person", "p-2", 1))
	erase := func(id string, at int64) error {
		return s.Update(t.Context(), shop, func(tx store.Tx) error { return tx.EraseDocument("person", id, at) })
	}
	require.NoError(t, erase("p-1", 77))
	require.NoError(t, erase("p-1", 88), "erasing again changes nothing")
	require.ErrorIs(t, erase("unknown", 77), store.ErrNotFound)
	put(t, s, document("person", "p-1", 3))
	view(t, s, func(r store.Reader) {
		all, err := r.DocumentVersions("person", "p-1", 0, 0)
		require.NoError(t, err)
		want := []store.Document{document("person", "p-1", 1), document("person", "p-1", 2), document("person", "p-1", 3)}
		for i := range 2 {
			want[i].Body, want[i].ErasedUS = nil, 77
		}
		require.Equal(t, want, all)
		other, err := r.Document("person", "p-2")
		require.NoError(t, err)
		require.Equal(t, document("person", "p-2", 1), other)
	})
}
