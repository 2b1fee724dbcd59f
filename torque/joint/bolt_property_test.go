package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// bolts draws bolts of bicycle sizes with a stated head, so that any pitch does.
func bolts() *rapid.Generator[joint.Bolt] {
	return rapid.Custom(func(t *rapid.T) joint.Bolt {
		names := []string{"M4", "M5x0.8", "M6", "M8x1", "M10x1.5", "9/16 in x 20 tpi", "M30.6x1", "1.37 in x 24 tpi LH"}
		thread, err := joint.ParseThread(rapid.SampledFrom(names).Draw(t, "thread"))
		require.NoError(t, err)
		d := thread.Diameter().Float64()
		hole := d * rapid.Float64Range(1, 1.2).Draw(t, "hole")
		b := joint.Bolt{
			Thread:         thread,
			Bearing:        joint.Bearing{OuterDiameterMM: hole * rapid.Float64Range(1.1, 2).Draw(t, "head"), HoleDiameterMM: hole},
			ThreadFriction: frictions().Draw(t, "thread friction"),
			HeadFriction:   frictions().Draw(t, "head friction"),
			ToolDeviation:  rapid.Float64Range(0, 0.1).Draw(t, "tool"),
		}
		if d <= 39 && rapid.Bool().Draw(t, "has class") {
			b.Class, err = joint.ParseClass(rapid.SampledFrom([]string{"8.8", "10.9", "12.9", "4.6"}).Draw(t, "class"))
			require.NoError(t, err)
		}
		return b
	})
}

func frictions() *rapid.Generator[joint.Friction] {
	return rapid.Custom(func(t *rapid.T) joint.Friction {
		mu := rapid.Float64Range(0.03, 0.4).Draw(t, "mu")
		low := mu * rapid.Float64Range(0.5, 1).Draw(t, "low")
		f, err := joint.NewFrictionBand(low, mu, mu*rapid.Float64Range(1, 2).Draw(t, "high"))
		require.NoError(t, err)
		return f
	})
}

func single(tb rapid.TB, mu float64) joint.Friction {
	f, err := joint.NewFriction(mu)
	require.NoError(tb, err)
	return f
}

func TestTorquePreloadRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bolts().Draw(t, "bolt")
		pull := rapid.Float64Range(100, 1e5).Draw(t, "preload")
		there, err := b.AtPreload(pull)
		require.NoError(t, err)
		back, err := b.AtTorque(there.Torque())
		require.NoError(t, err)
		require.InEpsilon(t, pull, back.PreloadNewtons, 1e-7)
		require.InEpsilon(t, there.PreloadBandNewtons.Low, back.PreloadBandNewtons.Low, 1e-7)
		require.InEpsilon(t, there.PreloadBandNewtons.High, back.PreloadBandNewtons.High, 1e-7)
	})
}

func TestTorqueIsWhereItGoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bolts().Draw(t, "bolt")
		got, err := b.AtPreload(rapid.Float64Range(100, 1e5).Draw(t, "preload"))
		require.NoError(t, err)
		parts := got.PitchNewtonMeters + got.ThreadNewtonMeters + got.HeadNewtonMeters
		require.InEpsilon(t, got.TorqueNewtonMeters, parts, 1e-12)
		require.Positive(t, got.PitchNewtonMeters)
		require.Positive(t, got.ThreadNewtonMeters)
		require.Positive(t, got.HeadNewtonMeters)
		require.Less(t, got.LooseningNewtonMeters, got.TorqueNewtonMeters)
		k := got.NutFactor.K()
		require.InEpsilon(t, got.TorqueNewtonMeters, k.Nominal*b.Thread.Diameter().Float64()*got.PreloadNewtons/1000, 1e-12)
	})
}

func TestMoreFrictionLessPreload(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bolts().Draw(t, "bolt")
		low := rapid.Float64Range(0.03, 0.3).Draw(t, "mu")
		high := low * rapid.Float64Range(1.001, 1.5).Draw(t, "more")
		tq := torque.Torque(rapid.Int64Range(int64(torque.NewtonMeter), int64(100*torque.NewtonMeter)).Draw(t, "torque"))
		b.ThreadFriction, b.HeadFriction = single(t, low), single(t, low)
		slick, err := b.AtTorque(tq)
		require.NoError(t, err)
		b.ThreadFriction = single(t, high)
		rough, err := b.AtTorque(tq)
		require.NoError(t, err)
		b.ThreadFriction, b.HeadFriction = single(t, low), single(t, high)
		roughHead, err := b.AtTorque(tq)
		require.NoError(t, err)
		require.Less(t, rough.PreloadNewtons, slick.PreloadNewtons)
		require.Less(t, roughHead.PreloadNewtons, slick.PreloadNewtons)
		more, err := b.AtTorque(tq + 1000*torque.MicronewtonMeter)
		require.NoError(t, err)
		require.Greater(t, more.PreloadNewtons, roughHead.PreloadNewtons)
	})
}

func TestBandsAreOrderedAndNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bolts().Draw(t, "bolt")
		got, err := b.AtTorque(5 * torque.NewtonMeter)
		require.NoError(t, err)
		for _, band := range []joint.Band{got.PreloadBandNewtons, got.YieldUtilization, got.HeadPressureMPa, got.NutFactor.K(), got.TotalFriction.Mu()} {
			require.LessOrEqual(t, band.Low, band.Nominal)
			require.LessOrEqual(t, band.Nominal, band.High)
		}
		b.ToolDeviation += 0.01
		wider, err := b.AtTorque(5 * torque.NewtonMeter)
		require.NoError(t, err)
		require.Less(t, wider.PreloadBandNewtons.Low, got.PreloadBandNewtons.Low)
		require.Greater(t, wider.PreloadBandNewtons.High, got.PreloadBandNewtons.High)
	})
}

func TestUtilizationComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bolts().Filter(func(b joint.Bolt) bool { return !b.Class.IsZero() }).Draw(t, "bolt")
		share := rapid.Float64Range(0.05, 1).Draw(t, "share")
		got, err := b.AtUtilization(share)
		require.NoError(t, err)
		require.InEpsilon(t, share, got.YieldUtilization.Nominal, 1e-12)
		require.Less(t, got.TensileStressMPa*got.StressAreaMM2, got.YieldLoadNewtons*1.01)
	})
}
