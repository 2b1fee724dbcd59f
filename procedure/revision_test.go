package procedure_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

const orderly = `id: a-job
title: A job
edition: 1
risk: other
steps:
  - id: one
    title: One
    when: { body.splines: [nine], body.teeth: ["11"] }
    voids: [two]
    torque: { joints: [{ joint: pinch }], bolts: [A], passes: [100] }
  - { id: two, title: Two }
`

// The same content in another layout: other order of keys, comments, quotes,
// flow and block style, empty values left out or written.
const shuffled = `# a comment
edition: 1
risk: "other"
title: >-
  A
  job
cautions: []
id: a-job   # another
steps:
- title: 'One'
  torque:
    passes: [100]
    bolts:
      - A
    joints:
      - joint: pinch
  voids: [two]
  when:
    body.teeth: [11]
    body.splines: [nine]
  id: one
- title: Two
  id: two
  rework: []
`

func revisionOf(t testing.TB, text string, table []procedure.JointRow) procedure.Revision {
	t.Helper()
	d, err := procedure.ReadDefinition("p.yaml", []byte(text))
	require.NoError(t, err)
	r, err := procedure.Resolve(d, table)
	require.NoError(t, err)
	return r.Revision
}

func TestRevisionDoesNotDependOnLayout(t *testing.T) {
	want := revisionOf(t, orderly, jointTable())
	require.Equal(t, want, revisionOf(t, shuffled, jointTable()))
	asJSON := `{"steps":[{"voids":["two"],"when":{"body.teeth":["11"],"body.splines":["nine"]},"id":"one","title":"One",
		"torque":{"joints":[{"joint":"pinch"}],"bolts":["A"],"passes":[100]}},{"id":"two","title":"Two"}],
		"risk":"other","edition":1,"title":"A job","id":"a-job"}`
	require.Equal(t, want, revisionOf(t, asJSON, jointTable()))
	for range 20 { // maps come in another order each time
		require.Equal(t, want, revisionOf(t, orderly, jointTable()))
	}
}

func TestRevisionDependsOnContent(t *testing.T) {
	want := revisionOf(t, orderly, jointTable())
	seen := map[procedure.Revision]string{want: "as it was"}
	for _, tc := range []struct{ name, old, new string }{
		{"word", "title: A job", "title: A task"},
		{"void edge", "    voids: [two]\n", ""},
		{"condition", "splines: [nine]", "splines: [eight]"},
		{"pass", "passes: [100]", "passes: [50, 100]"},
		{"order of steps", "  - { id: two, title: Two }\n", "  - { id: three, title: Three }\n  - { id: two, title: Two }\n"},
		{"edition", "edition: 1", "edition: 2"},
	} {
		got := revisionOf(t, strings.Replace(orderly, tc.old, tc.new, 1), jointTable())
		require.Empty(t, seen[got], tc.name)
		seen[got] = tc.name
	}
}

// A changed row of the joint table is another revision for the procedures that
// use it, and the same for all others.
func TestRevisionCoversItsJointRows(t *testing.T) {
	want := revisionOf(t, orderly, jointTable())
	table := jointTable()
	table[0].Window = "36 N·m to 44 N·m" // not used by this job
	require.Equal(t, want, revisionOf(t, orderly, table))
	table[1].Window = "12 N·m to 13 N·m"
	require.NotEqual(t, want, revisionOf(t, orderly, table))
	table = jointTable()
	table[0], table[1] = table[1], table[0]
	require.Equal(t, want, revisionOf(t, orderly, table))
}

