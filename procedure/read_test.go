package procedure_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"pgregory.net/rapid"
)

const fewWords = `
materials: [steel, alloy]
roles:
  - role: body
    title: body
    attributes:
      - { name: length, form: length, how: measure it }
      - { name: thread, form: thread, how: gauge it }
      - { name: splines, form: choice, choices: [nine, eight], how: count them }
      - { name: teeth, form: count, how: count them }
      - { name: note, form: text, how: read it }
  - { role: ring, title: ring }
`

func someWords(t testing.TB) *procedure.Vocabulary {
	t.Helper()
	v, err := procedure.ReadVocabulary("words.yaml", []byte(fewWords))
	require.NoError(t, err)
	require.NoError(t, procedure.CheckVocabulary(v))
	return v
}

const soundSheet = `
build: b-1
label: a bike
invented: true
parts:
  - role: body
    material: alloy
    is: { length: 36.75 mm, thread: M30.6x1, splines: nine, teeth: 11, note: worn }
    printed:
      - { joint: some-joint, marking: 12-14 Nm, seen: printed, where: inside }
  - role: ring
    material: steel
`

// What a person may write, and what the sheet then has.
func TestSheetValuesAreBroughtToOneForm(t *testing.T) {
	for _, tc := range []struct{ name, old, new, key, want string }{
		{"length as it is", "36.75 mm", "36.75 mm", "body.length", "36.75 mm"},
		{"length without a space", "36.75 mm", "36.75mm", "body.length", "36.75 mm"},
		{"length with a comma", "36.75 mm", `"36,75 mm"`, "body.length", "36.75 mm"},
		{"length with needless zeros", "36.75 mm", "36.7500 mm", "body.length", "36.75 mm"},
		{"length in centimeters", "36.75 mm", "3.675 cm", "body.length", "36.75 mm"},
		{"length in inches", "36.75 mm", "1.37 in", "body.length", "34.798 mm"},
		{"thread as it is", "M30.6x1", "M30.6x1", "body.thread", "M30.6x1"},
		{"thread with a sign", "M30.6x1", "M30.6 × 1", "body.thread", "M30.6x1"},
		{"thread in inches", "M30.6x1", "1.37in x 24tpi left-hand", "body.thread", "1.37 in x 24 tpi LH"},
		{"thread with RH", "M30.6x1", "M6x1 RH", "body.thread", "M6x1"},
		{"count with zeros", "teeth: 11", `teeth: "011"`, "body.teeth", "11"},
		{"text with spaces", "note: worn", `note: "  worn "`, "body.note", "worn"},
		{"choice with spaces", "splines: nine", `splines: " nine"`, "body.splines", "nine"},
		{"material", "material: alloy", "material: alloy", "body.material", "alloy"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			require.Contains(t, soundSheet, tc.old)
			s, err := procedure.ReadSheet("s.yaml", []byte(strings.Replace(soundSheet, tc.old, tc.new, 1)), someWords(t))
			require.NoError(t, err)
			got, ok := s.Attribute(tc.key)
			require.True(t, ok)
			require.Equal(t, tc.want, got)
		})
	}
}

