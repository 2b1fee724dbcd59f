package joint_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

func mustFactor(tb testing.TB, low, nominal, high float64) joint.NutFactor {
	tb.Helper()
	k, err := joint.NewNutFactorBand(low, nominal, high)
	require.NoError(tb, err)
	return k
}

// M8 in class 8.8: proof load 21,200 N as ISO 898-1 prints it, yield 640·36.6 N.
// With K 0.2 a torque of 1.6 N·m stands for each 1000 N.
func TestShortFormWarns(t *testing.T) {
	wide := mustFactor(t, 0.2, 0.2, 0.2)
	for _, tt := range []struct {
		name  string
		k     joint.NutFactor
		class string
		at    torque.Torque
		want  []joint.Warning
	}{
		{"10 kN", wide, "8.8", 16 * torque.NewtonMeter, nil},
		{"no class", wide, "", 160 * torque.NewtonMeter, nil},
		{"18 kN, 22.5 kN at the high end", wide, "8.8", 28800 * torque.NewtonMeter / 1000, []joint.Warning{joint.OverProof}},
		{"18 kN, 20 kN at the high end of K", mustFactor(t, 0.18, 0.2, 0.25), "8.8", 28800 * torque.NewtonMeter / 1000, nil},
		{"20 kN, 25 kN at the high end", wide, "8.8", 32 * torque.NewtonMeter, []joint.Warning{joint.MayYield, joint.OverProof}},
		{"25 kN", wide, "8.8", 40 * torque.NewtonMeter, []joint.Warning{joint.Yields, joint.OverProof}},
		{"no proof load is stated", wide, "A2-70", 40 * torque.NewtonMeter, []joint.Warning{joint.Yields}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.k.AtTorque(mustParse(t, "M8"), mustClass(t, tt.class), tt.at)
			require.NoError(t, err)
			require.Equal(t, append([]joint.Warning{joint.MoreFiguresThanScatter}, tt.want...), got.Warnings.List())
			require.Equal(t, !tt.k.HasBand(), got.Assumptions.Has(joint.AssumedTorqueWrenchScatter))
		})
	}
}

func TestShortFormThereAndBack(t *testing.T) {
	k := mustFactor(t, 0.15, 0.18, 0.22)
	there, err := k.AtPreload(mustParse(t, "M6"), mustClass(t, "8.8"), 5000)
	require.NoError(t, err)
	require.InEpsilon(t, 0.18*0.006*5000, there.TorqueNewtonMeters, 1e-9)
	back, err := k.AtTorque(mustParse(t, "M6"), mustClass(t, "8.8"), 5400*torque.NewtonMeter/1000)
	require.NoError(t, err)
	require.Equal(t, there, back)
	text, err := json.Marshal(back)
	require.NoError(t, err)
	require.Contains(t, string(text), `"warnings":[{"id":"more-figures-than-scatter"`)
	require.Contains(t, string(text), `"use":"explanation only`)
}

func TestShortFormRefuses(t *testing.T) {
	k := mustFactor(t, 0.2, 0.2, 0.2)
	_, err := joint.NutFactor{}.AtTorque(mustParse(t, "M6"), joint.Class{}, torque.NewtonMeter)
	require.ErrorIs(t, err, joint.ErrUnknownFriction)
	_, err = k.AtTorque(mustParse(t, "M36"), mustClass(t, "A2-70"), torque.NewtonMeter)
	require.ErrorIs(t, err, joint.ErrStrength)
	var field *joint.FieldError
	for _, bad := range []func() (joint.ShortForm, error){
		func() (joint.ShortForm, error) { return k.AtTorque(joint.Thread{}, joint.Class{}, torque.NewtonMeter) },
		func() (joint.ShortForm, error) { return k.AtTorque(mustParse(t, "M6"), joint.Class{}, 0) },
		func() (joint.ShortForm, error) { return k.AtPreload(mustParse(t, "M6"), joint.Class{}, -1) },
	} {
		_, err := bad()
		require.ErrorAs(t, err, &field)
	}
}
