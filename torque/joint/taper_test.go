package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// arm is a square-taper arm pulled on by an M8x1 bolt, K 0.18, with a hard
// standing start of a 90 kg rider on it.
func arm(tb testing.TB, boltTorque torque.Torque) joint.Taper {
	tb.Helper()
	k, err := joint.NewNutFactor(0.18)
	require.NoError(tb, err)
	pull, err := k.Preload(8, boltTorque)
	require.NoError(tb, err)
	crank, err := joint.RiderTorque(90, 175, 1.5)
	require.NoError(tb, err)
	return joint.Taper{BoltPreloadNewtons: pull, CrankTorque: crank}
}

func seat(tb testing.TB, taper joint.Taper) joint.TaperSeat {
	tb.Helper()
	s, err := taper.Seat()
	require.NoError(tb, err)
	return s
}

// TestTaperTorque: at the customary 40 N·m the arm keeps full contact, at 20 N·m
// one edge lifts with every stroke; and a bolt of class 8.8 is not up to 40 N·m.
func TestTaperTorque(t *testing.T) {
	good := seat(t, arm(t, 40*torque.NewtonMeter))
	require.InDelta(t, 205, good.EdgePressureMPa, 0.5)
	require.InDelta(t, 244, good.FlatPressureMPa.Nominal, 0.5)
	require.Equal(t, joint.AboveAtNominal, good.Contact)
	poor := seat(t, arm(t, 20*torque.NewtonMeter))
	require.InDelta(t, 122, poor.FlatPressureMPa.Nominal, 0.5)
	require.Equal(t, joint.BelowAtNominal, poor.Contact)
	require.Contains(t, poor.Verdict, "lifts")
	require.True(t, poor.Warnings.Has(joint.MayGap))
	pull := arm(t, 40*torque.NewtonMeter).BoltPreloadNewtons.Nominal
	for class, holds := range map[string]bool{"8.8": false, "10.9": true, "12.9": true} {
		loads, err := mustClass(t, class).Loads(mustParse(t, "M8x1"))
		require.NoError(t, err)
		require.Equal(t, holds, pull < loads.YieldNewtons, class)
	}
}

// TestTaperOverTorque: over-tightened with little friction, the pressure reaches
// what an alloy bore bears and the arm creeps up the taper.
func TestTaperOverTorque(t *testing.T) {
	a := arm(t, 50*torque.NewtonMeter)
	a.Friction, a.Arm = mustFriction(t, 0.10), mustMaterial(t, "AW-7075")
	s := seat(t, a)
	require.True(t, s.PressureStanding == joint.AboveAtNominal || s.PressureStanding == joint.BelowAtNominal)
	require.True(t, s.Warnings.Has(joint.MayCrushArm))
	a.BoltPreloadNewtons = a.BoltPreloadNewtons.Times(0.2)
	require.Equal(t, joint.Below, seat(t, a).PressureStanding)
}

func TestTaperScalesAndAssumes(t *testing.T) {
	a := arm(t, 40*torque.NewtonMeter)
	s := seat(t, a)
	for _, want := range []joint.Assumption{joint.AssumedTaperAngle, joint.AssumedTaperFlat, joint.AssumedTaperFriction, joint.AssumedLinearFlank} {
		require.True(t, s.Assumptions.Has(want), want)
	}
	require.InEpsilon(t, a.CrankTorque.NewtonMeters()*s.FlatPressureMPa.Nominal/s.EdgePressureMPa, s.GapTorqueNewtonMeters.Nominal, 1e-12)
	steep := a
	steep.HalfAngleRad = 4 * math.Pi / 180
	require.Less(t, seat(t, steep).FlatForceNewtons.Nominal, s.FlatForceNewtons.Nominal)
	greased := a
	greased.Friction = mustFriction(t, 0.08)
	require.Greater(t, seat(t, greased).FlatPressureMPa.Nominal, s.FlatPressureMPa.Nominal, "grease on the flats raises the pressure")
	own := a
	own.Friction, own.HalfAngleRad, own.FlatLengthMM, own.FlatWidthMM, own.CrankTorque = mustFriction(t, 0.15), 0.035, 14, 11, 0
	rest := seat(t, own)
	require.Empty(t, rest.Assumptions.List())
	require.Equal(t, joint.NotCompared, rest.Contact)
	require.Empty(t, rest.Verdict)
}

func TestTaperRefuses(t *testing.T) {
	var field *joint.FieldError
	for _, change := range []func(*joint.Taper){
		func(a *joint.Taper) { a.BoltPreloadNewtons = joint.Band{} },
		func(a *joint.Taper) { a.HalfAngleRad = -1 },
		func(a *joint.Taper) { a.FlatLengthMM = math.Inf(1) },
		func(a *joint.Taper) { a.FlatWidthMM = math.NaN() },
		func(a *joint.Taper) { a.CrankTorque = -1 },
	} {
		a := arm(t, 40*torque.NewtonMeter)
		change(&a)
		_, err := a.Seat()
		require.ErrorAs(t, err, &field)
	}
}

func TestRiderRefuses(t *testing.T) {
	for _, bad := range [][3]float64{{0, 175, 1}, {90, 10, 1}, {90, 175, 0}, {90, 175, 9}, {math.NaN(), 175, 1}} {
		_, err := joint.RiderTorque(bad[0], bad[1], bad[2])
		require.Error(t, err)
	}
	require.True(t, math.IsNaN(joint.PitchRadiusMM(4)))
}
