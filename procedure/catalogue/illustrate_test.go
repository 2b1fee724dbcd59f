package catalogue_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// What a procedure says for its drawings is refused where it could not be drawn
// as it says.
func TestIllustrationsAreChecked(t *testing.T) {
	for _, tt := range []struct {
		name, file, was, is string
		path, rule          string
	}{
		{"layout beside names with sides", "stem-on-steerer", "bolts: [lower, upper]\n", "bolts: [lower, upper]\n      layout: row\n", ".torque.layout", "both"},
		{"layout of one bolt", "stem-on-steerer", "bolts: [plug]\n", "bolts: [plug]\n      layout: ring\n", ".torque.layout", "one-bolt"},
		{"square of two", "crank-two-pinch-bolts", "layout: row\n", "layout: square\n", ".torque.layout", "not-four"},
		{"gap at no side of a plate", "handlebar", "at: [upper left]", "at: [somewhere]", ".gap.at", "no-side"},
		{"gap nowhere", "handlebar", "at: [upper left]", "at: []", ".gap.at", "missing"},
		{"gap of nothing", "handlebar", "{ of: plate, at: [upper left] }", "{ at: [upper left] }", ".gap.of", "missing"},
		{"no hour of the clock", "rear-derailleur", `at: ["3"]`, `at: ["13"]`, ".gap.at", "no-hour"},
		{"count from nowhere", "cassette-splined-body", "count_from: cassette.sprockets", "count_from: cassette.cogs", ".stack.count_from", "unknown-attribute"},
		{"number that no rule works out", "cassette-splined-body", "spacer: body-length.spacer", "spacer: body-length.ring", ".stack.spacer", "unknown-number"},
		{"check that is not there", "cassette-splined-body", "proud: stack-height/height", "proud: stack-height/width", ".stack.proud", "unknown-check"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			data, err := fs.ReadFile(catalogue.FS(), catalogue.ProceduresFolder+"/"+tt.file+".yaml")
			require.NoError(t, err)
			require.Contains(t, string(data), tt.was)
			def, err := procedure.ReadDefinition(tt.file+".yaml", []byte(strings.Replace(string(data), tt.was, tt.is, 1)))
			require.NoError(t, err)
			c := load(t)
			require.NoError(t, def.TakeContacts(c.Contacts))
			err = procedure.CheckDefinition(def, c.Joints, c.Vocabulary, c.Definitions)
			var field *procedure.FieldError
			require.ErrorAs(t, err, &field)
			require.True(t, has(err, tt.path, tt.rule), "%v", err)
		})
	}
}

// has reports whether an error holds a FieldError at the end of a path.
func has(err error, path, rule string) bool {
	if field := (*procedure.FieldError)(nil); errors.As(err, &field) && field.Rule == rule && strings.HasSuffix(field.Path, path) {
		return true
	}
	var joined interface{ Unwrap() []error }
	if !errors.As(err, &joined) {
		return false
	}
	for _, one := range joined.Unwrap() {
		if has(one, path, rule) {
			return true
		}
	}
	return false
}
