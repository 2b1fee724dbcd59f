package torque_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

// TestFigureTorqueAgreesWithTheRational holds the short way for newton meters
// to the long one, which goes by rationals.
func TestFigureTorqueAgreesWithTheRational(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		digits := rapid.StringMatching(`-?[0-9]{1,7}(\.[0-9]{1,11})?`).Draw(rt, "digits")
		figure, err := torque.ParseFigure(digits, torque.NewtonMeters)
		require.NoError(rt, err)
		want, errWant := torque.FromRat(figure.Rat())
		got, errGot := figure.Torque()
		require.Equal(rt, errWant == nil, errGot == nil)
		require.Equal(rt, want, got)
	})
}