// The revision is the SHA-256 (FIPS 180-4, by the standard library) of
// Canonical, which is JSON with sorted keys and nothing empty.
func TestCanonical(t *testing.T) {
	d, err := procedure.ReadDefinition("p.yaml", []byte(orderly))
	require.NoError(t, err)
	r, err := procedure.Resolve(d, jointTable())
	require.NoError(t, err)
	data, err := r.Canonical()
	require.NoError(t, err)
	require.Equal(t, procedure.Revision(sha256.Sum256(data)), r.Revision)
	require.True(t, json.Valid(data))
	require.Contains(t, string(data), `"when":{"body.splines":["nine"],"body.teeth":["11"]}`)
	for _, never := range []string{"null", `""`, "[]", "{}", "\n", ": "} {
		require.NotContains(t, strings.ReplaceAll(string(data), "N·m to", ""), never)
	}
	// What a resolved procedure is stored as gives the same revision again.
	stored, err := json.Marshal(r)
	require.NoError(t, err)
	var back procedure.Resolved
	require.NoError(t, json.Unmarshal(stored, &back))
	again, err := back.Canonical()
	require.NoError(t, err)
	require.Equal(t, string(data), string(again))
	require.Equal(t, r.Revision, back.Revision)
}

func TestResolveReportsMissingRows(t *testing.T) {
	d, err := procedure.ReadDefinition("p.yaml", []byte(strings.Replace(orderly, "joint: pinch", "joint: pimch", 1)))
	require.NoError(t, err)
	_, err = procedure.Resolve(d, jointTable())
	require.EqualError(t, err, `steps[0].torque.joints[0].joint: the joint table has no row "pimch" (did you mean pinch?)`)
	_, err = procedure.Resolve(d, append(jointTable(), jointTable()...))
	require.ErrorContains(t, err, `the joint table has "cup" twice`)
}

func TestResolvedLookups(t *testing.T) {
	d, err := procedure.ReadDefinition("p.yaml", []byte(orderly))
	require.NoError(t, err)
	r, err := procedure.Resolve(d, jointTable())
	require.NoError(t, err)
	row, ok := r.Joint("pinch")
	require.True(t, ok)
	require.Equal(t, "M6x1", row.Thread)
	_, ok = r.Joint("cup")
	require.False(t, ok, "a row that no step uses")
	s, at, ok := r.Step("two")
	require.True(t, ok)
	require.Equal(t, 1, at)
	require.Equal(t, "Two", s.Title)
	_, _, ok = r.Step("three")
	require.False(t, ok)
}

func TestRevisionText(t *testing.T) {
	r := procedure.Revision(sha256.Sum256(nil))
	// SHA-256 of nothing, as published in FIPS 180-4 example files.
	require.Equal(t, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", r.String())
	require.Equal(t, "e3b0c44298fc", r.Short())
	back, err := procedure.ParseRevision(r.String())
	require.NoError(t, err)
	require.Equal(t, r, back)
	require.False(t, r.IsZero())
	require.True(t, procedure.Revision{}.IsZero())
	for _, text := range []string{"", "e3b0c44298fc", strings.ToUpper(r.String()), r.String() + "00", strings.Repeat("g", 64)} {
		_, err := procedure.ParseRevision(text)
		require.Error(t, err, text)
	}
}

func BenchmarkReadAndResolve(b *testing.B) {
	b.ReportAllocs()
	data, err := os.ReadFile("catalogue/procedures/pedals.yaml")
	require.NoError(b, err)
	rows, err := os.ReadFile("catalogue/joints/drive.yaml")
	require.NoError(b, err)
	table, err := procedure.ReadJoints("drive.yaml", rows)
	require.NoError(b, err)
	for b.Loop() {
		d, err := procedure.ReadDefinition("pedals.yaml", data)
		require.NoError(b, err)
		_, err = procedure.Resolve(d, table)
		require.NoError(b, err)
	}
}

func ExampleResolve() {
	d, err := procedure.ReadDefinition("a-job.yaml", []byte(orderly))
	if err != nil {
		fmt.Println(err)
		return
	}
	table := []procedure.JointRow{{ID: "pinch", Title: "pinch bolt", Thread: "M6x1", Window: "12 N·m to 14 N·m"}}
	r, err := procedure.Resolve(d, table)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.ID, len(r.Joints), len(r.Revision.Short()))
	// Output: a-job 1 12
}
