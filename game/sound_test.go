package game

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestTheUnitIsHeardAsItRuns(t *testing.T) {
	var v sim.View
	require.Zero(t, SoundsOf(&v), "at rest")
	v.Controller.Moving = true
	require.Zero(t, SoundsOf(&v).Motor, "no power")
	v.Face.Powered = true
	require.Equal(t, 1.0, SoundsOf(&v).Motor)

	v.DrainStream = 1 * m3sPerGPM
	require.InDelta(t, 0.5, SoundsOf(&v).Drain, 1e-12, "a quarter of the flow is half as loud")
	v.DrainStream = 9 * m3sPerGPM
	require.Equal(t, 1.0, SoundsOf(&v).Drain)
	v.Paths[sim.PathBrineLine].FlowM3S = -0.4 * m3sPerGPM
	require.Zero(t, SoundsOf(&v).Draw, "a refill is not drawn")
	v.Paths[sim.PathBrineLine].FlowM3S = 0.5 * m3sPerGPM
	require.Equal(t, 1.0, SoundsOf(&v).Draw)
}
