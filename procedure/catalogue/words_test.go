package catalogue_test

import (
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// A capital inside a sentence, or letters and digits run together, is what a
// name or a model code looks like. Parts go by dimensions here, so only these
// may stand in the texts.
func allowedShapes() []string {
	return []string{
		"A", "B", "C", "D", "R", "L", "M", "LH", "RH", // bolts, marks, hands of threads
		"N", "N·m", "Nm", // units
		"ISO", "EN", "DIN", "CFR", "TBIS", // standards bodies and collections of rules
	}
}

// standards are the forms in which a document is cited, with edition and
// clause. They are taken out before texts are searched.
var standards = regexp.MustCompile(`\b(?:DIN )?(?:EN )?(?:ISO)(?:/T[SR])? [0-9]+(?:-[0-9]+)*(?::[0-9]{4})?|\b[0-9]+ CFR [0-9.()a-z]+|\bTBIS [0-9]+(?::[0-9]{4})?`)

// dimensions are threads, valves and bores by their size.
var dimensions = regexp.MustCompile(`\bM[0-9.]+(?:x[0-9.]+)?\b`)

var (
	comment      = regexp.MustCompile(`(?m)^\s*#.*$|\s#\s.*$`)
	innerCapital = regexp.MustCompile(`[\pL,;:0-9)'’] ["'(]?(\p{Lu}[\pL·-]*)`)
	modelCode    = regexp.MustCompile(`\b(?:\p{Lu}{2,}[0-9]+[\pL0-9]*|\p{Lu}+-[0-9]+\p{Lu}*|\p{Lu}[0-9]{2,}\p{L}*|[0-9]+\p{Lu}{2,}|\p{Ll}+\p{Lu}\pL*)\b`)
	marks        = regexp.MustCompile(`[®™©℠]`)
	textKey      = regexp.MustCompile(`(?m)^\s*(?:- )?\{?\s*[a-z_]+: `)
	sentenceKey  = regexp.MustCompile(`[{,] ?[a-z_]+: ["']?`)
)

// forbidden lists what looks like a name or a model code in a file.
func forbidden(text string) []string {
	text = comment.ReplaceAllString(text, "")
	text = dimensions.ReplaceAllString(standards.ReplaceAllString(text, "standard"), "thread")
	text = strings.ReplaceAll(text, "\u00a0", " ")
	var out []string
	for _, line := range strings.Split(text, "\n") {
		for _, m := range innerCapital.FindAllStringSubmatchIndex(line, -1) {
			word := line[m[2]:m[3]]
			if !beginsText(line[:m[2]]) && !slices.Contains(allowedShapes(), word) {
				out = append(out, fmt.Sprintf("%q looks like a name in: %s", word, strings.TrimSpace(line)))
			}
		}
		for _, code := range modelCode.FindAllString(line, -1) {
			out = append(out, fmt.Sprintf("%q looks like a model code in: %s", code, strings.TrimSpace(line)))
		}
		if m := marks.FindString(line); m != "" {
			out = append(out, fmt.Sprintf("%q marks a name in: %s", m, strings.TrimSpace(line)))
		}
	}
	return out
}

// beginsText reports whether what stands before a word is a key or an opening
// quote after one, so that the word begins a text.
func beginsText(before string) bool {
	before = strings.TrimRight(before, `"'`)
	keys := append(textKey.FindAllStringIndex(before, -1), sentenceKey.FindAllStringIndex(before, -1)...)
	return slices.ContainsFunc(keys, func(at []int) bool { return at[1] >= len(before) })
}

// texts returns every text file that a catalogue or a bench is made from.
func texts(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, name := range builtInFiles(t) {
		data, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		out[name] = string(data)
	}
	for _, name := range schemaFiles() {
		data, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		require.Empty(t, marks.FindString(string(data)), name)
	}
	for _, file := range sheetFiles(t) {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		out[file] = string(data)
	}
	return out
}

func TestNoNamesInTheCatalogue(t *testing.T) {
	all := texts(t)
	for _, folder := range []string{catalogue.ProceduresFolder, catalogue.JointsFolder, catalogue.PartsFolder, catalogue.ContactsFolder} {
		require.True(t, slices.ContainsFunc(keys(all), func(name string) bool { return strings.HasPrefix(name, folder+"/") }), folder)
	}
	for _, name := range keys(all) {
		require.Empty(t, forbidden(all[name]), name)
	}
}

func keys(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// The scan bites: a planted name or code is found in every kind of file, in a
// long text, a short one, a quoted one and a title.
func TestPlantedNamesAreFound(t *testing.T) {
	for _, tc := range []struct{ name, file, old, with string }{
		{"name in a folded text", "procedures/pedals.yaml", "Fits both pedals", "Fits both Acme pedals"},
		{"name in a quoted question", "procedures/pedals.yaml", "Is the pedal on the right side", "Is the Acme pedal on the right side"},
		{"name in a note", "joints/drive.yaml", "note: the serrations", "note: the Acme serrations"},
		{"name in a location", "joints/drive.yaml", "outer end of a 9-spline body", "outer end of an Acme body"},
		{"name of an interface", "parts/drive.yaml", "how: measure across", "how: as on a TurboLock, measure across"},
		{"name in a reason", "contacts/drive.yaml", "Sprockets on titanium", "Sprockets by Acme on titanium"},
		{"name in a skill", "skills.yaml", "title: ", "title: the Acme "},
		{"name behind a comma", "procedures/pedals.yaml", "lint-free cloth", "lint-free cloth, Acme paste"},
		{"model code", "procedures/pedals.yaml", "Fits both pedals", "Fits both XT8000 pedals"},
		{"model code with a hyphen", "joints/drive.yaml", "note: the serrations", "note: the FC-9000 serrations"},
		{"code that begins with digits", "joints/drive.yaml", "note: the serrations", "note: the 12XG serrations"},
		{"one letter and digits", "parts/drive.yaml", "how: measure across", "how: as on a R9100 body, measure across"},
		{"capital inside a word", "contacts/drive.yaml", "Sprockets on titanium", "Sprockets on microSpline titanium"},
		{"mark of a name", "procedures/pedals.yaml", "Fits both pedals", "Fits both pedals®"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			text := texts(t)[tc.file]
			require.Empty(t, forbidden(text))
			require.Contains(t, text, tc.old)
			require.NotEmpty(t, forbidden(strings.Replace(text, tc.old, tc.with, 1)))
		})
	}
}
