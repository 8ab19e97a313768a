package cycle

import (
	"cmp"
	"hash/fnv"
	"slices"

	"brinebench/sim"
)

// Mixed puts exercises into an order of which nothing can be told but by its number: kind
// after kind as they come, those of a kind by lot.
func Mixed(list []sim.Exercise, number uint64) []sim.Exercise {
	mixed := slices.Clone(list)
	slices.SortStableFunc(mixed, func(a, b sim.Exercise) int {
		return cmp.Or(cmp.Compare(kindPlace(a.Kind), kindPlace(b.Kind)), cmp.Compare(lot(number, &a), lot(number, &b)))
	})
	return mixed
}

// kindPlace is a kind's place, from plain to hard.
func kindPlace(k sim.ExerciseKind) int { return slices.Index(sim.ExerciseKinds(), k) }

// lot is what an exercise draws; the least comes first.
func lot(number uint64, e *sim.Exercise) uint64 {
	h := fnv.New64a()
	h.Write([]byte(e.ID()))
	return scatter(h.Sum64() ^ scatter(number))
}

// scatter is the mixing step of SplitMix64 (Steele, Lea, Flood 2014).
func scatter(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
