package resin

import (
	"math"
	"math/rand"
	"testing"

	"brinebench/sim/repro"
	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

func testModel(t testing.TB, change func(*Spec)) *Model {
	t.Helper()
	sp := DefaultSpec(ft3, 0.041)
	if change != nil {
		change(&sp)
	}
	m, err := NewModel(sp)
	require.NoError(t, err)
	return m
}

// randomPorts draws a march of any kind: down, up, neither, both ends flushed.
func randomPorts(r *rand.Rand, m *Model) (p Ports, dt float64) {
	waters := []water.Ions{hard20, {}, {water.Na: 1800, water.K: 40}, {water.Ca: 3}, {water.K: 900}, {water.Na: 1e-9}, {water.Mg: 50}}
	p.TopIn, p.BottomIn = waters[r.Intn(len(waters))], waters[r.Intn(len(waters))]
	v := func() float64 { return m.MaxVolume() * math.Pow(10, float64(r.Intn(5))-2) * r.Float64() }
	through := v()
	switch r.Intn(4) {
	case 0:
		p.TopInM3, p.BottomOutM3 = through, through
	case 1:
		p.BottomInM3, p.TopOutM3 = through, through
	case 2:
		side := v()
		p.TopInM3, p.TopOutM3 = through+side, side
		p.BottomOutM3 = through
	}
	p.TempC = -5 + 60*r.Float64()
	if r.Intn(5) == 0 {
		p.Remix = r.Float64()
	}
	return p, math.Pow(10, 8*r.Float64()-4)
}

// liquidAnion is the anion in all the water of the bed, mol.
func liquidAnion(m *Model, s *State) float64 {
	sum := m.spec.FreeboardM3*mean(s.Freeboard[:]).Anion() + m.spec.PlenumM3*s.Plenum.Anion()
	for p := range s.C {
		for j := range s.C[p] {
			sum += m.spec.Void * m.cellM3 * s.C[p][j].Anion()
		}
	}
	return sum
}

func requirePositive(t *testing.T, s *State) {
	t.Helper()
	ok := func(c water.Ions) bool {
		for _, x := range c {
			if !(x >= 0) || math.IsInf(x, 0) {
				return false
			}
		}
		return true
	}
	require.True(t, ok(s.Plenum), "plenum %v", s.Plenum)
	for _, c := range s.Freeboard {
		require.True(t, ok(c), "freeboard %v", s.Freeboard)
	}
	for p := range s.C {
		for j := range s.C[p] {
			require.True(t, ok(s.C[p][j]) && ok(s.Q[p][j]), "cell %d: %v %v", j, s.C[p][j], s.Q[p][j])
		}
	}
}

func TestMarchConservesIonsAndCharge(t *testing.T) {
	for seed := range int64(6) {
		r := rand.New(rand.NewSource(seed))
		m := testModel(t, nil)
		s := m.Fresh(hard20)
		var in, out, gross water.Ions
		anion, grossAnion := 0.0, 0.0
		start, startAnion := m.Inventory(&s), liquidAnion(m, &s)
		for range 3000 {
			p, dt := randomPorts(r, m)
			top, bottom := m.March(&s, p, dt)
			in = in.Plus(p.TopInM3, p.TopIn).Plus(p.BottomInM3, p.BottomIn)
			out = out.Plus(p.TopOutM3, top).Plus(p.BottomOutM3, bottom)
		}
		anion = in.Anion() - out.Anion()
		end := m.Inventory(&s)
		for i := range in {
			gross[i] = start[i] + in[i]
			require.InDelta(t, 0, (start[i]+in[i]-out[i]-end[i])/gross[i], 1e-12, "ion %d, seed %d", i, seed)
		}
		grossAnion = startAnion + in.Anion()
		require.InDelta(t, 0, (startAnion+anion-liquidAnion(m, &s))/grossAnion, 1e-12, "charge, seed %d", seed)
		for k := range s.Q {
			for j := range s.Q[k] {
				q := s.Q[k][j]
				require.InEpsilon(t, m.spec.CapacityEqM3, q[0]+q[1]+q[2]+q[3], 1e-11)
			}
		}
	}
}

func TestMarchStaysPositive(t *testing.T) {
	for seed := range int64(4) {
		r := rand.New(rand.NewSource(100 + seed))
		m := testModel(t, func(sp *Spec) { sp.PathSpread = 0.6 })
		s := m.Fresh(water.Ions{water.K: 5})
		for range 1500 {
			p, dt := randomPorts(r, m)
			if r.Intn(10) == 0 { // a thousand beds of water at once
				p.TopInM3, p.TopOutM3, p.BottomInM3, p.BottomOutM3 = 30, 0, 0, 30
			}
			top, bottom := m.March(&s, p, dt)
			requirePositive(t, &s)
			for i := range top {
				require.True(t, top[i] >= 0 && bottom[i] >= 0 && !math.IsInf(top[i]+bottom[i], 0))
			}
		}
	}
}

func TestMarchTakesWaterWithoutIons(t *testing.T) {
	m := testModel(t, nil)
	for name, s := range map[string]State{"fresh in pure water": m.Fresh(water.Ions{}), "hard": func() (s State) { m.Equilibrate(&s, hard20); return }()} {
		v := m.MaxVolume()
		for range 4000 {
			m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TempC: 20}, 1)
		}
		requirePositive(t, &s)
		require.Less(t, s.Plenum.Anion(), 0.05, name)
		m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TempC: 20}, 1)
		requirePositive(t, &s)
	}
}

