package storetest

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

// testArguments passes what the contract excludes. Nothing of it may be stored.
func testArguments(t *testing.T, open Open) {
	s := opened(t, open)
	with := func(change func(e *store.Entry)) func(store.Tx) error {
		return func(tx store.Tx) error {
			e := entry("a", 1)
			change(&e)
			return tx.Append([]store.Entry{entry("a", 2), e})
		}
	}
	long := strings.Repeat("x", store.MaxKeyLength+1)
	for _, c := range []struct {
		name string
		fn   func(store.Tx) error
	}{
		{"no build", with(func(e *store.Entry) { e.Build = "" })},
		{"no entry id", with(func(e *store.Entry) { e.ID = "" })},
		{"no kind", with(func(e *store.Entry) { e.Kind = "" })},
		{"no envelope", with(func(e *store.Entry) { e.Envelope = nil })},
		{"no envelope version", with(func(e *store.Entry) { e.Schema = 0 })},
		{"place below 0", with(func(e *store.Entry) { e.Seq = -1 })},
		{"based on a place below 0", with(func(e *store.Entry) { e.BasedOnSeq = -1 })},
		{"NUL in a build", with(func(e *store.Entry) { e.Build = "a\x00b" })},
		{"line break in a tool", with(func(e *store.Entry) { e.Tools = []string{"a\nb"} })},
		{"empty tool", with(func(e *store.Entry) { e.Tools = []string{""} })},
		{"job that is not UTF-8", with(func(e *store.Entry) { e.Job = "\xff" })},
		{"long actor", with(func(e *store.Entry) { e.Actor = long })},
		{"document without kind", func(tx store.Tx) error {
			_, err := tx.PutDocument(store.Document{ID: "x"}, 0)
			return err
		}},
		{"document without id", func(tx store.Tx) error {
			_, err := tx.PutDocument(store.Document{Kind: "x"}, 0)
			return err
		}},
		{"expected version below 0", func(tx store.Tx) error {
			_, err := tx.PutDocument(document("tool", "t-1", 1), -1)
			return err
		}},
		{"document erased at no time", func(tx store.Tx) error { return tx.EraseDocument("tool", "t-1", 0) }},
		{"attachment without id", func(tx store.Tx) error { return tx.PutAttachment(store.Attachment{MediaType: "x"}) }},
		{"attachment without media type", func(tx store.Tx) error { return tx.PutAttachment(store.Attachment{ID: "x"}) }},
		{"request without id", func(tx store.Tx) error { return tx.PutRequest(store.Request{Digest: []byte{1}}) }},
		{"request without digest", func(tx store.Tx) error { return tx.PutRequest(store.Request{ID: "x"}) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.ErrorIs(t, s.Update(t.Context(), shop, c.fn), store.ErrInvalid)
		})
	}
	t.Run("workshop", func(t *testing.T) {
		for _, workshop := range []string{"", long, "a\tb"} {
			called := false
			require.ErrorIs(t, s.Update(t.Context(), workshop, func(store.Tx) error {
				called = true
				return nil
			}), store.ErrInvalid)
			require.ErrorIs(t, s.View(t.Context(), workshop, func(store.Reader) error {
				called = true
				return nil
			}), store.ErrInvalid)
			require.False(t, called)
		}
	})
	all, err := s.Workshops(t.Context(), "", 0)
	require.NoError(t, err)
	require.Empty(t, all)
}
