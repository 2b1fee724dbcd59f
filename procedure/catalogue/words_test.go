package catalogue_test

import (
	"io/fs"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// A capital inside a sentence, or letters and digits run together, is what a
// name or a model code looks like. Parts go by dimensions here, so only these
// may stand in the texts.
var allowedShapes = []string{
	"A", "B", "R", "L", "M", "N·m", "Nm", "ISO", "LH", "RH", // bolts, marks, units, threads
}

var (
	innerCapital = regexp.MustCompile(`[a-z,;0-9] ([A-Z][\pL·-]*)`)
	modelCode    = regexp.MustCompile(`\b(?:[A-Z]{2,}[0-9]+|[A-Z]+-[0-9]+[A-Z]*)\b`)
	comment      = regexp.MustCompile(`(?m)^\s*#.*$`)
	metricThread = regexp.MustCompile(`\bM[0-9.]+x[0-9.]+\b`)
)

func TestNoNamesInTheCatalogue(t *testing.T) {
	texts := map[string]string{}
	for _, name := range builtInFiles(t) {
		data, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		texts[name] = string(data)
	}
	for _, file := range sheetFiles(t) {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		texts[file] = string(data)
	}
	for name, text := range texts {
		text = metricThread.ReplaceAllString(comment.ReplaceAllString(text, ""), "thread")
		for _, m := range innerCapital.FindAllStringSubmatch(text, -1) {
			require.True(t, slices.Contains(allowedShapes, m[1]), "%s: %q looks like a name", name, m[1])
		}
		require.Empty(t, modelCode.FindAllString(text, -1), "%s: looks like a model code", name)
	}
}