// The bed itself: above it gravity orders the water.
func TestUpflowMirrorsDownflow(t *testing.T) {
	m := testModel(t, nil)
	r := rand.New(rand.NewSource(7))
	a := m.Fresh(hard20)
	b := a
	for range 300 {
		p, dt := randomPorts(r, m)
		down, in := p.TopInM3-p.TopOutM3, p.TopIn
		if down < 0 {
			in = p.BottomIn
		}
		x, y := m.paths(&a, &p, down, in, dt), m.paths(&b, &p, -down, in, dt)
		for i := range x {
			if down != 0 { // something leaves
				require.InDelta(t, x[i], y[i], 1e-7*(1+x[i]))
			}
		}
		remix(&a, p.Remix*dt)
		remix(&b, p.Remix*dt)
	}
	for k := range a.Q {
		for j := range a.Q[k] {
			for i := range a.Q[k][j] {
				require.InDelta(t, a.Q[k][j][i], b.Q[k][Cells-1-j][i], 1e-6)
			}
		}
	}
}

// A plug of salt through resin that it cannot change shows the advection alone:
// no new extremes, and less spreading than an upwind march would give.
func TestAdvectionIsSharpAndBounded(t *testing.T) {
	m := testModel(t, func(sp *Spec) { sp.PathSpread, sp.FreeboardM3, sp.PlenumM3 = 0, 1e-9, 1e-9 })
	s := m.Fresh(water.Ions{water.Na: 10})
	v := m.MaxVolume()
	pore := m.spec.Void * ft3
	var at []float64
	for x := v; x < 1.5*pore; x += v {
		_, out := m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: water.Ions{water.Na: 1000}, TempC: 20}, 1)
		require.GreaterOrEqual(t, out[water.Na], 10-1e-9)
		require.LessOrEqual(t, out[water.Na], 1000+1e-9)
		if f := (out[water.Na] - 10) / 990; f > 0.16 && len(at) == 0 || f > 0.5 && len(at) == 1 || f > 0.84 && len(at) == 2 {
			at = append(at, (x-v/2)/pore)
		}
	}
	require.Len(t, at, 3)
	require.InDelta(t, 1, at[1], 0.02)
	t.Logf("16–84 %% width %.3f pore volumes", at[2]-at[0])
	require.Less(t, at[2]-at[0], 0.12) // upwind and implicit: 2·√(1.5/40) = 0.39
}

func TestHalfTheStepChangesLittle(t *testing.T) {
	var got [3]*cycle
	for n := range got {
		c := newCycle(DefaultSpec(ft3, 0.041), 10)
		c.coarse = 2 / float64(int(1)<<n)
		c.regenerate()
		got[n] = c
		requirePositive(t, &c.state)
	}
	load := func(c *cycle) (x float64) {
		for k := range c.state.Q {
			for j := range c.state.Q[k] {
				x += 1 - c.state.Q[k][j][water.Na]/c.model.spec.CapacityEqM3
			}
		}
		return x / Cells / Paths
	}
	d1, d2 := math.Abs(load(got[1])-load(got[0])), math.Abs(load(got[2])-load(got[1]))
	t.Logf("load after regeneration %.5f %.5f %.5f at 2, 1, ½ MaxVolume", load(got[0]), load(got[1]), load(got[2]))
	require.Less(t, d2, 0.7*d1)
	require.Less(t, d2, 0.002)
}

