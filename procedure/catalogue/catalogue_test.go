package catalogue_test

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/fit"
)

func TestLoad(t *testing.T) {
	c := load(t)
	require.Equal(t, []string{
		"bottom-bracket-threaded", "cassette-splined-body", "chain-joining", "chain-lube",
		"crank-self-extracting", "crank-square-taper", "crank-two-pinch-bolts",
		"disc-caliper-front", "disc-caliper-rear", "final-check", "front-derailleur", "handlebar", "levers", "open-job",
		"pedals", "rear-derailleur", "rim-brake-front", "rim-brake-rear", "rotor-front", "rotor-rear", "saddle", "seatpost",
		"stem-on-steerer", "thru-axle-front", "thru-axle-rear", "wheel-in-slots-front", "wheel-in-slots-rear",
		"wheel-tension-front", "wheel-tension-rear",
	}, c.IDs())
	files := map[string]bool{}
	for _, name := range builtInFiles(t) {
		files[name] = true
	}
	procedures := 0
	for name := range files {
		if strings.HasPrefix(name, catalogue.ProceduresFolder+"/") {
			procedures++
		}
	}
	require.Equal(t, 23, procedures)
	d, ok := c.Definition("pedals")
	require.True(t, ok)
	require.Equal(t, "Pedals", d.Title)
	_, ok = c.Definition("pedal")
	require.False(t, ok)
	_, ok = c.Joint("crank-pinch-bolt-m6")
	require.True(t, ok)
	_, ok = c.Joint("crank-pinch-bolt")
	require.False(t, ok)
	_, err := c.Resolve("pedal")
	require.ErrorIs(t, err, catalogue.ErrUnknown)
}

// Every procedure resolves, and no two have one revision.
func TestEveryProcedureResolves(t *testing.T) {
	c := load(t)
	seen := map[procedure.Revision]string{}
	for _, id := range c.IDs() {
		r, err := c.Resolve(id)
		require.NoError(t, err)
		tightens := slices.ContainsFunc(r.Steps, func(s procedure.Step) bool { return s.Torque != nil })
		require.Equal(t, tightens, len(r.Joints) > 0, id)
		require.Empty(t, seen[r.Revision])
		seen[r.Revision] = id
	}
}

// The table is large enough for a whole bike, and every row of it says where it
// comes from.
func TestJointTableCoversTheBike(t *testing.T) {
	rows := map[string]bool{}
	for _, row := range load(t).Joints {
		id := row.ID
		for _, place := range row.Places {
			id = strings.TrimSuffix(id, "-"+place)
		}
		rows[id] = true
		require.NotEmpty(t, row.Source.Text, row.ID)
		require.NotZero(t, row.Source.Confidence, row.ID)
	}
	require.GreaterOrEqual(t, len(rows), 110)
}

// A procedure carries the skills it names and what these build on, in the
// order of the list.
func TestSkillsComeWithWhatTheyBuildOn(t *testing.T) {
	d, _ := load(t).Definition("pedals")
	var ids []string
	for _, s := range d.Skills {
		ids = append(ids, s.ID)
	}
	require.Equal(t, []string{"clean-bay", "job-card", "measuring", "threads", "torque-basics", "thread-prep", "pedals"}, ids)
}

// The vocabulary knows the words that the fit rules answer to, and has every
// attribute they need.
func TestVocabularySpeaksTheWordsOfTheFitRules(t *testing.T) {
	v := load(t).Vocabulary
	var patterns []string
	for _, d := range fit.DriveInterfaces() {
		patterns = append(patterns, d.ID)
	}
	for _, key := range []string{"freehub-body.splines", "cassette.splines"} {
		a, ok := v.Attribute(key)
		require.True(t, ok, key)
		require.ElementsMatch(t, patterns, a.Choices, key)
	}
	a, ok := v.Attribute("crankset.spindle_kind")
	require.True(t, ok)
	require.ElementsMatch(t, fit.Spindles(), a.Choices)
	for _, d := range load(t).Definitions {
		for _, rule := range d.Fit {
			needs, may, _, ok := procedure.FitRuleUses(rule)
			require.True(t, ok, rule)
			for _, key := range append(needs, may...) {
				_, ok := v.Attribute(key)
				require.True(t, ok, "%s needs %s", rule, key)
			}
		}
	}
}

// files returns the built-in files for a test to break.
func files(t testing.TB) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for _, name := range builtInFiles(t) {
		data, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		out[name] = &fstest.MapFile{Data: data}
	}
	return out
}

