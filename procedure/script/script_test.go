package script_test

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
	"github.com/tightwright/tightwright/testdata/week"
)

var update = flag.Bool("update", false, "write what the bench answers into the scripts")

const data = "../../testdata"

// TestTheWeek plays the invented week on the pure domain, its scripts in order
// and on one bench. The server plays the same files and must answer the same.
func TestTheWeek(t *testing.T) {
	folder := os.DirFS(filepath.Join(data, "week"))
	p := newPlayer(t, folder)
	for _, name := range week.Scripts() {
		text, err := fs.ReadFile(folder, name)
		require.NoError(t, err)
		got := playOn(t, p, string(text))
		if *update {
			require.NoError(t, os.WriteFile(filepath.Join(data, "week", name), []byte(got), 0o644))
			continue
		}
		require.Equal(t, string(text), got, name)
	}
}

// TestRuns plays every script of the runs, each an archive of a script and
// the files it names.
func TestRuns(t *testing.T) {
	runs, err := filepath.Glob(filepath.Join(data, "runs", "bench_*.txtar"))
	require.NoError(t, err)
	require.NotEmpty(t, runs)
	for _, file := range runs {
		t.Run(filepath.Base(file), func(t *testing.T) {
			a, err := txtar.ParseFile(file)
			require.NoError(t, err)
			got := play(t, string(a.Comment), archive(a))
			if *update {
				a.Comment = []byte(got)
				require.NoError(t, os.WriteFile(file, txtar.Format(a), 0o644))
				return
			}
			require.Equal(t, string(a.Comment), got)
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

// archive finds files in an archive, else under testdata.
func archive(a *txtar.Archive) fs.FS {
	files := fstest.MapFS{}
	for _, f := range a.Files {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return overlay{files, os.DirFS(data)}
}

// play returns the script with what a bench of its own answered.
func play(t testing.TB, text string, files fs.FS) string {
	t.Helper()
	return playOn(t, newPlayer(t, files), text)
}

// newPlayer is a player on a new bench of the pure domain.
func newPlayer(t testing.TB, files fs.FS) *script.Player {
	t.Helper()
	c, err := catalogue.Load()
	require.NoError(t, err)
	var resolved []*procedure.Resolved
	for _, d := range c.Definitions {
		r, err := procedure.Resolve(d, c.Joints)
		require.NoError(t, err)
		resolved = append(resolved, r)
	}
	return script.NewPlayer(script.NewDomain(resolved, auditBuild), c.Vocabulary, files)
}

// playOn returns the script with what the bench of the player answered.
func playOn(t testing.TB, p *script.Player, text string) string {
	t.Helper()
	lines, err := script.Parse(text)
	require.NoError(t, err)
	var out strings.Builder
	for _, l := range lines {
		answer, err := p.Play(l)
		require.NoError(t, err)
		out.WriteString(script.Format(l, answer))
	}
	return out.String()
}
