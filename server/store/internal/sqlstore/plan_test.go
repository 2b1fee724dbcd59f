package sqlstore_test

import (
	"database/sql"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store/internal/sqlstore"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// TestEveryQueryHasAnIndex asks an engine how it would find the rows. A query
// that reads a whole table, or sorts what it has read, gets slower with every
// year of records.
func TestEveryQueryHasAnIndex(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.db")
	s, err := sqlite.Open(path, sqlite.Options{})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	for name, query := range sqlstore.Selects() {
		t.Run(name, func(t *testing.T) {
			rows, err := db.Query("EXPLAIN QUERY PLAN "+query, make([]any, strings.Count(query, "$"))...)
			require.NoError(t, err)
			defer rows.Close()
			var plan []string
			for rows.Next() {
				var id, parent, unused int
				var detail string
				require.NoError(t, rows.Scan(&id, &parent, &unused, &detail))
				plan = append(plan, detail)
			}
			require.NoError(t, rows.Err())
			require.NotEmpty(t, plan)
			t.Log(strings.Join(plan, "\n"))
			for _, step := range plan {
				if strings.HasPrefix(step, "SCAN") {
					require.Equal(t, "SCAN migrations", step, "the only table that stays small")
				}
				require.NotContains(t, step, "TEMP B-TREE")
			}
		})
	}
}
