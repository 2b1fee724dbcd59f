package torque_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// Every row of units_markings.csv: spellings found in public material or in
// common use, the source in the row.
func TestParseMarkingVectors(t *testing.T) {
	for _, r := range vectors(t, "units_markings") {
		t.Run(r["id"], func(t *testing.T) {
			m, err := torque.ParseMarking(r["text"])
			if r["expected"] == "error" {
				var refused *torque.MarkingError
				require.ErrorAs(t, err, &refused, "%q was read as %v", r["text"], m)
				require.Equal(t, r["error_reason"], refused.Reason, r["text"])
				require.Equal(t, r["text"], refused.Text)
				require.NotEmpty(t, refused.Accepted)
				require.Zero(t, m)
				return
			}
			require.NoError(t, err)
			require.Equal(t, torque.Kind(r["kind"]), m.Kind)
			require.Equal(t, []string{r["nominal"], r["min"], r["max"], r["unit"]},
				[]string{m.Nominal, m.Min, m.Max, m.Unit.UCUM()}, r["text"])
			require.Equal(t, r["text"], m.AsWritten)
			if r["alt_unit"] == "" {
				require.Empty(t, m.Alternates)
				return
			}
			alternate := m.Alternates[0]
			require.Equal(t, []string{r["alt_nominal"], r["alt_min"], r["alt_max"], r["alt_unit"]},
				[]string{alternate.Nominal, alternate.Min, alternate.Max, alternate.Unit.UCUM()}, r["text"])
		})
	}
}
