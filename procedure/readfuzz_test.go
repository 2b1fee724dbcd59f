package procedure_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// catalogueFiles lists the built-in procedures.
func catalogueFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("catalogue/procedures/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

// Seeds are short on purpose: the fuzzer shortens whatever it finds
// interesting, and a whole procedure would keep it busy with that alone. The
// whole files have tests of their own.
func seed(f *testing.F, texts ...string) {
	f.Helper()
	for _, text := range texts {
		f.Add([]byte(text))
	}
}

// Whatever the file says, reading and checking it never panics, mistakes have
// a line, and what is accepted is written and read back unchanged.
func FuzzReadDefinition(f *testing.F) {
	seed(f,
		"id: x\nrisk: other\nedition: 1\nsource: { text: t, confidence: manual }\nallowance: none\n",
		"steps:\n- id: s\n  prep: { thread: [{ use: grease, why: w }] }\n  threads: [{ thread: M6x1 LH }]\n",
		"steps:\n- when: { body.splines: [nine] }\n  torque: { joints: [{ joint: cup }], passes: [50, 100], closing: true }\n",
		"steps:\n- checks: [{ kind: measure, min: 0.5, error: 1e3 }]\n  voids: [s, 'x/*']\n  due: release\n",
		`{"id": "x", "steps": [{"waits": [{"for": "1h", "longer": [{"below_celsius": 0}]}], "hold": {}}]}`,
		"skills: [{ id: a, needs: [a] }]\nafter: [x]\nfit: [body-length]\n",
		"a: &a [*a]\n", "do: >-\n  a\n  b\n", "do: |\n  a\n", "title: \"\\u0085\\x07\"\n",
	)
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
	seed(f,
		"build: b-1\nparts: [{ role: body, material: steel }]\n",
		"parts: [{ role: body, material: alloy, is: { length: 36.75 mm, teeth: 11 } }]\n",
		"parts: [{ role: body, material: alloy, is: { thread: M6x1 LH, splines: nine, note: w } }]\n",
		"parts:\n- role: ring\n  material: steel\n  printed: [{ joint: cup, marking: 5 Nm, seen: manual, where: w }]\n",
		`{"label": "\ud83d", "parts": [{"role": "body", "material": "steel", "is": {"note": "\u0000"}}]}`,
	)
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
	seed(f, "- { id: x, thread: M6x1, window: 1-2 Nm, aim: 3 Nm }\n", "- { id: x, thread_from: body.thread, limits: [body] }\n")
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
	seed(f, "materials: [steel]\nroles: [{ role: r, title: t, attributes: [{ name: n, form: choice, choices: [a] }] }]\n")
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
	seed(f, "- { id: a, title: t, needs: [b], hours: 2.5 }\n- { id: b, needs: [a] }\n")
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := procedure.ReadSkills("k.yaml", data)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		_ = procedure.CheckSkills(list)
	})
}
