package joint_test

import (
	"encoding/json"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/joint"
)

// TestTightenedJSON holds the names others rely on.
func TestTightenedJSON(t *testing.T) {
	b := joint.Bolt{Thread: mustParse(t, "M8x1.25"), Class: mustClass(t, "8.8"), ThreadFriction: mustFriction(t, 0.12)}
	got, err := b.AtUtilization(0)
	require.NoError(t, err)
	text, err := json.Marshal(got)
	require.NoError(t, err)
	var fields map[string]any
	require.NoError(t, json.Unmarshal(text, &fields))
	for _, name := range []string{"preload_newtons", "torque_newton_meters", "stress_area_mm2", "pitch_diameter_mm", "proof_load_newtons"} {
		require.IsType(t, 0.0, fields[name], name)
	}
	require.Equal(t, "M8x1.25", fields["thread"])
	require.Equal(t, "8.8", fields["class"])
	require.Equal(t, joint.ExplanationText, fields["use"])
	require.InDelta(t, 580*36.6, fields["proof_load_newtons"], 1e-6)
	require.NotEmpty(t, fields["assumptions"])
	require.NotEmpty(t, fields["warnings"])
}

// TestEveryResultExplains: no result can be mistaken for a setting.
func TestEveryResultExplains(t *testing.T) {
	for _, r := range []any{
		joint.Tightened{}, joint.Stripping{}, joint.PrepComparison{}, joint.ClampGrip{},
		joint.PasteEffect{}, joint.TaperSeat{}, joint.SplineLoad{},
	} {
		field, ok := reflect.TypeOf(r).FieldByName("Use")
		require.True(t, ok, "%T", r)
		require.Equal(t, reflect.TypeFor[joint.Explanation](), field.Type)
		text, err := json.Marshal(r)
		require.NoError(t, err)
		require.Contains(t, string(text), `"use":"explanation only: it sets no window, no plan and no wrench`)
	}
}

func TestAssumptionTexts(t *testing.T) {
	all := joint.Assumptions(math.MaxUint64).List()
	require.Len(t, all, int(joint.AssumedEngagedLength)+1)
	seen := map[string]bool{}
	for _, a := range all {
		require.NotEmpty(t, a.Text())
		require.NotEmpty(t, a.Source())
		require.False(t, seen[a.String()], a)
		seen[a.String()] = true
	}
	for _, w := range joint.Warnings(math.MaxUint32).List() {
		require.NotEmpty(t, w.Text())
		require.False(t, seen[w.String()], w)
		seen[w.String()] = true
	}
}
