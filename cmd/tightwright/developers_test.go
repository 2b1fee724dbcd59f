package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	publishedStart = "<!-- published sets: written by go test ./cmd/tightwright -run TestPublishedTable -update -->\n\n"
	publishedEnd   = "\n\n<!-- end of published sets -->"
)

// TestPublishedTable holds the table in DEVELOPERS.md to the one that the tests
// of package joint work out.
func TestPublishedTable(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	table, err := os.ReadFile("../../torque/joint/testdata/published.md")
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(guide), publishedStart)
	require.True(t, ok, "DEVELOPERS.md marks where the table stands")
	shown, after, ok := strings.Cut(rest, publishedEnd)
	require.True(t, ok, "DEVELOPERS.md marks where the table ends")
	want := strings.TrimSpace(string(table))
	if *update {
		require.NoError(t, os.WriteFile("../../DEVELOPERS.md", []byte(before+publishedStart+want+publishedEnd+after), 0o644))
		return
	}
	require.Equal(t, want, shown)
}