// Every refusal of a sheet, as a person sees it.
func TestSheetRefusals(t *testing.T) {
	for _, tc := range []struct{ name, old, new, want string }{
		{"unknown role", "role: ring", "role: rim",
			`s.yaml:11: parts[1].role: there is no role "rim" (did you mean ring?)`},
		{"role twice", "role: ring", "role: body",
			`s.yaml:11: parts[1].role: parts[0] is the body already: one part a role`},
		{"unknown material", "material: steel", "material: stel",
			`s.yaml:12: parts[1].material: material "stel" is not known (did you mean steel?): write one of steel, alloy`},
		{"no material", "    material: steel\n", "",
			`s.yaml:11: parts[1].material: say what the part is made of: one of steel, alloy`},
		{"unknown attribute", "teeth: 11", "tooth: 11",
			`s.yaml:8: parts[0].is.tooth: a body has no attribute "tooth" (did you mean teeth?)`},
		{"length without a unit", "36.75 mm", "36.75",
			`s.yaml:8: parts[0].is.length: write a length with its unit such as 36.75 mm, not "36.75"`},
		{"length of another thing", "36.75 mm", "36.75 m",
			`s.yaml:8: parts[0].is.length: a part of a bicycle is between 0 mm and 1 m here, not 36750 mm`},
		{"malformed thread", "M30.6x1", "thirty",
			`s.yaml:8: parts[0].is.thread: parse thread "thirty": not written as a thread: no pitch given; write it like "M6x1", "1.37 in x 24 tpi LH", "36 mm x 24 tpi" or "1/4-20"`},
		{"unknown choice", "splines: nine", "splines: nien",
			`s.yaml:8: parts[0].is.splines: splines "nien" is not known (did you mean nine?): write one of nine, eight`},
		{"malformed count", "teeth: 11", "teeth: 11.5",
			`s.yaml:8: parts[0].is.teeth: write a whole number such as 11, not "11.5"`},
		{"empty value", "note: worn", `note: " "`,
			`s.yaml:8: parts[0].is.note: nothing stands here: give a value or leave the key out`},
		{"unknown key", "label: a bike", "lable: a bike",
			`s.yaml:3: lable: there is no key "lable" here (did you mean label?)`},
		{"malformed build", "build: b-1", "build: B 1",
			`s.yaml:2: build: write lower-case letters, digits and hyphens, at most 63, not "B 1"`},
		{"figure from nowhere", "seen: printed", "seen: from-memory",
			`s.yaml:10: parts[0].printed[0].seen: write printed for a figure on the part, or manual for one in its manual`},
		{"figure without a place", `where: inside`, `where: " "`,
			`s.yaml:10: parts[0].printed[0].where: say where the figure was read, such as inside of the left arm`},
		{"figure without a joint", "joint: some-joint", "joint: Some Joint",
			`s.yaml:10: parts[0].printed[0].joint: name the row of the joint table that the figure is for, not "Some Joint"`},
		{"two mistakes at once", "length: 36.75 mm, thread: M30.6x1", "length: long, thrad: M30.6x1",
			`s.yaml:8: parts[0].is.length: write a length with its unit such as 36.75 mm, not "long"` + "\n" +
				`s.yaml:8: parts[0].is.thrad: a body has no attribute "thrad" (did you mean thread?)`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			require.Contains(t, soundSheet, tc.old)
			_, err := procedure.ReadSheet("s.yaml", []byte(strings.Replace(soundSheet, tc.old, tc.new, 1)), someWords(t))
			require.EqualError(t, err, tc.want)
		})
	}
}

// A marking that the torque package refuses is refused here with its place.
func TestSheetRefusesAnUnreadableMarking(t *testing.T) {
	_, err := procedure.ReadSheet("s.yaml", []byte(strings.Replace(soundSheet, "12-14 Nm", "hand tight", 1)), someWords(t))
	found := procedure.FieldErrors(err)
	require.Len(t, found, 1)
	require.Equal(t, "parts[0].printed[0].marking", found[0].Path)
	require.Equal(t, "malformed-marking", found[0].Rule)
	require.Equal(t, 10, found[0].Line)
}

// JSON is read like YAML, with its own escapes, tabs and line numbers.
func TestSheetFromJSON(t *testing.T) {
	const text = "{\n\t\"build\": \"b-1\",\n\t\"label\": \"a \\ud83d\\udeb2\",\n\t\"parts\": [{\"role\": \"body\", \"material\": \"alloy\", \"is\": {\"teeth\": 11}}]\n}"
	s, err := procedure.ReadSheet("s.json", []byte(text), someWords(t))
	require.NoError(t, err)
	require.Equal(t, "a 🚲", s.Label)
	teeth, _ := s.Attribute("body.teeth")
	require.Equal(t, "11", teeth)

	_, err = procedure.ReadSheet("s.json", []byte(strings.Replace(text, "alloy", "aloy", 1)), someWords(t))
	require.ErrorContains(t, err, `s.json:4: parts[0].material: material "aloy" is not known (did you mean alloy?)`)
	_, err = procedure.ReadSheet("s.json", []byte(strings.Replace(text, "\t\"label\"", "\t\"build\": \"b-2\",\n\t\"label\"", 1)), someWords(t))
	require.ErrorContains(t, err, `s.json:3: build: the key "build" stands here twice, first on line 2: keep one`)
	_, err = procedure.ReadSheet("s.json", []byte(strings.Repeat("[", 100)+strings.Repeat("]", 100)), someWords(t))
	require.ErrorContains(t, err, "nested deeper")
}

// A sheet that was read and written is the same sheet, and is written the same
// way again.
func TestSheetRoundTrip(t *testing.T) {
	s, err := procedure.ReadSheet("s.yaml", []byte(soundSheet), someWords(t))
	require.NoError(t, err)
	written, err := procedure.WriteSheet(s)
	require.NoError(t, err)
	again, err := procedure.ReadSheet("s.yaml", written, someWords(t))
	require.NoError(t, err)
	require.Equal(t, s, again)
	twice, err := procedure.WriteSheet(again)
	require.NoError(t, err)
	require.Equal(t, string(written), string(twice))
}