func TestStandingWaterOnlyComesToEquilibrium(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(hard20)
	for k := range s.C {
		for j := range s.C[k] {
			s.C[k][j] = hard20
		}
	}
	before := m.Inventory(&s)
	last := hard20.Hardness()
	for range 30 {
		m.March(&s, Ports{TempC: 20}, 5)
		require.Less(t, s.C[0][9].Hardness(), last)
		last = s.C[0][9].Hardness()
	}
	require.Less(t, last, 1e-3*hard20.Hardness())
	require.InDeltaSlice(t, before[:], func() []float64 { x := m.Inventory(&s); return x[:] }(), 1e-9)
}

func TestColdWaterExchangesSlower(t *testing.T) {
	m := testModel(t, nil)
	left := func(tempC float64) float64 {
		s := m.Fresh(hard20)
		s.C[1][3] = hard20
		m.March(&s, Ports{TempC: tempC}, 2)
		return s.C[1][3].Hardness()
	}
	require.Greater(t, left(5), left(15))
	require.Greater(t, left(15), left(30))
}

// halfSpent is a bed whose upper half is exhausted.
func halfSpent(m *Model) State {
	s := m.Fresh(hard20)
	for k := range s.Q {
		for j := range Cells / 2 {
			s.Q[k][j] = water.Ions{water.Ca: m.spec.CapacityEqM3}
		}
	}
	return s
}

func TestRemixSpreadsTheLayersEvenly(t *testing.T) {
	m := testModel(t, nil)
	s := halfSpent(m)
	was := m.Inventory(&s)
	for range 4000 {
		m.March(&s, Ports{TempC: 20, Remix: 1}, 1)
	}
	now := m.Inventory(&s)
	require.InDeltaSlice(t, was[:], now[:], 1e-9)
	for j := range Cells {
		require.InDelta(t, m.spec.CapacityEqM3/2, s.Q[0][j][water.Ca], 1)
	}
}

// The same on every processor: also run this under GOARCH=wasm and arm64.
func TestMarchKeepsItsBits(t *testing.T) {
	r := repro.NewHash()
	m := testModel(t, nil)
	s := m.Fresh(hard20)
	v := m.MaxVolume()
	brine := water.Ions{water.Na: 1800, water.Ca: 3, water.K: 1}
	for n := range 2000 {
		p := Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TempC: 12.5}
		switch n / 250 % 4 {
		case 1:
			p = Ports{BottomInM3: v, TopOutM3: v, BottomIn: hard20, TempC: 12.5, Remix: 0.05}
		case 2:
			p.TopIn = brine
		}
		m.March(&s, p, 2)
	}
	for k := range s.Q {
		for j := range s.Q[k] {
			r.Floats(s.Q[k][j][:])
			r.Floats(s.C[k][j][:])
		}
	}
	require.Equal(t, uint64(0x167b642350784795), r.Sum())
}

func TestMarchRefusesImpossiblePorts(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(hard20)
	for name, p := range map[string]Ports{
		"negative volume": {TopInM3: -1, BottomOutM3: -1},
		"no balance":      {TopInM3: 1e-3, BottomOutM3: 2e-3},
		"not a number":    {TopInM3: math.NaN()},
	} {
		require.Panics(t, func() { m.March(&s, p, 1) }, name)
	}
	require.Panics(t, func() { m.March(&s, Ports{}, 0) }, "no time")
}

func BenchmarkSpeedMarch(b *testing.B) {
	c := newCycle(DefaultSpec(ft3, 0.041), 6)
	c.regenerate()
	v := c.model.MaxVolume()
	b.ReportAllocs()
	for b.Loop() {
		c.model.March(&c.state, Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TempC: 20}, 0.9)
	}
}

func BenchmarkSpeedRegeneration(b *testing.B) {
	c := newCycle(DefaultSpec(ft3, 0.041), 6)
	b.ReportAllocs()
	for b.Loop() {
		c.regenerate()
	}
}

// TestStirringLeavesNoLayers mixes a bed whose upper half is exhausted: nothing is lost, and
// every cell holds the same.
func TestStirringLeavesNoLayers(t *testing.T) {
	m := testModel(t, nil)
	s := halfSpent(m)
	was := m.Inventory(&s)
	Stir(&s)
	now := m.Inventory(&s)
	require.InDeltaSlice(t, was[:], now[:], 1e-9)
	for k := range s.Q {
		for j := range Cells {
			require.InDelta(t, m.spec.CapacityEqM3/2, s.Q[k][j][water.Ca], 0.01*m.spec.CapacityEqM3)
		}
	}
}
