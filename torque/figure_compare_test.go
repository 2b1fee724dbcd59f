package torque_test

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

// Rationals of math/big are the reference: a figure in its unit times the unit.
func TestFigureComparesExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, err := torque.ParseFigure(anyDigits().Draw(t, "a"), anyUnit().Draw(t, "unit of a"))
		require.NoError(t, err)
		b, err := torque.ParseFigure(anyDigits().Draw(t, "b"), anyUnit().Draw(t, "unit of b"))
		require.NoError(t, err)
		if rapid.Bool().Draw(t, "same unit") {
			b, err = torque.ParseFigure(b.Digits(), a.Unit())
			require.NoError(t, err)
		}
		x := new(big.Rat).Mul(a.Rat(), a.Unit().Factor())
		y := new(big.Rat).Mul(b.Rat(), b.Unit().Factor())
		require.Equal(t, x.Sign(), a.Sign())
		require.Equal(t, x.Cmp(y), a.Compare(b))
	})
}

func TestFigureCompare(t *testing.T) {
	for _, test := range []struct {
		name, a, b string
		in, other  torque.Unit
		want       int
	}{
		{"zeros after the point", "5", "5.000", torque.NewtonMeters, torque.NewtonMeters, 0},
		{"minus zero", "-0.0", "0", torque.NewtonMeters, torque.NewtonMeters, 0},
		{"below zero", "-5", "-4.9", torque.NewtonMeters, torque.NewtonMeters, -1},
		{"a thousandth", "5000", "5", torque.MillinewtonMeters, torque.NewtonMeters, 0},
		{"twelve inches to the foot", "12", "1", torque.PoundForceInches, torque.PoundForceFeet, 0},
		{"more digits than fast", "1234567.1", "1234567.0000000001", torque.NewtonMeters, torque.NewtonMeters, 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			a, err := torque.ParseFigure(test.a, test.in)
			require.NoError(t, err)
			b, err := torque.ParseFigure(test.b, test.other)
			require.NoError(t, err)
			require.Equal(t, test.want, a.Compare(b))
			require.Equal(t, -test.want, b.Compare(a))
		})
	}
	require.Zero(t, torque.Figure{}.Sign())
	var none torque.Figure
	require.Zero(t, torque.Figure{}.Compare(none))
}
