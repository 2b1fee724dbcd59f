package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/script"
)

// The small invented shop of these tests: its procedures, bike and rack, and
// scripts of work done there.
const shop = "testdata/shop"

// playShop plays a script of the shop on the pure domain and returns the
// builds that it audits, in order.
func playShop(name string) ([]*procedure.Build, error) {
	known, err := loadCatalogue(filepath.Join(shop, "catalogue"))
	if err != nil {
		return nil, err
	}
	var procedures []*procedure.Resolved
	for _, id := range known.IDs() {
		r, err := known.Resolve(id)
		if err != nil {
			return nil, err
		}
		procedures = append(procedures, r)
	}
	var builds []*procedure.Build
	bench := script.NewDomain(procedures, func(b *procedure.Build, _ audit.View) ([]script.Found, error) {
		builds = append(builds, b)
		return nil, nil
	})
	files := os.DirFS(shop)
	text, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, err
	}
	lines, err := script.Parse(string(text))
	if err != nil {
		return nil, err
	}
	player := script.NewPlayer(bench, known.Vocabulary, files)
	for _, line := range lines {
		if _, err := player.Play(line); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return builds, nil
}

// exported is the record of some builds as it is exported.
func exported(view audit.View, builds ...*procedure.Build) ([]byte, error) {
	var out bytes.Buffer
	w, err := newRecordWriter(&out)
	if err != nil {
		return nil, err
	}
	for _, t := range view.Tools {
		if err := w.tool(t); err != nil {
			return nil, err
		}
	}
	for _, r := range view.Ranks {
		if err := w.rank(r); err != nil {
			return nil, err
		}
	}
	for _, s := range view.Skills {
		if err := w.skills(s); err != nil {
			return nil, err
		}
	}
	for _, b := range builds {
		for _, j := range b.Jobs {
			if err := w.plan(j.Plan); err != nil {
				return nil, err
			}
		}
		for _, e := range b.Entries() {
			if err := w.entry(e); err != nil {
				return nil, err
			}
		}
	}
	return out.Bytes(), nil
}

// record NAME... writes the record of the shop's scripts to the file export.
func record(ts *testscript.TestScript, _ bool, args []string) {
	var builds []*procedure.Build
	for _, name := range args {
		played, err := playShop(name)
		ts.Check(err)
		builds = append(builds, played...)
	}
	data, err := exported(audit.View{}, builds...)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs("export"), data, 0o644))
}

func shopRecord(t testing.TB, names ...string) ([]byte, []*procedure.Build) {
	t.Helper()
	var builds []*procedure.Build
	for _, name := range names {
		played, err := playShop(name)
		require.NoError(t, err)
		builds = append(builds, played...)
	}
	data, err := exported(audit.View{}, builds...)
	require.NoError(t, err)
	return data, builds
}

// What is written is read back as the same builds, and written again as the
// same bytes.
func TestRecordRoundTrip(t *testing.T) {
	_, builds := shopRecord(t, "good.txt", "faulty.txt")
	rack, err := os.ReadFile(filepath.Join(shop, "rack.yaml"))
	require.NoError(t, err)
	tools, err := procedure.ReadTools("rack.yaml", rack)
	require.NoError(t, err)
	view := audit.View{Tools: tools, Ranks: []audit.RankSince{{Person: "ida", Rank: procedure.Foreman, Since: tools[0].Calibrations[0].At}},
		Skills: []audit.SkillsSince{
			{Person: "ida", Skills: &procedure.SkillRegister{Held: []procedure.HeldSkill{{Skill: "cranks", Proven: tools[0].Calibrations[0].At}}}, Since: tools[0].Calibrations[0].At},
			{Person: "ida", Since: tools[0].Calibrations[0].Due}}}
	data, err := exported(view, builds...)
	require.NoError(t, err)
	read, err := readRecord("export", bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, []string{"bike-1", "bike-2"}, read.builds)
	require.Equal(t, view.Tools, read.tools)
	require.Equal(t, view.Ranks, read.ranks)
	require.Equal(t, view.Skills, read.skills)
	var again []*procedure.Build
	for i, id := range read.builds {
		b, err := read.fold(id)
		require.NoError(t, err)
		require.Equal(t, builds[i].Entries(), b.Entries())
		again = append(again, b)
	}
	written, err := exported(view, again...)
	require.NoError(t, err)
	require.Equal(t, string(data), string(written))
}

