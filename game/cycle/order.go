package cycle

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"brinebench/sim"
)

// Mixed puts exercises into an order of which nothing can be told but by its number: kind
// after kind as they come, those of a kind by lot.
func Mixed(list []sim.Exercise, number uint64) []sim.Exercise {
	mixed := shuffled(list, number)
	slices.SortStableFunc(mixed, func(a, b sim.Exercise) int { return cmp.Compare(kindPlace(a.Kind), kindPlace(b.Kind)) })
	return mixed
}

// kindPlace is a kind's place, from plain to hard.
func kindPlace(k sim.ExerciseKind) int { return slices.Index(sim.ExerciseKinds(), k) }

// shuffled are exercises in an order that a number draws, however they were listed.
func shuffled(list []sim.Exercise, number uint64) []sim.Exercise {
	drawn := slices.SortedFunc(slices.Values(list), func(a, b sim.Exercise) int { return cmp.Compare(a.ID(), b.ID()) })
	rand.New(rand.NewPCG(number, 0)).Shuffle(len(drawn), func(i, j int) { drawn[i], drawn[j] = drawn[j], drawn[i] })
	return drawn
}
