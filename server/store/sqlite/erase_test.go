package sqlite_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

// Words that are nowhere else in a file.
const (
	secretText = "the customer said something in confidence"
	secretKey  = "0123456789-key-of-the-text-0123456789"
	secretName = "a name and a telephone number"
)

func writeSecrets(tb testing.TB, s store.Store) {
	tb.Helper()
	require.NoError(tb, s.Update(tb.Context(), "w-1", func(tx store.Tx) error {
		// Long enough to fill pages of its own.
		body := bytes.Repeat([]byte(secretText), 300)
		if err := tx.PutAttachment(store.Attachment{ID: "a-1", MediaType: "text/plain", Body: body, Key: []byte(secretKey)}); err != nil {
			return err
		}
		_, err := tx.PutDocument(store.Document{Kind: "person", ID: "p-1", Body: []byte(secretName)}, 0)
		return err
	}))
}

func eraseSecrets(tb testing.TB, s store.Store) {
	tb.Helper()
	require.NoError(tb, s.Update(tb.Context(), "w-1", func(tx store.Tx) error {
		if err := tx.EraseAttachment("a-1", 1); err != nil {
			return err
		}
		return tx.EraseDocument("person", "p-1", 1)
	}))
}

func TestErasedContentLeavesTheFiles(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s := open(t, path)
	writeSecrets(t, s)
	for _, secret := range []string{secretText, secretKey, secretName} {
		require.NotEmpty(t, filesWith(t, path, secret), "this test must be able to find it")
	}
	eraseSecrets(t, s)
	for _, secret := range []string{secretText, secretKey, secretName} {
		require.Empty(t, filesWith(t, path, secret))
	}
	appendOne(t, s, 1)
}

// An open View still needs the old pages. They go when it has ended.
func TestErasedContentLeavesAfterAView(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "w.db")
		s := open(t, path)
		writeSecrets(t, s)
		require.NoError(t, s.View(t.Context(), "w-1", func(r store.Reader) error {
			_, err := r.Attachment("a-1")
			require.NoError(t, err)
			eraseSecrets(t, s)
			a, err := r.Attachment("a-1")
			require.NoError(t, err)
			require.NotEmpty(t, a.Body, "the view stays as it was")
			return nil
		}))
		log, err := os.Stat(path + "-wal")
		require.NoError(t, err)
		require.NotZero(t, log.Size())
		time.Sleep(time.Minute)
		synctest.Wait()
		log, err = os.Stat(path + "-wal")
		require.NoError(t, err)
		require.Zero(t, log.Size())
	})
}