// Registers of skills are written and read back, one that was given up too.
func TestSkillsInARecord(t *testing.T) {
	day := time.Date(2025, 1, 20, 0, 0, 0, 0, time.UTC)
	view := audit.View{Skills: []audit.SkillsSince{
		{Person: "ida", Skills: &procedure.SkillRegister{Held: []procedure.HeldSkill{{Skill: "cranks", Proven: day, Lapses: day.AddDate(1, 0, 0)}}}, Since: day},
		{Person: "ida", Since: day.AddDate(0, 1, 0)},
	}}
	data, err := exported(view)
	require.NoError(t, err)
	read, err := readRecord("export", bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, view.Skills, read.skills)
	_, err = readRecord("export", strings.NewReader(`{"type":"record","version":1}`+"\n"+`{"type":"skills"}`))
	require.ErrorContains(t, err, "a line has the type")
}

func TestRecordMistakes(t *testing.T) {
	data, _ := shopRecord(t, "good.txt")
	lines := strings.SplitAfter(string(data), "\n")
	for _, tt := range []struct{ name, text, says string }{
		{"nothing", "", "export: the file is empty"},
		{"other text", "hello\n", "export:1: this is no line of an exported record"},
		{"no first line", lines[1], "export:1: the first line of an exported record is"},
		{"newer version", `{"type":"record","version":2}` + "\n", "export:1: the record has version 2, this program reads version 1"},
		{"unknown line", lines[0] + `{"type":"photo"}` + "\n", `export:2: a line has the type record, tool, rank, skills, plan or entry and what belongs to it, not "photo"`},
		{"tool without an id", lines[0] + `{"type":"tool","tool":{"kind":"fixed","unit":"N.m","min":"5","max":"5"}}` + "\n", "export:2: id: write lower-case letters"},
		{"tool without a tool", lines[0] + `{"type":"tool"}` + "\n", "export:2: a line has the type"},
		{"plan changed", lines[0] + strings.Replace(lines[1], `"minutes":4`, `"minutes":5`, 1), "export:2: the plan is not the one that its digest names"},
		{"gap", lines[0] + lines[1] + lines[2] + lines[4], "export:4: build \"bike-1\": entry bike-1-entry-3 has sequence 3 where 2 comes next"},
		{"entry twice", lines[0] + lines[1] + lines[2] + lines[2], "has sequence 1 where 2 comes next"},
		{"no payload", lines[0] + `{"type":"entry","envelope":{}}` + "\n", "export:2: an entry has an envelope and a payload"},
		{"long line", lines[0] + strings.Repeat("x", maxRecordLine) + "\n", "export:2: the line is longer"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := readRecord("export", strings.NewReader(tt.text))
			require.ErrorContains(t, err, tt.says)
		})
	}
	t.Run("plan missing", func(t *testing.T) {
		read, err := readRecord("export", strings.NewReader(lines[0]+lines[2]))
		require.NoError(t, err)
		_, err = read.fold("bike-1")
		require.ErrorIs(t, err, procedure.ErrNotFound)
	})
	t.Run("blank lines and a mark", func(t *testing.T) {
		read, err := readRecord("export", strings.NewReader("\ufeff"+strings.ReplaceAll(string(data), "\n", "\r\n\r\n")))
		require.NoError(t, err)
		require.Len(t, read.entries["bike-1"], len(lines)-3)
	})
}

// Whatever comes in, reading ends with a record or one line that says why not,
// and a record folds or says why not.
func FuzzReadRecord(f *testing.F) {
	data, _ := shopRecord(f, "good.txt")
	f.Add(string(data))
	f.Add(`{"type":"record","version":1}` + "\n" + `{"type":"entry","envelope":{"build":"b","seq":1},"payload":{}}`)
	f.Fuzz(func(t *testing.T, text string) {
		read, err := readRecord("export", strings.NewReader(text))
		if err != nil {
			require.NotContains(t, printable(err.Error()), "\n")
			return
		}
		for _, id := range read.builds {
			if _, err := read.fold(id); err != nil {
				require.NotEmpty(t, err.Error())
			}
		}
	})
}
