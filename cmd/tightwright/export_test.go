package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store/sqlite"
)

// A workshop that the store does not know is a mistake, not an empty record.
func TestExportOfNothing(t *testing.T) {
	dir := t.TempDir()
	path, out := filepath.Join(dir, "shop.db"), filepath.Join(dir, "out")
	st, err := sqlite.Open(path, sqlite.Options{})
	require.NoError(t, err)
	require.NoError(t, st.Close())
	got := tightwright(t, "", "export", "--store", path, "--workshop", "elsewhere", "--out", out)
	require.Equal(t, outcome{codeBadInput, "", "tightwright: the store holds nothing of a workshop \"elsewhere\"\n"}, got)
	require.NoFileExists(t, out)
	require.NoFileExists(t, out+".part")
}