// builtInFiles lists the YAML of the catalogue.
func builtInFiles(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"*.yaml", "*/*.yaml"} {
		names, err := fs.Glob(catalogue.FS(), pattern)
		require.NoError(t, err)
		out = append(out, names...)
	}
	return out
}

func replace(t testing.TB, m fstest.MapFS, name, old, with string) {
	t.Helper()
	text := string(m[name].Data)
	require.Contains(t, text, old)
	m[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, old, with, 1))}
}

// Mistakes in several files come together, each with file and line.
func TestLoadReportsAllFilesAtOnce(t *testing.T) {
	m := files(t)
	replace(t, m, "procedures/pedals.yaml", "passes: [100]", "passes: [90]")
	replace(t, m, "procedures/crank-square-taper.yaml", "joint: square-taper-bolt-right-m8x1", "joint: square-taper-bolt-rigth-m8x1")
	_, err := catalogue.LoadLayers(catalogue.Layer{Name: "test", Files: m})
	found := procedure.FieldErrors(err)
	require.Len(t, found, 2)
	require.Equal(t, "procedures/crank-square-taper.yaml", found[0].File)
	require.Equal(t, "unknown-joint", found[0].Rule)
	require.Contains(t, found[0].Text, "did you mean square-taper-bolt-right-m8x1?")
	require.Equal(t, "procedures/pedals.yaml", found[1].File)
	require.Equal(t, "not-rising-to-100", found[1].Rule)
	for _, f := range found {
		lines := strings.Split(string(m[f.File].Data), "\n")
		require.Regexp(t, `passes: \[90\]|rigth`, lines[f.Line-1])
	}
}

func TestLoadRefuses(t *testing.T) {
	for _, tc := range []struct {
		name, file, old, with string
		rule                  string
	}{
		{"aim outside the window", "joints/drive.yaml", "aim: 13 N·m", "aim: 15 N·m", "outside-window"},
		{"window that cannot be read", "joints/drive.yaml", "window: 12 N·m to 14 N·m", "window: about 13", "malformed-window"},
		{"reversed window", "joints/drive.yaml", "window: 12 N·m to 14 N·m", "window: 14 N·m to 12 N·m", "malformed-window"},
		{"aim without a window", "joints/drive.yaml", "  window: 12 N·m to 14 N·m\n", "", "no-window"},
		{"row id twice", "joints/drive.yaml", "id: crank-preload-cap", "id: crank-pinch-bolt-m6", "duplicate-id"},
		{"row without a prep", "joints/drive.yaml", "  thread_prep: grease\n", "", "missing"},
		{"row without a thread", "joints/drive.yaml", "  thread: M6x1\n", "", "missing"},
		{"unknown role in limits", "joints/drive.yaml", "limits: [crank-arm-left]", "limits: [crank-arm]", "unknown-role"},
		{"unknown form", "parts/drive.yaml", "form: length", "form: width", "unknown-form"},
		{"role twice", "parts/drive.yaml", "role: cassette-lockring", "role: cassette", "duplicate-id"},
		{"choice without choices", "parts/drive.yaml", "        choices: [carrier, individual]\n", "", "missing"},
		{"skills in a circle", "skills.yaml", "needs: [clean-bay]", "needs: [cranks]", "circular-needs"},
		{"unknown need", "skills.yaml", "needs: [clean-bay]", "needs: [clean-bench]", "unknown-skill"},
		{"file not named after its id", "procedures/pedals.yaml", "id: pedals", "id: pedal", "not-the-file"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := files(t)
			replace(t, m, tc.file, tc.old, tc.with)
			_, err := catalogue.LoadLayers(catalogue.Layer{Name: "test", Files: m})
			found := procedure.FieldErrors(err)
			require.NotEmpty(t, found)
			require.Equal(t, tc.rule, found[0].Rule, err)
			require.Equal(t, tc.file, found[0].File)
			require.Positive(t, found[0].Line)
		})
	}
}

func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, err := catalogue.Load()
		require.NoError(b, err)
	}
}

func ExampleLoad() {
	c, err := catalogue.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	d, _ := c.Definition("pedals")
	fmt.Printf("%s: %d steps, %v\n", d.Title, len(d.Steps), d.Risk)
	// Output: Pedals: 8 steps, safety-critical
}

func ExampleCatalogue_Resolve() {
	c, err := catalogue.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := c.Resolve("crank-two-pinch-bolts")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range r.Joints {
		fmt.Printf("%s: %s\n", row.Title, row.Window)
	}
	// Output:
	// crank pinch bolt: 12 N·m to 14 N·m
	// crank preload cap: 0.4 N·m to 0.7 N·m
}