// Files that are none, or that would cost more than they are worth.
func TestFilesThatAreNotRead(t *testing.T) {
	bomb := "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"
	for _, tc := range []struct{ name, text, rule string }{
		{"nothing", "", "empty-file"},
		{"spaces", "  \n\n", "empty-file"},
		{"comment", "# nothing\n", "empty-file"},
		{"too large", strings.Repeat("#", procedure.MaxFileBytes+1), "too-large"},
		{"not UTF-8", "id: \xff\xfe\xfd", "malformed-yaml"},
		{"a list", "- id: x\n", "wrong-type"},
		{"a word", "procedure\n", "wrong-type"},
		{"aliases", bomb, "unknown-key"},
		{"alias of a known key", "title: &t x\nid: *t\n", "alias"},
		{"merge", "<<: {id: x}\n", "unknown-key"},
		{"key that is a list", "? [a]\n: b\n", "wrong-type"},
		{"null", "id: null\n", "empty-value"},
		{"null document", "~\n", "empty-value"},
		{"unclosed", "steps: [\n", "malformed-yaml"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := procedure.ReadDefinition("p.yaml", []byte(tc.text))
			found := procedure.FieldErrors(err)
			require.NotEmpty(t, found)
			require.Equal(t, tc.rule, found[0].Rule, err)
			require.Equal(t, "p.yaml", found[0].File)
		})
	}
}

// Every mistake of form comes at once.
func TestAllMistakesAtOnce(t *testing.T) {
	const text = "idd: x\ntitle: [a]\nedition: one\nrisk: bad\nsteps:\n  - torque: { passes: [1, two], bolt: A }\n"
	_, err := procedure.ReadDefinition("p.yaml", []byte(text))
	var got []string
	for _, fe := range procedure.FieldErrors(err) {
		got = append(got, fmt.Sprintf("%d %s %s", fe.Line, fe.Path, fe.Rule))
	}
	require.Equal(t, []string{
		"1 idd unknown-key", "2 title wrong-type", "3 edition wrong-type", "4 risk unknown-risk-class",
		"6 steps[0].torque.passes[1] wrong-type", "6 steps[0].torque.bolt unknown-key",
	}, got)
}

// What was read from the built-in files is written and read back unchanged.
func TestDefinitionRoundTrip(t *testing.T) {
	for _, name := range catalogueFiles(t) {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		list, err := procedure.ReadDefinitions(name, data)
		require.NoError(t, err)
		for _, d := range list {
			written, err := procedure.WriteDefinition(d)
			require.NoError(t, err)
			again, err := procedure.ReadDefinition(name, written)
			require.NoError(t, err)
			require.Equal(t, d, again)
		}
	}
}

func ExampleReadSheet() {
	vocab, err := procedure.ReadVocabulary("parts.yaml", []byte(fewWords))
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := procedure.ReadSheet("bike.yaml", []byte("parts:\n  - role: body\n    material: alloy\n    is: { length: 3.675 cm }\n"), vocab)
	if err != nil {
		fmt.Println(err)
		return
	}
	length, _ := s.Attribute("body.length")
	fmt.Println(length)

	_, err = procedure.ReadSheet("bike.yaml", []byte("parts:\n  - role: body\n    material: aloy\n    is: { lenght: 36.75 mm }\n"), vocab)
	fmt.Println(err)
	// Output:
	// 36.75 mm
	// bike.yaml:3: parts[0].material: material "aloy" is not known (did you mean alloy?): write one of steel, alloy
	// bike.yaml:4: parts[0].is.lenght: a body has no attribute "lenght" (did you mean length?)
}

// Whatever text stands in a definition, writing and reading gives it back.
func TestAnyTextIsWrittenAndReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
			"true", "null", "~", "1.50", "0x1F", "2025-03-03", "- a", "a: b", "#c", "%d", "@x", "`y`", "'", `"`, "{", "&a", "*a",
			"!t", "|", ">", "?", "a #b", "a:", " a", "a ", "a\nb", "a\r\nb", "\ta", "\u0085", "\u2028", "\ufeff", "\x00", "\x7f", "…", "N·m", "🚲", "<<", "=", "yes",
		})).Draw(t, "text")
		d := &procedure.Definition{Title: text, Roles: []string{text},
			Steps: []procedure.Step{{When: procedure.Condition{text: {text}}}}}
		written, err := procedure.WriteDefinition(d)
		require.NoError(t, err)
		again, err := procedure.ReadDefinition("p.yaml", written)
		require.NoError(t, err, string(written))
		require.Equal(t, d, again)
	})
}
