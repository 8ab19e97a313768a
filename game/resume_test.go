package game

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestACallComesBackAsItWas(t *testing.T) {
	g, _ := played(t)
	rec, err := g.Recording()
	require.NoError(t, err)
	s, err := sim.Resume(rec)
	require.NoError(t, err)
	back := aGame(t, s)
	for done := 0.0; done < 1; {
		next, err := back.BringBack(0.001)
		require.NoError(t, err)
		require.GreaterOrEqual(t, next, done)
		done = next
	}
	require.Equal(t, g.Hash(), back.Hash())
	require.Equal(t, *g.Call(), *back.Call())
	require.Equal(t, g.charts.samples, back.charts.samples)
	require.Equal(t, g.charts.marks, back.charts.marks)
	require.Equal(t, g.watch.during, back.watch.during, "the circumstances of each reading")
	require.Equal(t, g.cur.Tick, back.View().Tick)
	require.Zero(t, back.Pace(), "time stands")
	require.Empty(t, back.TakeNotices(), "nothing is told twice")
	require.Equal(t, g.Seed(), back.Seed())
}

func TestAnActUnderWayGoesOn(t *testing.T) {
	g := aGame(t, aSession(t))
	require.NoError(t, g.Do(sim.Action{Kind: sim.ActTest, ID: "hardness-house"}))
	g.tick()
	rec, err := g.Recording()
	require.NoError(t, err)
	s, err := sim.Resume(rec)
	require.NoError(t, err)
	back := aGame(t, s)
	_, err = back.BringBack(1)
	require.NoError(t, err)
	require.True(t, back.Busy())
	for range 600 {
		back.Frame(1.0 / 60)
	}
	require.False(t, back.Busy())
	require.NotNil(t, back.Call().Journal[0].Reading)
	stopped := back.View().Tick
	back.Frame(1)
	require.Equal(t, stopped, back.View().Tick)
}

func TestAnotherPastIsAnError(t *testing.T) {
	g, _ := played(t)
	rec, err := g.Recording()
	require.NoError(t, err)
	forged := strings.Replace(string(rec), `"temperature_C": 12`, `"temperature_C": 13`, 1)
	require.NotEqual(t, string(rec), forged)
	s, err := sim.Resume([]byte(forged))
	require.NoError(t, err)
	back := aGame(t, s)
	for done := 0.0; done < 1 && err == nil; {
		done, err = back.BringBack(1)
	}
	require.Error(t, err)
}
