package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestReadmeCommands runs the commands of the README as they stand there. The
// audit of the invented week has findings; everything else comes out clean.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	t.Chdir("../..")
	record := filepath.Join(t.TempDir(), "week.record.jsonl")
	ran := 0
	for _, line := range strings.Split(string(text), "\n") {
		args, ok := readmeArgs(line)
		if !ok || args[0] == "serve" || args[0] == "export" {
			continue
		}
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "week.record.jsonl", record)
		}
		want := codeOK
		if args[0] == "audit" {
			want = codeFinding
		}
		var out, errOut bytes.Buffer
		require.Equal(t, want, run(args, strings.NewReader(""), &out, &errOut), "%s: %s", line, errOut.String())
		require.NotEmpty(t, out.String(), line)
		ran++
	}
	require.GreaterOrEqual(t, ran, 7, "the README shows the commands")
}

// readmeArgs returns the arguments of a command line of the README.
func readmeArgs(line string) ([]string, bool) {
	for _, start := range []string{"tightwright ", "go run ./cmd/tightwright "} {
		rest, ok := strings.CutPrefix(line, start)
		if !ok {
			continue
		}
		rest, _, _ = strings.Cut(rest, "#")
		var args []string
		for i, part := range strings.Split(strings.TrimSpace(rest), `"`) {
			if i%2 == 1 {
				args = append(args, part)
				continue
			}
			args = append(args, strings.Fields(part)...)
		}
		return args, true
	}
	return nil, false
}
