package script_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
)

var update = flag.Bool("update", false, "write what the bench answers into the scripts")

const data = "../../testdata"

// TestTheWeek plays the invented week on the pure domain. The server plays
// the same file and must answer the same.
func TestTheWeek(t *testing.T) {
	file := filepath.Join(data, "week", "week.txt")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	files := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(data, "week", name)) }
	got := play(t, string(text), files)
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
		return
	}
	require.Equal(t, string(text), got)
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

func archive(a *txtar.Archive) script.Files {
	return func(name string) ([]byte, error) {
		for _, f := range a.Files {
			if f.Name == name {
				return f.Data, nil
			}
		}
		return os.ReadFile(filepath.Join(data, name))
	}
}

// play returns the script with what the bench answered.
func play(t testing.TB, text string, files script.Files) string {
	t.Helper()
	c, err := catalogue.Load()
	require.NoError(t, err)
	var resolved []*procedure.Resolved
	for _, d := range c.Definitions {
		r, err := procedure.Resolve(d, c.Joints)
		require.NoError(t, err)
		resolved = append(resolved, r)
	}
	lines, err := script.Parse(text)
	require.NoError(t, err)
	p := script.NewPlayer(script.NewDomain(resolved, auditBuild), c.Vocabulary, files)
	var out strings.Builder
	for _, l := range lines {
		answer, err := p.Play(l)
		require.NoError(t, err)
		out.WriteString(script.Format(l, answer))
	}
	return out.String()
}
