package sqlite_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
	"github.com/tightwright/tightwright/server/store/storetest"
)

func TestStore(t *testing.T) {
	storetest.Run(t, func(tb testing.TB) storetest.Open {
		tb.Helper()
		path := filepath.Join(tb.TempDir(), "w.db")
		return func(tb testing.TB) store.Store {
			tb.Helper()
			s, err := sqlite.Open(path, sqlite.Options{})
			require.NoError(tb, err)
			return s
		}
	})
}
