package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
	"github.com/tightwright/tightwright/testdata/week"
)

// TestDemoAnswersAsTheDomain plays the invented week through gRPC. The file
// holds what the pure domain answered; the server answers the same.
func TestDemoAnswersAsTheDomain(t *testing.T) {
	var out, errOut bytes.Buffer
	record := filepath.Join(t.TempDir(), "week.record.jsonl")
	require.Zero(t, run([]string{"demo", "--record", record}, nil, &out, &errOut), errOut.String())
	want, err := week.Text(os.DirFS("../../testdata/week"))
	require.NoError(t, err)
	require.Equal(t, demoNotice+want, out.String())

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
			err = withDemo(t.Context(), func(d demoServer) error {
				p := script.NewPlayer(newWireBench(t.Context(), d.conn, d.hall), all.Vocabulary, archived(a))
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

// overlay looks for a file in the first file system, else in the second.
type overlay struct{ first, second fs.FS }

func (o overlay) Open(name string) (fs.File, error) {
	if f, err := o.first.Open(name); err == nil {
		return f, nil
	}
	return o.second.Open(name)
}

// archived finds files in an archive, else under testdata.
func archived(a *txtar.Archive) fs.FS {
	files := fstest.MapFS{}
	for _, f := range a.Files {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return overlay{files, os.DirFS("../../testdata")}
}
