package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"

	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// TestDemoAnswersAsTheDomain plays the invented week through gRPC. The file
// holds what the pure domain answered; the server answers the same.
func TestDemoAnswersAsTheDomain(t *testing.T) {
	var out, errOut bytes.Buffer
	record := filepath.Join(t.TempDir(), "week.record.jsonl")
	require.Zero(t, run([]string{"demo", "--record", record}, nil, &out, &errOut), errOut.String())
	want, err := os.ReadFile("../../testdata/week/week.txt")
	require.NoError(t, err)
	require.Equal(t, demoNotice+string(want), out.String())

	out.Reset()
	require.Equal(t, codeFinding, run([]string{"audit", record, "--json"}, nil, &out, &errOut), "the week has open findings")
	require.Contains(t, out.String(), `"rule":"tool-overdue"`)
}

// TestRunsOverTheWire plays the bench scripts that the domain plays, each
// against a server of its own.
func TestRunsOverTheWire(t *testing.T) {
	runs, err := filepath.Glob("../../testdata/runs/bench_*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, runs)
	all, err := catalogue.Load()
	require.NoError(t, err)
	for _, file := range runs {
		t.Run(filepath.Base(file), func(t *testing.T) {
			a, err := txtar.ParseFile(file)
			require.NoError(t, err)
			lines, err := script.Parse(string(a.Comment))
			require.NoError(t, err)
			var out strings.Builder
			err = withDemo(t.Context(), func(conn *grpc.ClientConn, clock *demoClock, _ *sqlite.Store) error {
				p := script.NewPlayer(newWireBench(t.Context(), conn, clock.set), all.Vocabulary, archived(a))
				for _, l := range lines {
					answer, err := p.Play(l)
					require.NoError(t, err)
					out.WriteString(script.Format(l, answer))
				}
				return nil
			})
			require.NoError(t, err)
			require.Equal(t, string(a.Comment), out.String())
		})
	}
}

// archived finds files in an archive, else under testdata.
func archived(a *txtar.Archive) script.Files {
	return func(name string) ([]byte, error) {
		for _, f := range a.Files {
			if f.Name == name {
				return f.Data, nil
			}
		}
		return os.ReadFile(filepath.Join("../../testdata", name))
	}
}
