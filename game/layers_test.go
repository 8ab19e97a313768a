package game

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestEveryLayerIsSwitchedByItself(t *testing.T) {
	for _, id := range LayerIDs {
		before := Layers{}
		after := before.Toggled(id)
		require.NotEqual(t, before.Has(id), after.Has(id), id)
		for _, other := range LayerIDs {
			taken := id == "pressure" && other == "water" // its place is taken
			require.Equal(t, before.Has(other) != (other == id || taken), after.Has(other), "%s by %s", other, id)
		}
		require.Equal(t, before, after.Toggled(id), "%s and back", id)
	}
}

func TestWaterTakesThePlaceOfPressure(t *testing.T) {
	l := Layers{}.Toggled("pressure").Toggled("water")
	require.True(t, l.Has("water"))
	require.False(t, l.Has("pressure"))
	plain := Layers{}.Toggled("water").Toggled("pressure").Toggled("pressure")
	require.False(t, plain.Has("water"), "what was plain before is plain again")
}
