package main

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
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
	requireBothTimes(t, record)
}

// requireBothTimes looks at what a tablet without a network delivered later: 16
// facts and a signature, each with the time of the tablet, whose clock was seven
// minutes fast, and with that of the server. Put right by the measured offset the
// first was at 12:04 and the last at 12:21.
func requireBothTimes(t *testing.T, record string) {
	t.Helper()
	data, err := os.ReadFile(record)
	require.NoError(t, err)
	var told []string
	for _, line := range bytes.Split(bytes.TrimSpace(data), []byte("\n")) {
		var e struct {
			Type     string
			Envelope procedure.Envelope
		}
		require.NoError(t, json.Unmarshal(line, &e))
		m := e.Envelope.Moment
		if e.Type != "entry" || m.Tablet != "bay-2" || m.TabletUS == 0 || m.ServerUS-m.TabletUS < (10*time.Minute).Microseconds() {
			continue
		}
		require.Equal(t, "b-06", e.Envelope.Build)
		require.NotNil(t, m.OffsetUS)
		require.Equal(t, -(7 * time.Minute).Microseconds(), *m.OffsetUS)
		require.Equal(t, "13:30", time.UnixMicro(m.ServerUS).UTC().Format("15:04"))
		told = append(told, time.UnixMicro(m.TabletUS+*m.OffsetUS).UTC().Format("15:04"))
	}
	require.Len(t, told, 17)
	require.Equal(t, []string{"12:04", "12:21"}, []string{told[0], told[16]})
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
