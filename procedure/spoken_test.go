package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
)

// What is said of an item and of a measure is what a person would say.
func TestSpoken(t *testing.T) {
	step := procedure.PlannedStep{Checks: []procedure.PlannedCheck{{ID: "no-crack", Ask: "Is the frame free of cracks here?"}}}
	for item, want := range map[string]string{
		"bolt.A": "bolt A", "prep": "the prep",
		"check.no-crack": `the check "Is the frame free of cracks here?"`,
		"check.no-rock":  `the check "no rock"`,
	} {
		require.Equal(t, want, step.ItemWords(item))
	}
	for _, test := range []struct{ value, unit, want string }{
		{"1", "turns", "1 turn"}, {"1.0", "turns", "1.0 turns"}, {"0.5", "turns", "0.5 turns"}, {"8", "turns", "8 turns"},
		{"1", "teeth", "1 tooth"}, {"1", "deg", "1 degree"}, {"90", "deg", "90 degrees"},
		{"1", "degC", "1 °C"}, {"5", "percent", "5 %"}, {"3", "count", "3"}, {"2.4", "mm", "2.4 mm"}, {"1", "min", "1 min"},
	} {
		require.Equal(t, test.want, procedure.MeasureWords(test.value, test.unit))
	}
	require.Equal(t, "°C", procedure.UnitWords("degC"))
	require.Equal(t, "mm", procedure.UnitWords("mm"))
	require.Equal(t, "At least 1 turn.", procedure.LimitWords("1", "", "turns"))
	require.Equal(t, "At most 3 turns.", procedure.LimitWords("", "3", "turns"))
	require.Equal(t, "2 mm to 3 mm.", procedure.LimitWords("2", "3", "mm"))
	require.Empty(t, procedure.LimitWords("", "", "mm"))
}
