package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The collar of a carbon post whose frame prints max. 5 N·m: without a word about
// paste nothing is lowered; where the frame allows 20 % less with it, the plan aims
// for 4 N·m (5 less a fifth) and says who allows it and where it was read.
func TestPlanShowsWhatIsAllowedWithPaste(t *testing.T) {
	const collar = "{ joint: seat-collar-m5-carbon-post, marking: max. 5 N·m, seen: printed, where: top of the seat tube"
	data, err := os.ReadFile("../../testdata/sheets/whole-road.yaml")
	require.NoError(t, err)
	require.Contains(t, string(data), collar)
	plan := func(text string) string {
		file := filepath.Join(t.TempDir(), "bike.yaml")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		got := tightwright(t, "", "plan", "seatpost", "--sheet", file, "--at", "2025-03-03T09:00:00Z")
		require.Equal(t, codeOK, got.code, got.stderr)
		return strings.Join(strings.Fields(got.stdout), " ")
	}
	require.NotContains(t, plan(string(data)), "less with carbon paste")

	allowed := plan(strings.Replace(string(data), collar, collar+", paste_less: 20", 1))
	require.Contains(t, allowed, "aim for 4 N·m")
	require.Contains(t, allowed, "the frame allows 20 % less with carbon paste (printed, top of the seat tube), which goes on in")
	require.Contains(t, allowed, `at most 5 N·m: "max. 5 N·m" on the frame, top of the seat tube (read on the part); 20 % less with carbon paste`)

	got := tightwright(t, strings.Replace(string(data), collar, collar+", paste_less: 40", 1), "plan", "seatpost", "--sheet", "-")
	require.Equal(t, codeBadInput, got.code)
	require.Contains(t, got.stderr, "paste_less: write by how many percent less")
}
