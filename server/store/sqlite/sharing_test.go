package sqlite_test

import (
	"context"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// crowd holds the writer, lets count callers wait for it, and returns a function
// that lets them go and returns what they were told. It must run in a bubble of
// synctest, where "waiting" is certain.
func crowd(s store.Store, count int, fn func(tx store.Tx, n int64) error) (release func() []error) {
	errs := make([]error, count+1)
	held := make(chan struct{})
	go func() {
		errs[count] = s.Update(context.Background(), "w-1", func(store.Tx) error {
			<-held
			return nil
		})
	}()
	synctest.Wait()
	for n := range count {
		go func() {
			errs[n] = s.Update(context.Background(), "w-1", func(tx store.Tx) error { return fn(tx, int64(n)) })
		}()
		synctest.Wait()
	}
	return func() []error {
		close(held)
		synctest.Wait()
		return errs
	}
}

func appendNumber(tx store.Tx, n int64) error { return tx.Append([]store.Entry{benchEntry(n, 0)}) }

func TestCallersShareACommit(t *testing.T) {
	for _, c := range []struct {
		name    string
		options sqlite.Options
		commits int64
	}{
		{"all with the one before them", sqlite.Options{}, 1},
		{"not more than allowed", sqlite.Options{BatchCalls: 10}, 4},
		// The holder of the writer takes no time, and each of the others all of it.
		{"not more than there is time for", sqlite.Options{BatchTime: time.Millisecond}, 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := openWith(t, filepath.Join(t.TempDir(), "w.db"), c.options)
				release := crowd(s, 30, func(tx store.Tx, n int64) error {
					time.Sleep(c.options.BatchTime) // time here passes only by sleeping
					return appendNumber(tx, n)
				})
				errs := release()
				time.Sleep(time.Minute)
				synctest.Wait()
				for _, err := range errs {
					require.NoError(t, err)
				}
				require.EqualValues(t, 31, s.Stats().Calls)
				require.Equal(t, c.commits, s.Stats().Commits)
				// First come, first served.
				require.NoError(t, s.View(t.Context(), "w-1", func(r store.Reader) error {
					leaves, err := r.Leaves(0, 0)
					require.NoError(t, err)
					require.Len(t, leaves, 30)
					for i, e := range leaves {
						require.EqualValues(t, i, e.TabletSeq)
					}
					return nil
				}))
			})
		})
	}
}

func TestContextEndsWhileWaiting(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := open(t, filepath.Join(t.TempDir(), "w.db"))
		release := crowd(s, 2, appendNumber)
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		err := s.Update(ctx, "w-1", func(store.Tx) error {
			t.Error("function was called")
			return nil
		})
		require.ErrorIs(t, err, context.DeadlineExceeded)
		for _, err := range release() {
			require.NoError(t, err)
		}
	})
}

func TestTooManyCallers(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := openWith(t, filepath.Join(t.TempDir(), "w.db"), sqlite.Options{Queue: 3})
		errs := crowd(s, 5, appendNumber)()
		for _, err := range errs[:3] {
			require.NoError(t, err)
		}
		require.ErrorIs(t, errs[3], store.ErrBusy)
		require.ErrorIs(t, errs[4], store.ErrBusy)
	})
}
