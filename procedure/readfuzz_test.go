package procedure_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// catalogueFiles lists the built-in procedures.
func catalogueFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("catalogue/*.yaml")
	require.NoError(t, err)
	files = slices.DeleteFunc(files, func(f string) bool {
		base := filepath.Base(f)
		return base == "parts.yaml" || base == "joints.yaml" || base == "skills.yaml"
	})
	require.NotEmpty(t, files)
	return files
}

func seed(f *testing.F, files ...string) {
	f.Helper()
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(data)
	}
}

// Whatever the file says, reading and checking it never panics, mistakes have
// a line, and what is accepted is written and read back unchanged.
func FuzzReadDefinition(f *testing.F) {
	seed(f, catalogueFiles(f)...)
	seed(f, "catalogue/testdata/small-job.yaml")
	f.Add([]byte(`{"id": "x", "steps": [{"id": "s", "waits": [{"for": "1h", "longer": [{"below_celsius": 0}]}], "hold": {}}]}`))
	f.Add([]byte("a: &a [*a]\n"))
	vocab := someWords(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := procedure.ReadDefinition("p.yaml", data)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		written, err := procedure.WriteDefinition(d)
		require.NoError(t, err)
		again, err := procedure.ReadDefinition("p.yaml", written)
		require.NoError(t, err, string(written))
		require.Equal(t, d, again)
		if err := procedure.CheckDefinition(d, jointTable(), vocab, nil); err != nil {
			require.Len(t, procedure.FieldErrors(procedure.Locate(err, "p.yaml", data)), len(procedure.FieldErrors(err)))
		}
	})
}

func FuzzReadSheet(f *testing.F) {
	files, err := filepath.Glob("../testdata/sheets/*.yaml")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	seed(f, files...)
	f.Add([]byte(soundSheet))
	f.Add([]byte(`{"parts": [{"role": "body", "material": "steel", "is": {"note": "\u0000", "teeth": 1e3}}]}`))
	vocab := someWords(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := procedure.ReadSheet("s.yaml", data, vocab)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		written, err := procedure.WriteSheet(s)
		require.NoError(t, err)
		again, err := procedure.ReadSheet("s.yaml", written, vocab)
		require.NoError(t, err, string(written))
		require.Equal(t, s, again)
	})
}

func FuzzReadJoints(f *testing.F) {
	seed(f, "catalogue/joints.yaml")
	f.Add([]byte("- { id: x, thread: M6x1, window: 1-2 Nm, aim: 3 Nm }\n"))
	vocab := someWords(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := procedure.ReadJoints("j.yaml", data)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		_ = procedure.CheckJoints(rows, vocab)
	})
}

func FuzzReadVocabulary(f *testing.F) {
	seed(f, "catalogue/parts.yaml")
	f.Add([]byte(fewWords))
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := procedure.ReadVocabulary("v.yaml", data)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		_ = procedure.CheckVocabulary(v)
	})
}

func FuzzReadSkills(f *testing.F) {
	seed(f, "catalogue/skills.yaml")
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := procedure.ReadSkills("k.yaml", data)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		_ = procedure.CheckSkills(list)
	})
}
