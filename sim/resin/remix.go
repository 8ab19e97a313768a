package resin

import "brinebench/sim/water"

// remix lets neighbouring cells, and the two paths, change places for turns
// exchanges each. Pairs are taken even first, then odd, so that neither end of
// the bed is favoured.
func remix(s *State, turns float64) {
	f := turns / (1 + float64(2*turns))
	for k := range Paths {
		for _, start := range [2]int{0, 1} {
			for j := start; j+1 < Cells; j += 2 {
				swap(&s.Q[k][j], &s.Q[k][j+1], f)
				swap(&s.C[k][j], &s.C[k][j+1], f)
				s.Iron.swap(k, j, k, j+1, f)
			}
		}
	}
	for j := range Cells {
		swap(&s.Q[0][j], &s.Q[1][j], f)
		swap(&s.C[0][j], &s.C[1][j], f)
		s.Iron.swap(0, j, 1, j, f)
	}
}

// Stir mixes the whole bed evenly, as resin is that was scooped out and filled in again.
func Stir(s *State) {
	for range Cells * Cells {
		remix(s, 1)
	}
}

// swap moves the share f ≤ ½ of each of a and b to the other.
func swap(a, b *water.Ions, f float64) {
	for i := range a {
		swapOne(&a[i], &b[i], f)
	}
}

// swapOne is swap for one substance.
func swapOne(a, b *float64, f float64) {
	d := float64(f * (*b - *a))
	*a += d
	*b -= d
}
