package joint_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// TestScaling: with every length doubled, the same preload takes twice the
// torque, and a quarter of the stress is left.
func TestScaling(t *testing.T) {
	small := joint.Bolt{Thread: mustParse(t, "M6x1"), ThreadFriction: mustFriction(t, 0.12), Bearing: joint.Bearing{OuterDiameterMM: 9, HoleDiameterMM: 6.6}}
	large := joint.Bolt{Thread: mustParse(t, "M12x2"), ThreadFriction: mustFriction(t, 0.12), Bearing: joint.Bearing{OuterDiameterMM: 18, HoleDiameterMM: 13.2}}
	a, err := small.AtPreload(5000)
	require.NoError(t, err)
	b, err := large.AtPreload(5000)
	require.NoError(t, err)
	require.InEpsilon(t, 2*a.TorqueNewtonMeters, b.TorqueNewtonMeters, 1e-12)
	require.InEpsilon(t, a.TensileStressMPa/4, b.TensileStressMPa, 1e-12)
	require.InEpsilon(t, a.NutFactor.K().Nominal, b.NutFactor.K().Nominal, 1e-12)
	twice, err := small.AtTorque(2 * a.Torque())
	require.NoError(t, err)
	require.InEpsilon(t, 10000, twice.PreloadNewtons, 1e-8)
}

// TestUnitInvariance: a joint described in inches is the same joint.
func TestUnitInvariance(t *testing.T) {
	metric := joint.Bolt{Thread: mustParse(t, "M14.2875x1.27"), ThreadFriction: mustFriction(t, 0.15), Bearing: joint.Bearing{OuterDiameterMM: 20.32, HoleDiameterMM: 15.24}}
	imperial := metric
	imperial.Thread = mustParse(t, "9/16 in x 20 tpi")
	imperial.Bearing = joint.Bearing{OuterDiameterMM: 0.8 * inch, HoleDiameterMM: 0.6 * inch}
	figure, err := torque.ParseFigure("300", torque.PoundForceInches)
	require.NoError(t, err)
	tq, err := figure.Torque()
	require.NoError(t, err)
	a, err := metric.AtTorque(mustTorque(t, 300*lbin))
	require.NoError(t, err)
	b, err := imperial.AtTorque(tq)
	require.NoError(t, err)
	require.InEpsilon(t, a.PreloadNewtons, b.PreloadNewtons, 1e-9)
	left := imperial
	left.Thread = imperial.Thread.WithHand(joint.LeftHand)
	c, err := left.AtTorque(tq)
	require.NoError(t, err)
	require.Equal(t, b.PreloadNewtons, c.PreloadNewtons, "the hand changes nothing")
}

// TestTotalFriction: ISO 16047 lumps both coefficients into one. By the linear
// form that is exact where they are equal; the exact form reads up to 1 % high.
func TestTotalFriction(t *testing.T) {
	thread := mustParse(t, "M8x1.25")
	head, ok := joint.HexagonHead(thread)
	require.True(t, ok)
	for _, mu := range []float64{0.08, 0.12, 0.16, 0.24} {
		f := mustFriction(t, mu)
		linear := 10000 * (thread.Screw().LinearMM(f) + head.MeanDiameterMM()/2*mu) / 1000
		got, err := joint.TotalFriction(thread, head, mustTorque(t, linear), 10000)
		require.NoError(t, err)
		require.InDelta(t, mu, got.Mu().Nominal, 1e-9)
		exact, err := joint.Bolt{Thread: thread, ThreadFriction: f}.AtPreload(10000)
		require.NoError(t, err)
		require.InEpsilon(t, mu, exact.TotalFriction.Mu().Nominal, 0.01)
	}
	_, err := joint.TotalFriction(thread, head, torque.NewtonMeter, 10000)
	var field *joint.FieldError
	require.ErrorAs(t, err, &field, "so little torque cannot have raised that preload")
}

