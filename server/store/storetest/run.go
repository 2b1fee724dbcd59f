// Package storetest is the suite that every engine of package store has to pass,
// without exceptions. An engine's own tests add what only it has: files, crashes,
// migrations.
package storetest

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

// Open opens a store. Called again after the store was closed, it opens the same
// one with what is in it.
type Open func(tb testing.TB) store.Store

// Run tests an engine. newPlace makes a new, empty place for a store; what it
// needs, such as a directory, should end with the test it is given.
func Run(t *testing.T, newPlace func(tb testing.TB) Open) {
	for _, group := range []struct {
		name string
		test func(*testing.T, Open)
	}{
		{"entries", testEntries},
		{"ledger", testLedger},
		{"duplicates", testDuplicates},
		{"lists", testLists},
		{"documents", testDocuments},
		{"attachments", testAttachments},
		{"requests", testRequests},
		{"arguments", testArguments},
		{"isolation", testIsolation},
		{"views", testViews},
		{"contexts", testContexts},
		{"closing", testClosing},
		{"model", testModel},
	} {
		t.Run(group.name, func(t *testing.T) { group.test(t, newPlace(t)) })
	}
}

const shop = "shop-1"

// opened opens a store for the rest of a test.
func opened(tb testing.TB, open Open) store.Store {
	tb.Helper()
	s := open(tb)
	tb.Cleanup(func() { require.NoError(tb, s.Close()) })
	return s
}

// entry returns a complete entry, different in each field for each n.
func entry(build string, n int) store.Entry {
	at := int64(1_700_000_000_000_000 + n*1000)
	return store.Entry{
		Build: build, ID: fmt.Sprintf("%s/entry-%04d", build, n), Job: "job-1", Schema: 1,
		Kind: "reading", Actor: "person-1", Tablet: "tablet-1", TabletSeq: int64(n),
		Boot: "boot-1", MonotonicUS: int64(n) * 7, TabletUS: at - 5, ServerUS: at,
		OffsetUS: -5, OffsetKnown: true, BasedOnSeq: int64(n) / 2, Tools: []string{"tool-1"},
		Envelope: fmt.Appendf(nil, `{"n":%d}`, n), Payload: []byte{0, 0xff, byte(n)},
	}
}

func entries(build string, from, count int) []store.Entry {
	all := make([]store.Entry, count)
	for i := range all {
		all[i] = entry(build, from+i)
	}
	return all
}

func update(tb testing.TB, s store.Store, fn func(tx store.Tx) error) {
	tb.Helper()
	require.NoError(tb, s.Update(tb.Context(), shop, fn))
}

func appendAll(tb testing.TB, s store.Store, all []store.Entry) {
	tb.Helper()
	update(tb, s, func(tx store.Tx) error { return tx.Append(all) })
}

func view(tb testing.TB, s store.Store, fn func(r store.Reader)) {
	tb.Helper()
	viewOf(tb, s, shop, fn)
}

func viewOf(tb testing.TB, s store.Store, workshop string, fn func(r store.Reader)) {
	tb.Helper()
	require.NoError(tb, s.View(tb.Context(), workshop, func(r store.Reader) error {
		fn(r)
		return nil
	}))
}

// whole reads a build to its end.
func whole(tb testing.TB, r store.EntryReader, build string) []store.Entry {
	tb.Helper()
	var all []store.Entry
	for e, err := range store.All(r, build, 0) {
		require.NoError(tb, err)
		all = append(all, e)
	}
	return all
}

var errRefused = errors.New("refused by the test")
