package storetest

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func testContexts(t *testing.T, open Open) {
	s := opened(t, open)
	ended, end := context.WithCancel(t.Context())
	end()
	unexpected := func(store.Tx) error {
		t.Error("function was called")
		return errRefused
	}
	t.Run("ended before the call", func(t *testing.T) {
		require.ErrorIs(t, s.Update(ended, shop, unexpected), context.Canceled)
		require.ErrorIs(t, s.View(ended, shop, func(r store.Reader) error {
			_, err := r.Head("a")
			return err
		}), context.Canceled)
	})
	t.Run("ends while waiting for a turn", func(t *testing.T) {
		release := gate(t, s)
		defer release()
		const callers = 5
		ctx, cancel := context.WithCancel(t.Context())
		errs := make(chan error, callers)
		for range callers {
			go func() { errs <- s.Update(ctx, shop, unexpected) }()
		}
		time.Sleep(20 * time.Millisecond) // so that most of them do wait; the outcome is the same
		cancel()
		for range callers { // answered while the writer is still held
			require.ErrorIs(t, <-errs, context.Canceled)
		}
		release()
		appendAll(t, s, entries("a", 0, 1))
	})
	t.Run("does not count once the function has started", func(t *testing.T) {
		ctx, cancel := context.WithCancel(t.Context())
		require.NoError(t, s.Update(ctx, shop, func(tx store.Tx) error {
			cancel()
			return tx.Append(entries("a", 1, 1))
		}))
		view(t, s, func(r store.Reader) { require.Len(t, whole(t, r, "a"), 2) })
	})
	t.Run("ends within a view", func(t *testing.T) {
		for range 20 { // more often than there are connections
			ctx, cancel := context.WithCancel(t.Context())
			err := s.View(ctx, shop, func(r store.Reader) error {
				_, err := r.Entries("a", 0, 0)
				require.NoError(t, err)
				for _, err := range store.All(r, "a", 0) {
					require.NoError(t, err)
					break // may be left early
				}
				cancel()
				yielded := 0
				for _, err = range store.All(r, "a", 0) {
					yielded++
				}
				require.Equal(t, 1, yielded)
				return err
			})
			require.ErrorIs(t, err, context.Canceled)
		}
		view(t, s, func(r store.Reader) { require.Len(t, whole(t, r, "a"), 2) })
	})
}
