package resin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/water"
)

var strong = water.Ions{water.Na: 1800}

// Brine falls through the lighter water above the bed: all of it has the same strength,
// as in one stirred volume (Danckwerts: 1 − exp(−V/V₀)).
func TestBrineFallsThroughTheWaterAboveTheBed(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(water.Ions{})
	v, in := m.freeboardOf(&s)/400, 0.0
	for range 600 {
		m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: strong, TempC: 20}, 1)
		in += v
		want := 1800 * (1 - math.Exp(-in/m.freeboardOf(&s)))
		for _, c := range s.Freeboard {
			require.InDelta(t, want, c[water.Na], 0.01*1800)
		}
	}
}

// Rinse water lies on brine and drives it down: what is left is that of so many stirred
// volumes one after the other, exp(−x)·Σ xᵏ/k! with x = Layers·V/V₀ (Levenspiel,
// Chemical Reaction Engineering: tanks in series, from memory).
func TestRinseDrivesTheBrineDown(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(strong)
	v := m.freeboardOf(&s) / 400
	for n := range 1200 {
		_, toBed := m.sink(&s, &Ports{TopInM3: v})
		s.overturn()
		x, sum, term := float64(Layers*(n+1))/400, 0.0, 1.0
		for k := range Layers {
			sum += term
			term *= x / float64(k+1)
		}
		require.InDelta(t, 1800*sum*math.Exp(-x), toBed[water.Na], 0.01*1800)
	}
	require.Less(t, s.Freeboard[Layers-1][water.Na], 0.002*1800, "three times its volume has gone through")
}

// Brine that comes up out of the bed lifts the lighter water off it, and rinse water
// that follows it rises through it.
func TestBrineFromBelowLiesUnderTheWaterAboveTheBed(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(water.Ions{})
	v := m.freeboardOf(&s) / 400
	up := func(in water.Ions) (out water.Ions) { // by one volume of the water above the bed
		for range 400 {
			out = m.rise(&s, &Ports{TopOutM3: v}, in, in)
			s.overturn()
		}
		return out
	}
	require.Less(t, up(strong)[water.Na], 0.6*1800)
	require.Greater(t, s.Freeboard[Layers-1][water.Na], 0.98*1800)
	up(strong)
	up(strong)
	up(water.Ions{})
	for _, c := range s.Freeboard {
		require.InDelta(t, 1800*math.Exp(-1), c[water.Na], 0.02*1800)
	}
}

func TestOverturnKeepsWhatThereIs(t *testing.T) {
	var s State
	for i, na := range []float64{3, 9, 1, 4, 4} {
		s.Freeboard[i], s.Iron.Freeboard[i] = water.Ions{water.Na: na}, na
	}
	s.overturn()
	for i, na := range []float64{3, 4.5, 4.5, 4.5, 4.5} {
		require.InDelta(t, na, s.Freeboard[i][water.Na], 1e-12)
		require.InDelta(t, na, s.Iron.Freeboard[i], 1e-12)
	}
	// Water that differs in its ions alone lies still.
	s.Freeboard[0], s.Freeboard[1] = water.Ions{water.Ca: 2.25 * (1 + 1e-12)}, water.Ions{water.Na: 4.5}
	s.overturn()
	require.Zero(t, s.Freeboard[1][water.Ca])
}
