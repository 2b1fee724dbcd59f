package joint_test

import (
	"encoding"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/joint"
)

// text is a value that is written as text and read back by pointer.
type text[T any] interface {
	*T
	encoding.TextUnmarshaler
}

// roundTrip writes each value and reads it back, and wants a stranger refused.
func roundTrip[T interface {
	comparable
	encoding.TextMarshaler
	fmt.Stringer
}, P text[T]](t *testing.T, values ...T) {
	t.Helper()
	seen := map[string]bool{}
	for _, v := range values {
		written, err := v.MarshalText()
		require.NoError(t, err)
		require.Equal(t, v.String(), string(written))
		require.False(t, seen[v.String()], "two values are called %s", v)
		seen[v.String()] = true
		var back T
		require.NoError(t, P(&back).UnmarshalText(written))
		require.Equal(t, v, back)
	}
	var back T
	require.Error(t, P(&back).UnmarshalText([]byte("honey")))
}

func TestWordsRoundTrip(t *testing.T) {
	roundTrip(t, joint.PrepUnknown, joint.Dry, joint.Grease, joint.AntiSeize, joint.Threadlocker)
	roundTrip(t, joint.SurfaceUnknown, joint.PlainSteel, joint.ZincPlated, joint.StainlessSteel, joint.AluminumAlloy, joint.TitaniumAlloy)
	roundTrip(t, joint.ContactUnknown, joint.CarbonDry, joint.CarbonPaste, joint.AlloyDry, joint.AlloyGreased)
	roundTrip(t, joint.SingleSlit, joint.TwoPiece)
	roundTrip(t, joint.Fit6H6g, joint.Fit6H4g6g, joint.Fit2B2A, joint.Fit3B3A)
	roundTrip(t, joint.Materials()...)
	roundTrip(t, joint.Classes()...)
}

// TestStrangers: a value nobody made still says something and breaks nothing.
func TestStrangers(t *testing.T) {
	for name, s := range map[string]fmt.Stringer{
		"prep 99": joint.Prep(99), "surface 99": joint.Surface(99), "contact 99": joint.Contact(99),
		"style 99": joint.ClampStyle(99), "fit 99": joint.Fit(99), "method 99": joint.Method(99), "standing 99": joint.Standing(99),
		"assumption": joint.Assumption(99), "warning": joint.Warning(99),
	} {
		require.Equal(t, name, s.String())
	}
	f, source := joint.Contact(99).Friction()
	require.False(t, f.IsKnown())
	require.Empty(t, source)
	low, high, _ := joint.Method(99).Scatter()
	require.Zero(t, low+high)
	require.Empty(t, joint.Assumption(99).Text()+joint.Assumption(99).Source()+joint.Warning(99).Text())
	require.Equal(t, "torque wrench, unlubricated", joint.ByTorqueWrenchDry.String())
	require.Equal(t, "below at nominal", joint.BelowAtNominal.String())
}

// TestUnknownFrictionIsNoNumber: the bare geometry answers unknown friction with
// no number instead of a wrong one.
func TestUnknownFrictionIsNoNumber(t *testing.T) {
	s := mustParse(t, "M5").Screw()
	for _, x := range []float64{s.TightenMM(joint.Friction{}), s.LoosenMM(joint.Friction{}), s.LinearMM(joint.Friction{})} {
		require.True(t, math.IsNaN(x))
	}
	steep := joint.Screw{LeadMM: 20, PitchDiameterMM: 4}
	require.True(t, math.IsInf(steep.TightenMM(mustFriction(t, 0.9)), 1), "wedged for good")
	require.Zero(t, joint.Thread{}.Screw())
}

// TestSocketHead: recalled figures, held against nothing but their order: wider
// than a hexagon's washer face up to M16, on the same hole.
func TestSocketHead(t *testing.T) {
	for _, name := range []string{"M4", "M5", "M6", "M8", "M10", "M12", "M16"} {
		hexagon, ok := joint.HexagonHead(mustParse(t, name))
		require.True(t, ok)
		socket, ok := joint.SocketHead(mustParse(t, name))
		require.True(t, ok)
		require.Greater(t, socket.OuterDiameterMM, hexagon.OuterDiameterMM)
		require.Equal(t, hexagon.HoleDiameterMM, socket.HoleDiameterMM)
	}
	_, ok := joint.SocketHead(mustParse(t, "M30.6x1"))
	require.False(t, ok)
}
