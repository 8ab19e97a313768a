package game

import (
	"testing"

	"brinebench/scenarios"
	"brinebench/sim"

	"github.com/stretchr/testify/require"
)

func TestWaterPathGoesOnceThroughEveryPart(t *testing.T) {
	const file = "hard-water-at-the-mill-house.json"
	data, err := scenarios.FS.ReadFile(file)
	require.NoError(t, err)
	s, err := sim.Open(file, data, 1)
	require.NoError(t, err)
	parts := s.Setup().Parts
	seen := map[sim.Part]bool{}
	at := sim.PartSupply
	for range parts {
		require.False(t, seen[at], at)
		seen[at] = true
		require.Equal(t, at, AlongWater(AlongWater(at, 1), -1))
		at = AlongWater(at, 1)
	}
	require.Equal(t, sim.PartSupply, at, "the ends are joined")
	for _, p := range parts {
		require.True(t, seen[p.ID], p.ID)
	}
}
