package catalogue_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
)

// the clearance; a hub whose cones were moved spoils the rotor's run-out.
func TestSpokesSpoilTrueAndPads(t *testing.T) {
	d := definition(t, "wheel-tension-rear")
	s, _ := step(t, d, "measure-tension")
	require.Contains(t, s.Voids, "true-wheel")
	s, _ = step(t, d, "true-wheel")
	require.Subset(t, s.Voids, []string{"measure-again", "rim-brake-rear/set-pads", "thru-axle-rear/check-wheel", "wheel-in-slots-rear/check-wheel"})
	s, _ = step(t, d, "set-play")
	require.Contains(t, s.Voids, "rotor-rear/check-runout")
}

// after the spokes have settled, with less than 5 % of change.
func TestTensionIsMeasuredTwice(t *testing.T) {
	d := definition(t, "wheel-tension-front")
	inOrder(t, d, "read-limit", "prepare-wheel", "measure-tension", "true-wheel", "relieve-spokes", "measure-again")
	for _, id := range []string{"measure-tension", "measure-again"} {
		s, _ := step(t, d, id)
		for _, side := range []string{"left", "right"} {
			for _, of := range []string{"-mean", "-lowest", "-highest"} {
				require.Equal(t, "N", wheelCheck(t, *s, side+of).Unit)
			}
			require.Equal(t, "10", wheelCheck(t, *s, side+"-spread").Max)
		}
		require.Equal(t, "100", wheelCheck(t, *s, "share-of-limit").Max)
		require.Equal(t, procedure.Photo, wheelCheck(t, *s, "readings-photo").Kind)
	}
	s, _ := step(t, d, "measure-again")
	require.Equal(t, []string{"percent", "5"}, []string{wheelCheck(t, *s, "change").Unit, wheelCheck(t, *s, "change").Max})
	s, _ = step(t, d, "read-limit")
	require.Equal(t, "spoke-limit-front.limit", wheelCheck(t, *s, "limit").Expect)
	s, _ = step(t, d, "prepare-wheel")
	require.Equal(t, procedure.LightOil, s.Prep.Face[0].Use)
	require.Contains(t, s.Prep.Face[0].Never, procedure.ThreadlockerMedium)
}

// marked as no more than indicative.
func TestTrueIsTighterThanPublished(t *testing.T) {
	s, _ := step(t, definition(t, "wheel-tension-front"), "true-wheel")
	for _, id := range []string{"lateral", "radial", "dish"} {
		require.Equal(t, "0.5", wheelCheck(t, *s, id).Max, id)
	}
	published := wheelCheck(t, *s, "within-published")
	require.Contains(t, published.Ask, "0.8 mm")
	require.Contains(t, published.Ask, "0.6 mm")
	require.Contains(t, published.Source.Text, "TBIS 15194:2019 table 22")
	require.Contains(t, published.Source.Text, "indicative")
	require.Equal(t, procedure.FromMemory, published.Source.Confidence)
}

// stays while the other is set.
func TestConesAreSetClamped(t *testing.T) {
	d := definition(t, "wheel-tension-rear")
	inOrder(t, d, "prepare-cones", "lock-first-side", "set-play", "clean-wheel")
	s, _ := step(t, d, "set-play")
	require.Contains(t, wheelCheck(t, *s, "no-play-clamped").Ask, "clamped")
	require.Equal(t, []string{"quick-release"}, wheelCheck(t, *s, "trace-open").When["hub-rear.axle_fixing"])
}
