package catalogue_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// A wait knows every material of the vocabulary; any other word counts as a metal
// on which threadlocker cures slowly.
func TestWaitsKnowTheMaterials(t *testing.T) {
	c, err := catalogue.Load()
	require.NoError(t, err)
	require.NotEmpty(t, c.Vocabulary.Materials)
	for _, material := range c.Vocabulary.Materials {
		require.True(t, procedure.IsKnownMetal(material), material)
	}
	require.False(t, procedure.IsKnownMetal(""))
	require.False(t, procedure.IsKnownMetal("cast iron"))
}