// TestLoosening: a lockring with next to no friction turns back by itself, a
// bolt does not.
func TestLoosening(t *testing.T) {
	square := joint.Screw{LeadMM: 5, PitchDiameterMM: 22.5}
	require.Negative(t, square.LoosenMM(mustFriction(t, 0.05)))
	bolt := joint.Bolt{Thread: mustParse(t, "M5"), ThreadFriction: mustFriction(t, 0.04)}
	got, err := bolt.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	require.False(t, got.IsSelfLocking)
	require.True(t, got.Warnings.Has(joint.NotSelfLocking))
	bolt.ThreadFriction = mustFriction(t, 0.12)
	got, err = bolt.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	require.True(t, got.IsSelfLocking)
	require.InDelta(t, 0.69, got.LooseningNewtonMeters/got.TorqueNewtonMeters, 0.01,
		"1 less twice the share of the pitch, 15.7 % by the shares of the linear form")
}

func TestNutFactorIsNoFriction(t *testing.T) {
	k, f := reflect.TypeFor[joint.NutFactor](), reflect.TypeFor[joint.Friction]()
	for _, number := range []reflect.Type{reflect.TypeFor[float64](), reflect.TypeFor[joint.Band]()} {
		require.False(t, number.ConvertibleTo(f))
		require.False(t, number.ConvertibleTo(k))
	}
	require.False(t, k.ConvertibleTo(f))
	require.False(t, f.ConvertibleTo(k))
	// The same number means different joints: K 0.20 of an M5 hexagon bolt is a µ of about 0.153.
	bolt := joint.Bolt{Thread: mustParse(t, "M5"), ThreadFriction: mustFriction(t, 0.153)}
	got, err := bolt.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	require.InDelta(t, 0.20, got.NutFactor.K().Nominal, 0.002)
}

func TestBoltRefuses(t *testing.T) {
	good := joint.Bolt{Thread: mustParse(t, "M5"), ThreadFriction: mustFriction(t, 0.12)}
	for _, test := range []struct {
		name   string
		change func(*joint.Bolt)
		path   string
	}{
		{"no thread", func(b *joint.Bolt) { b.Thread = joint.Thread{} }, "thread"},
		{"no standard head", func(b *joint.Bolt) { b.Thread = mustParse(t, "M30.6x1") }, "head_bearing_diameter_mm"},
		{"hole as large as the head", func(b *joint.Bolt) { b.Bearing.HoleDiameterMM = 7 }, "hole_diameter_mm"},
		{"hole smaller than the thread", func(b *joint.Bolt) { b.Bearing.HoleDiameterMM = 4 }, "hole_diameter_mm"},
		{"negative head", func(b *joint.Bolt) { b.Bearing.OuterDiameterMM = -1 }, "head_bearing_diameter_mm"},
		{"head not a number", func(b *joint.Bolt) { b.Bearing.OuterDiameterMM = math.NaN() }, "head_bearing_diameter_mm"},
		{"cone too wide", func(b *joint.Bolt) { b.Bearing.ConeHalfAngleRad = 2 }, "cone_half_angle_rad"},
		{"tool deviation in percent", func(b *joint.Bolt) { b.ToolDeviation = 4 }, "tool_deviation"},
		{"unknown torsion", func(b *joint.Bolt) { b.Torsion = 9 }, "torsion"},
	} {
		t.Run(test.name, func(t *testing.T) {
			b := good
			test.change(&b)
			_, err := b.AtTorque(5 * torque.NewtonMeter)
			var field *joint.FieldError
			require.ErrorAs(t, err, &field)
			require.Equal(t, test.path, field.Path)
		})
	}
	for _, bad := range []torque.Torque{0, -1, torque.MaxWire + 1} {
		_, err := good.AtTorque(bad)
		require.Error(t, err)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 1e9} {
		_, err := good.AtPreload(bad)
		require.Error(t, err)
	}
	_, err := good.AtUtilization(0.9)
	require.ErrorIs(t, err, joint.ErrStrength, "no class")
	good.Class = mustClass(t, "8.8")
	_, err = good.AtUtilization(1.1)
	require.Error(t, err)
	good.ThreadFriction = joint.Friction{}
	_, err = good.AtTorque(5 * torque.NewtonMeter)
	require.ErrorIs(t, err, joint.ErrUnknownFriction)
}

func TestFrictionRefuses(t *testing.T) {
	for _, bad := range [][3]float64{{0, 0, 0}, {-0.1, 0.1, 0.1}, {0.2, 0.1, 0.3}, {0.1, 0.2, 0.15}, {0.1, 0.2, 1.5}, {0.1, math.NaN(), 0.2}, {math.NaN(), 0.1, 0.2}} {
		_, err := joint.NewFrictionBand(bad[0], bad[1], bad[2])
		require.Error(t, err, bad)
		_, err = joint.NewNutFactorBand(bad[0], bad[1], bad[2])
		require.Error(t, err, bad)
	}
}

