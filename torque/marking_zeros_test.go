package torque_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// A number too long for a figure is refused; a printed limit is never lost.
func TestAMarkingNeverLosesItsLimit(t *testing.T) {
	zeros := strings.Repeat("0", 44)
	for _, text := range []string{
		zeros + "10ft lB", zeros + "5 Nm", "max " + zeros + "5 Nm", "5-" + zeros + "7 Nm", zeros + "5-7 Nm",
	} {
		t.Run(text, func(t *testing.T) {
			_, err := torque.ParseMarking(text)
			var refused *torque.MarkingError
			require.ErrorAs(t, err, &refused)
			require.Equal(t, torque.ReasonOutOfRange, refused.Reason)
		})
	}
	m, err := torque.ParseMarking("007 Nm")
	require.NoError(t, err)
	w, err := m.Window()
	require.NoError(t, err)
	require.Equal(t, "7 N·m", func() string { high, _ := w.Max(); return high.String() }())
}

func TestAMarkingByHandWithBadDigitsIsNoWindow(t *testing.T) {
	for _, m := range []torque.Marking{
		{Kind: torque.KindRange, Min: "5", Max: "7x"}, {Kind: torque.KindMax, Max: "five"}, {Kind: torque.KindRange, Min: "-", Max: "7"},
	} {
		_, err := m.Window()
		require.ErrorIs(t, err, torque.ErrNoLimit)
	}
}
