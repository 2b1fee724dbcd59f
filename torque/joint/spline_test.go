package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// loose is a single steel sprocket of 25 teeth on a body, 34 teeth in front, the
// lockring at 40 N·m, under a rider of 90 kg in a hard standing start.
func loose(tb testing.TB, body string) joint.SprocketStack {
	tb.Helper()
	crank, err := joint.RiderTorque(90, 175, 1.5)
	require.NoError(tb, err)
	return joint.SprocketStack{
		CrankTorque: crank, ChainringTeeth: 34, SprocketTeeth: 25, WidthMM: 1.6,
		LockringTorque: 40 * torque.NewtonMeter, Body: mustMaterial(tb, body),
	}
}

func carrier(tb testing.TB, body string) joint.SprocketStack {
	tb.Helper()
	s := loose(tb, body)
	s.SprocketTeeth, s.WidthMM = 34, 9
	return s
}

func marks(l joint.SplineLoad) bool {
	return l.Standing == joint.Above || l.Standing == joint.AboveAtNominal
}

// TestTradeFact: what every workshop knows comes out of the calculation.
func TestTradeFact(t *testing.T) {
	t.Run("loose steel sprockets mark an alloy body", func(t *testing.T) {
		for _, body := range []string{"AW-7075", "AW-6061", "AW-6082"} {
			require.True(t, marks(load(t, loose(t, body))), body)
		}
	})
	t.Run("a carrier does not", func(t *testing.T) {
		for _, body := range []string{"AW-7075", "AW-6061"} {
			require.Equal(t, joint.Below, load(t, carrier(t, body)).Standing, body)
		}
	})
	t.Run("steel and titanium bodies are not marked at ordinary load", func(t *testing.T) {
		for _, body := range []string{"42CrMo4", "TiAl6V4"} {
			require.False(t, marks(load(t, loose(t, body))), body)
		}
		require.Equal(t, joint.Below, load(t, loose(t, "TiAl6V4")).Standing)
	})
	t.Run("a slack lockring makes it worse", func(t *testing.T) {
		tight := load(t, loose(t, "AW-7075"))
		s := loose(t, "AW-7075")
		s.LockringTorque = 0
		slack := load(t, s)
		require.InDelta(t, 1.33, slack.FlankPressureMPa.Nominal/tight.FlankPressureMPa.Nominal, 0.01)
		require.Equal(t, joint.Above, slack.Standing)
		require.Less(t, slack.CapacityNewtonMeters.Nominal, tight.CapacityNewtonMeters.Nominal)
	})
	t.Run("seated riding marks nothing", func(t *testing.T) {
		s := loose(t, "AW-7075")
		s.CrankTorque /= 3
		require.Equal(t, joint.Below, load(t, s).Standing)
	})
	t.Run("the larger loose sprockets mark, the small ones do not", func(t *testing.T) {
		onset := 0
		for teeth := 11; teeth <= 28 && onset == 0; teeth++ {
			s := loose(t, "AW-7075")
			s.SprocketTeeth = teeth
			if marks(load(t, s)) {
				onset = teeth
			}
		}
		require.InDelta(t, 19, onset, 2)
	})
}

// TestLockringSteps: the flank pressure at 40, 30, 20, 10 and 0 N·m on the
// lockring, worked out apart by the same model.
func TestLockringSteps(t *testing.T) {
	for tq, want := range map[torque.Torque]float64{40: 591, 30: 639, 20: 687, 10: 735, 0: 783} {
		s := loose(t, "AW-7075")
		s.LockringTorque = tq * torque.NewtonMeter
		require.InDelta(t, want, load(t, s).FlankPressureMPa.Nominal, 0.6)
	}
}

func TestStackProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := joint.SprocketStack{
			CrankTorque:    torque.Torque(rapid.Int64Range(20, 400).Draw(t, "crank")) * torque.NewtonMeter,
			LockringTorque: torque.Torque(rapid.Int64Range(0, 50).Draw(t, "lockring")) * torque.NewtonMeter,
			ChainringTeeth: rapid.IntRange(22, 53).Draw(t, "front"), SprocketTeeth: rapid.IntRange(11, 51).Draw(t, "rear"),
			WidthMM: rapid.Float64Range(1.2, 15).Draw(t, "width"),
		}
		a, err := s.Load()
		require.NoError(t, err)
		require.Equal(t, joint.NotCompared, a.Standing)
		require.Zero(t, a.CapacityNewtonMeters)
		for _, b := range []joint.Band{a.SprocketNewtonMeters, a.LockringPreloadNewtons, a.FaceNewtonMeters, a.FlankNewtonMeters, a.FlankPressureMPa} {
			require.LessOrEqual(t, b.Low, b.Nominal)
			require.LessOrEqual(t, b.Nominal, b.High)
		}
		more := s
		more.CrankTorque += torque.NewtonMeter
		b, err := more.Load()
		require.NoError(t, err)
		require.GreaterOrEqual(t, b.FlankPressureMPa.Nominal, a.FlankPressureMPa.Nominal)
		tighter := s
		tighter.LockringTorque += torque.NewtonMeter
		b, err = tighter.Load()
		require.NoError(t, err)
		require.LessOrEqual(t, b.FlankPressureMPa.Nominal, a.FlankPressureMPa.Nominal)
		wider := s
		wider.WidthMM *= 2
		b, err = wider.Load()
		require.NoError(t, err)
		require.InDelta(t, a.FlankPressureMPa.Nominal/2, b.FlankPressureMPa.Nominal, 1e-9)
	})
}

func TestStackAssumptions(t *testing.T) {
	l := load(t, loose(t, "AW-7075"))
	for _, a := range []joint.Assumption{
		joint.AssumedLockring, joint.AssumedLockringFriction, joint.AssumedLockringSeat, joint.AssumedSplineCount, joint.AssumedSplineHeight,
		joint.AssumedSplineRadius, joint.AssumedSplineShare, joint.AssumedFaceFriction, joint.AssumedFaceRadius, joint.AssumedTwoFaces, joint.AssumedCrankSpread,
	} {
		require.True(t, l.Assumptions.Has(a), a)
	}
	require.False(t, l.Assumptions.Has(joint.AssumedWidth))
	s := loose(t, "AW-7075")
	s.CrankSpread, s.LockringSpread = joint.Exactly(1), 0.05
	s.Lockring, s.LockringSeatMM, s.LockringFriction = mustParse(t, "M31.8x1"), 35, mustFriction(t, 0.15)
	s.Splines, s.SplineShare, s.FlankHeightMM, s.FlankRadiusMM = 9, joint.Exactly(1), joint.Exactly(1.2), 16.8
	s.FaceRadiusMM, s.FaceFriction, s.Faces = 18, mustFriction(t, 0.1), 1
	require.Equal(t, []joint.Assumption{joint.AssumedLikelyRange}, load(t, s).Assumptions.List())
	s.LockringTorque, s.Lockring = 0, joint.Thread{}
	require.False(t, load(t, s).Assumptions.Has(joint.AssumedLockring), "a slack lockring needs no thread")
}

func TestStackRefuses(t *testing.T) {
	var field *joint.FieldError
	for _, test := range []struct {
		name   string
		change func(*joint.SprocketStack)
		path   string
	}{
		{"no torque", func(s *joint.SprocketStack) { s.CrankTorque = 0 }, "crank_newton_meters"},
		{"no chainring", func(s *joint.SprocketStack) { s.ChainringTeeth = 0 }, "chainring_teeth"},
		{"no sprocket", func(s *joint.SprocketStack) { s.SprocketTeeth = -1 }, "sprocket_teeth"},
		{"negative lockring", func(s *joint.SprocketStack) { s.LockringTorque = -1 }, "lockring_newton_meters"},
		{"share over one", func(s *joint.SprocketStack) { s.SplineShare = joint.Exactly(2) }, "spline_share"},
		{"three faces", func(s *joint.SprocketStack) { s.Faces = 3 }, "faces"},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := loose(t, "AW-7075")
			test.change(&s)
			_, err := s.Load()
			require.ErrorAs(t, err, &field)
			require.Equal(t, test.path, field.Path)
		})
	}
}

func BenchmarkSprocketStackLoad(b *testing.B) {
	s := loose(b, "AW-7075")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Load(); err != nil {
			b.Fatal(err)
		}
	}
}