func TestAssumptionsFollowInputs(t *testing.T) {
	bare := joint.Bolt{Thread: mustParse(t, "M5"), ThreadFriction: mustFriction(t, 0.12)}
	got, err := bare.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	for _, a := range []joint.Assumption{joint.AssumedHexagonHead, joint.AssumedMediumHole, joint.AssumedSameFriction, joint.AssumedTorqueWrenchScatter, joint.AssumedExactTool} {
		require.True(t, got.Assumptions.Has(a), a)
	}
	full := joint.Bolt{
		Thread: mustParse(t, "M5"), Bearing: joint.Bearing{OuterDiameterMM: 8.5, HoleDiameterMM: 5.3},
		ThreadFriction: mustBand(t, 0.1, 0.12, 0.14), HeadFriction: mustFriction(t, 0.12), ToolDeviation: 0.04,
	}
	got, err = full.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	require.Empty(t, got.Assumptions.List())
	require.True(t, got.Warnings.Has(joint.MoreFiguresThanScatter))
}

// TestOneMistakeIsSaidOnce: everything wrong is said together, and no more.
func TestOneMistakeIsSaidOnce(t *testing.T) {
	_, err := joint.Bolt{ToolDeviation: 4}.AtTorque(5 * torque.NewtonMeter)
	require.EqualError(t, err, "preload from torque: thread: must be given\n"+
		"thread_friction: friction is unknown\ntool_deviation: 4 is outside 0 to 0.5")
}

// TestBareFrictionScatters: one figure of friction gives the scatter of a torque
// wrench to the preload, and the same to the factors worked out from it.
func TestBareFrictionScatters(t *testing.T) {
	got, err := joint.Bolt{Thread: mustParse(t, "M5"), ThreadFriction: mustFriction(t, 0.12)}.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	require.Equal(t, joint.Spread(got.PreloadNewtons, 0.25), got.PreloadBandNewtons)
	again, err := got.NutFactor.Preload(5, 5*torque.NewtonMeter)
	require.NoError(t, err)
	require.InEpsilon(t, got.PreloadBandNewtons.Low, again.Low, 1e-12)
	require.InEpsilon(t, got.PreloadBandNewtons.High, again.High, 1e-12)
}

func TestHeadPressureAndYield(t *testing.T) {
	b := joint.Bolt{
		Thread: mustParse(t, "M5"), Class: mustClass(t, "A2-70"), ThreadFriction: mustBand(t, 0.08, 0.12, 0.16),
		Seat: mustMaterial(t, "AW-6061"),
	}
	got, err := b.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	// A common stainless bolt at 5 N·m with grease is past its yield.
	require.Greater(t, got.YieldUtilization.Nominal, 1.0)
	require.True(t, got.Warnings.Has(joint.Yields))
	area := math.Pi / 4 * (6.88*6.88 - 5.5*5.5)
	require.InEpsilon(t, got.PreloadNewtons/area, got.HeadPressureMPa.Nominal, 1e-12)
	require.Equal(t, joint.Above, got.HeadPressureStanding)
	require.True(t, got.Warnings.Has(joint.MayCrushSeat))
	b.Class, b.Seat = mustClass(t, "12.9"), mustMaterial(t, "16MnCr5")
	got, err = b.AtTorque(5 * torque.NewtonMeter)
	require.NoError(t, err)
	require.False(t, got.Warnings.Has(joint.Yields))
	require.False(t, got.Warnings.Has(joint.MayCrushSeat))
}

func TestConeRaisesHeadTorque(t *testing.T) {
	flat := joint.Bolt{Thread: mustParse(t, "M5"), ThreadFriction: mustFriction(t, 0.12)}
	cone := flat
	cone.Bearing.ConeHalfAngleRad = math.Pi / 4
	a, err := flat.AtPreload(5000)
	require.NoError(t, err)
	b, err := cone.AtPreload(5000)
	require.NoError(t, err)
	require.InEpsilon(t, a.HeadNewtonMeters*math.Sqrt2, b.HeadNewtonMeters, 1e-12)
}
