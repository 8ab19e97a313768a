package cycle

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

func drill(t *testing.T, unit string) *Drill {
	t.Helper()
	data, err := scenarios.Bench.ReadFile("bench/" + unit + ".json")
	require.NoError(t, err)
	c, err := sim.OpenCycle(unit, data)
	require.NoError(t, err)
	return New(c)
}

func TestEveryBenchOpensWithItsProgram(t *testing.T) {
	list, err := scenarios.Bench.ReadDir("bench")
	require.NoError(t, err)
	require.Len(t, list, 6)
	for _, f := range list {
		data, err := scenarios.Bench.ReadFile("bench/" + f.Name())
		require.NoError(t, err)
		c, err := sim.OpenCycle(f.Name(), data)
		require.NoError(t, err)
		require.Equal(t, f.Name(), c.Program().ID+".json")
	}
}

func TestEveryExerciseIsMetBeforeOneComesAgainThatIsNotDue(t *testing.T) {
	d := drill(t, "standard")
	kinds := sim.ExerciseKinds()
	total := 0
	for _, k := range kinds {
		total += len(d.Unit().Exercises(k))
	}
	met, now := map[string]bool{}, int64(1_700_000_000)
	for range total {
		d.Next(kinds, now)
		e := d.Exercise()
		require.False(t, met[e.ID()], e.ID())
		met[e.ID()] = true
		d.Answer(100, now, 8)
		now += 10
	}
	d.Next(kinds, now)
	require.True(t, met[func() string { e := d.Exercise(); return e.ID() }()])

	wrong := d.Unit().Exercises(sim.SetSeats)[2]
	d.Begin(wrong)
	d.Answer(0, now, 8)
	d.Next(kinds, now+4*86400)
	require.NotEqual(t, wrong, d.Exercise(), "not at once")
	d.Next(kinds, now+4*86400)
	require.Equal(t, wrong, d.Exercise(), "what went wrong is due first")
}

func TestThePictureDoesNotGiveTheAnswerAway(t *testing.T) {
	d := drill(t, "standard")
	for _, e := range d.Unit().Exercises(sim.NamePosition) {
		d.Begin(e)
		require.Equal(t, e.Stop, d.Setup().Stations[d.View().Controller.Station].ID, "the unit stands in it")
		for _, s := range d.Setup().Stations {
			require.Equal(t, "?", s.Name)
		}
		d.Answer(100, 1_700_000_000, 3)
		require.NotEqual(t, "?", d.Setup().Stations[0].Name, "afterwards all is told")
	}
	d.Begin(d.Unit().Exercises(sim.SetSeats)[1])
	for _, lobe := range d.Setup().Lobe {
		require.Zero(t, lobe)
	}
	require.Zero(t, d.View().SeatLift, "it begins with all seats shut")
	require.NotZero(t, d.Unit().Setup().Lobe[0])
}
