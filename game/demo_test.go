//go:build !js

package game

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

func TestAnExpertsCallIsShownBesideOnesOwn(t *testing.T) {
	const file = "hard-water-at-the-mill-house.json"
	data, err := scenarios.FS.ReadFile(file)
	require.NoError(t, err)
	s, err := sim.Open(file, data, 3)
	require.NoError(t, err)
	now := 0.0
	g := New(s, func() float64 { now += 1e-4; return now })
	for g.Prepare(1) < 1 {
	}
	require.NoError(t, g.Do(sim.Action{Kind: sim.ActTest, ID: "hardness-house"}))
	own := g.Hash()
	recording, err := g.Recording()
	require.NoError(t, err)
	played, err := sim.DemonstrateAt(recording, nil)
	require.NoError(t, err)

	require.NoError(t, g.TakeDemo(played))
	require.False(t, g.DemoReady())
	last := 0.0
	for last < 1 {
		done, err := g.PrepareDemo(0.05)
		require.NoError(t, err)
		require.GreaterOrEqual(t, done, last)
		last = done
	}
	call := g.DemoCall()
	require.True(t, call.Finished)
	require.Len(t, played.Reasons, len(call.Journal))
	for i := range call.Journal {
		require.False(t, call.Journal[i].Unsafe, "%d", i)
		why, _ := g.Reason(i)
		require.NotEmpty(t, why, "%d", i)
	}

	at := g.BeginDemo()
	require.True(t, at.Demo())
	require.Zero(t, at.Tick())
	at.GoTo(at.Moments()[len(call.Journal)/2].Tick)
	for !at.There() {
		g.Frame(0.02)
	}
	require.Equal(t, len(call.Journal)/2, at.Line())
	mine := g.BeginScrub()
	require.False(t, mine.Demo(), "it makes room for one's own")
	require.Equal(t, g.Tick(), mine.Tick())
	require.True(t, g.BeginDemo().Demo(), "and comes back")
	g.EndScrub()
	require.Equal(t, own, g.Hash(), "one's own call stood meanwhile")
	require.Len(t, g.Call().Journal, 1)
}
