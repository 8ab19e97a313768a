package cycle

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func stops(list []sim.Exercise) (ids []string) {
	for i := range list {
		ids = append(ids, list[i].Stop)
	}
	return ids
}

// TestTheOrderOfQuestionsTellsNothing: each position comes at each place about as often.
func TestTheOrderOfQuestionsTellsNothing(t *testing.T) {
	all := drill(t, "standard").Unit().Exercises(sim.NamePosition)
	const rounds = 5000
	at := map[string][]int{}
	asBefore := 0
	for number := range uint64(rounds) {
		mixed := Mixed(all, number)
		require.ElementsMatch(t, all, mixed)
		if slices.Equal(all, mixed) {
			asBefore++
		}
		for place, stop := range stops(mixed) {
			if at[stop] == nil {
				at[stop] = make([]int, len(all))
			}
			at[stop][place]++
		}
	}
	for stop, places := range at {
		for place, n := range places {
			require.InDelta(t, rounds/len(all), n, 0.12*rounds/float64(len(all)), "%s at place %d", stop, place)
		}
	}
	require.InDelta(t, rounds/120, asBefore, 25, "the program's own order is one of 120")
}

// TestADrillIsTheSameForAll: its numbers alone draw the order, and kinds come from plain to hard.
func TestADrillIsTheSameForAll(t *testing.T) {
	var lists [2][]sim.Exercise
	for i := range lists {
		unit := drill(t, "standard").Unit()
		for _, kind := range []sim.ExerciseKind{sim.NamePosition, sim.SetSeats, sim.TracePath, sim.ReadLobes} {
			lists[i] = append(lists[i], unit.Exercises(kind)...)
		}
	}
	mixed := Mixed(lists[0], 17)
	slices.Reverse(lists[1])
	require.Equal(t, mixed, Mixed(lists[1], 17), "however they were listed")
	require.NotEqual(t, mixed, Mixed(lists[0], 18))
	require.True(t, slices.IsSortedFunc(mixed, func(a, b sim.Exercise) int { return kindPlace(a.Kind) - kindPlace(b.Kind) }))
}

// TestPracticeIsNotAskedInTheValvesOrder, the first time, and after mistakes again.
func TestPracticeIsNotAskedInTheValvesOrder(t *testing.T) {
	d := drill(t, "standard")
	kinds := []sim.ExerciseKind{sim.NamePosition}
	all := d.Unit().Exercises(sim.NamePosition)
	now := int64(1_700_000_000)
	rounds := make([][]string, 3)
	for round := range rounds {
		for range all {
			d.Next(kinds, now)
			rounds[round] = append(rounds[round], d.Exercise().Stop)
			d.Answer(0, now, 5)
			now += 10
		}
		require.NotEqual(t, stops(all), rounds[round])
		now += 10 * 24 * 3600 // all are due
	}
	require.ElementsMatch(t, stops(all), rounds[0])
	require.NotEqual(t, rounds[0], rounds[1], "and not as they came before")
	require.NotEqual(t, rounds[1], rounds[2])
}
