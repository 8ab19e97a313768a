package resin

import (
	"math"
	"testing"

	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

func TestChlorineTakesSitesAndPacksTheBed(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(hard20)
	was := m.Inventory(&s)
	m.Chlorinate(&s, 1400*ft3, 20)
	require.InEpsilon(t, 0.5, s.Cut, 1e-12)
	require.InDeltaSlice(t, was[:], func() []float64 { x := m.Inventory(&s); return x[:] }(), 1e-12)
	require.InEpsilon(t, 0.75*m.spec.CapacityEqM3, charge(&s.Q[1][7]), 1e-12)

	// Ergun's viscous term: about twice the loss.
	loss := func(void float64) float64 { return (1 - void) * (1 - void) / (void * void * void) }
	require.InDelta(t, 2, loss(m.Void(&s))/loss(m.spec.Void), 0.1)

	parts, warm := m.Fresh(hard20), m.Fresh(hard20)
	for range 100 {
		m.Chlorinate(&parts, 14*ft3, 20)
	}
	require.InEpsilon(t, s.Cut, parts.Cut, 1e-9)
	require.InEpsilon(t, s.Q[0][3][water.Na], parts.Q[0][3][water.Na], 1e-9)
	m.Chlorinate(&warm, 700*ft3, 30)
	require.InEpsilon(t, s.Cut, warm.Cut, 1e-9)
	require.Panics(t, func() { m.Chlorinate(&s, -1, 20) })
}

func TestCapacityFallsWithChlorine(t *testing.T) {
	capacity := math.Inf(1)
	for _, dose := range []float64{0, 700, 1400} {
		c := newCycle(DefaultSpec(ft3, 0.041), 10)
		c.coarse = 4
		c.model.Chlorinate(&c.state, dose*ft3, 20)
		c.regenerate()
		c.serve()
		t.Logf("dose %g mol/m³: %.2f kilograin/ft³", dose, c.capacity)
		require.Less(t, c.capacity, capacity)
		capacity = c.capacity
	}
}

// A bed that has lost 30 % of its depth is a shallower bed under more water.
func TestBedThatHasLostItsTopIsAShallowerBed(t *testing.T) {
	m := testModel(t, nil)
	short := testModel(t, func(sp *Spec) {
		sp.DepthM *= 0.7
		sp.FreeboardM3 += 0.3 * ft3
	})
	a, b := m.Fresh(hard20), short.Fresh(hard20)
	m.Lose(&a, 0.3)
	require.InEpsilon(t, short.spec.DepthM, m.DepthM(&a), 1e-12)
	v := short.MaxVolume()
	for n := range 3000 {
		p := Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TempC: 20}
		if n > 2000 {
			p.TopIn = water.Ions{water.Na: 1800}
		}
		_, x := m.March(&a, p, 0.9)
		_, y := short.March(&b, p, 0.9)
		require.InDeltaSlice(t, y[:], x[:], 1e-7)
	}
	has, want := m.Inventory(&a), short.Inventory(&b)
	require.InDeltaSlice(t, want[:], has[:], 1e-6)
}

// What is lost is the top, and the rest keeps its layers.
func TestLosingTheTopKeepsTheLayersBelow(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(water.Ions{water.Na: 5})
	for k := range s.Q {
		for j := range Cells / 4 {
			s.Q[k][j] = water.Ions{water.Ca: m.spec.CapacityEqM3}
		}
	}
	gone, iron := m.Lose(&s, 0.1)
	require.Zero(t, iron)
	require.InEpsilon(t, 0.1*m.spec.CapacityEqM3*ft3/2, gone[water.Ca], 1e-9)
	// The lost beads are replaced by water with 5 mol/m³ of sodium.
	require.InEpsilon(t, -0.1*ft3*(1-m.spec.Void)*5, gone[water.Na], 1e-9)
	require.InEpsilon(t, 5, s.Freeboard[0][water.Na], 1e-9)
	calcium := 0.0
	for j := range Cells {
		calcium += s.Q[0][j][water.Ca] / m.spec.CapacityEqM3 / Cells
		require.InEpsilon(t, m.spec.CapacityEqM3, charge(&s.Q[0][j]), 1e-12)
	}
	require.InEpsilon(t, 0.15/0.9, calcium, 1e-9)
	require.Zero(t, s.Q[1][8][water.Ca])
	m.Lose(&s, 0.5)
	require.InEpsilon(t, 0.55, s.Lost, 1e-12)
	require.Panics(t, func() { m.Lose(&s, 1) })
}
