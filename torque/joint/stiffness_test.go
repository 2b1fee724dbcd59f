package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

func TestStiffness(t *testing.T) {
	require.True(t, math.IsNaN(joint.InSeries(1, 0)))
	require.True(t, math.IsNaN(joint.StiffnessNewtonsPerMM(0, 1, 1)))
	require.True(t, math.IsNaN(joint.LoadFactor(0, 1)))
	require.True(t, math.IsNaN(joint.TurnDegrees(1, 0, 1, 1)))
	require.True(t, math.IsNaN(joint.Members(9).StiffnessNewtonsPerMM(1, 1, 1)))
	require.InEpsilon(t, 50.0, joint.InSeries(100, 100), 1e-12)
	require.InEpsilon(t, 12500, joint.SeparationNewtons(10000, 0.2), 1e-12)
	// 4 µm of settling costs a short joint far more than a long one.
	short := joint.SettlingLossNewtons(0.004, 4e5, 1e6)
	long := joint.SettlingLossNewtons(0.004, 1e5, 1e6)
	require.InDelta(t, 1143, short, 1)
	require.Less(t, long, short)
	// Turning past snug by the angle of a preload stretches by lead·angle/360.
	turn := joint.TurnDegrees(5000, 0.8, 1e5, math.Inf(1))
	require.InEpsilon(t, 5000/1e5, turn/360*0.8, 1e-12)
	// Steel parts are stiffer than aluminum parts of the same shape.
	require.Greater(t, joint.SteelMembers.StiffnessNewtonsPerMM(206800, 5, 10), joint.AluminumMembers.StiffnessNewtonsPerMM(71000, 5, 10))
}

// TestPrevailing: two sources, two rules.
func TestPrevailing(t *testing.T) {
	for _, test := range []struct {
		name            string
		figure, running torque.Torque
		rule            joint.PrevailingRule
		want            torque.Torque
	}{
		{"always", 6, 1, joint.AddAlways, 7},
		{"less than a third", 6, 1, joint.AddFromThird, 6},
		{"a third", 6, 2, joint.AddFromThird, 8},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := joint.WithPrevailing(test.figure*torque.NewtonMeter, test.running*torque.NewtonMeter, test.rule)
			require.NoError(t, err)
			require.Equal(t, test.want*torque.NewtonMeter, got)
		})
	}
	_, err := joint.WithPrevailing(torque.NewtonMeter, -1, joint.AddAlways)
	require.Error(t, err)
	_, err = joint.WithPrevailing(torque.NewtonMeter, 0, 9)
	require.Error(t, err)
}

func TestSlipRefuses(t *testing.T) {
	_, err := joint.SlipNewtonMeters(4, joint.Exactly(5000), joint.Friction{}, 22)
	require.ErrorIs(t, err, joint.ErrUnknownFriction)
	_, err = joint.SlipNewtonMeters(0, joint.Exactly(5000), mustFriction(t, 0.15), 22)
	require.Error(t, err)
}
