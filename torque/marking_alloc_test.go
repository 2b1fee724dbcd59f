package torque_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// commonMarkings are the forms that fill most build sheets.
var commonMarkings = []string{
	"5-7 Nm", "5 – 7 N·m", "max 5 Nm", "44-62 in-lb", "5 N·m", "MAX. 5 N·m", "5.5 Nm max.", "≤ 6 Nm", "300-360 lbf·in",
	"50 kgf·cm", "Torque: 12-14 N·m", "min 30 Nm", "5 to 7 N·m", "44 in. lbs.",
}

// The number of allocations is a count, not a time: it does not depend on the
// machine.
func TestCommonMarkingsAllocateNothing(t *testing.T) {
	for _, text := range commonMarkings {
		t.Run(text, func(t *testing.T) {
			allocations := testing.AllocsPerRun(100, func() {
				if _, err := torque.ParseMarking(text); err != nil {
					t.Error(err)
				}
			})
			require.Zero(t, allocations)
		})
	}
}

func BenchmarkParseMarking(b *testing.B) {
	for _, text := range []string{
		"5-7 Nm", "5 – 7 N·m", "max 5 Nm", "44-62 in-lb", "8 ± 1 Nm", "5.4 N·m (55 kgf·cm, 48 in·lbf)", "5 nm",
	} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = torque.ParseMarking(text) // a refusal is measured too
			}
		})
	}
}

func BenchmarkConvert(b *testing.B) {
	figure := figure(b, "44", torque.PoundForceInches)
	b.Run("exact", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = figure.In(torque.KilogramForceCentimeters)
		}
	})
	b.Run("exact and rounded", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = figure.In(torque.NewtonMeters).RoundSignificant(3)
		}
	})
	b.Run("figure to torque", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, err := figure.Torque()
			require.NoError(b, err)
		}
	})
	b.Run("float to torque", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, err := torque.FromNewtonMeters(4.9713324772151348)
			require.NoError(b, err)
		}
	})
}

func BenchmarkWindowIntersect(b *testing.B) {
	part, err := torque.NewWindow(5*nm, 7*nm)
	require.NoError(b, err)
	limit, err := torque.AtMost(6 * nm)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		_, err := part.Intersect(limit)
		require.NoError(b, err)
	}
}

func BenchmarkRoundInward(b *testing.B) {
	part, err := torque.NewWindow(5*nm, 7*nm)
	require.NoError(b, err)
	scale := torque.Scale{Unit: torque.PoundForceInches, Step: "1"}
	b.ReportAllocs()
	for b.Loop() {
		_, err := part.RoundInward(scale)
		require.NoError(b, err)
	}
}
