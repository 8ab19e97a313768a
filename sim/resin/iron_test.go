package resin

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"brinebench/sim/repro"
	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

const ironMgL = 1 / 55.845 // mol/m³

// stand lets the bed stand.
func (c *cycle) stand(days float64) {
	for range 24 {
		c.model.March(&c.state, Ports{TempC: c.tempC}, days*3600)
	}
}

func requireIronPositive(t *testing.T, s *State) {
	t.Helper()
	f := &s.Iron
	ok := slices.Min(f.Freeboard[:]) >= 0 && f.Plenum >= 0 && f.TopOut >= 0 && f.BottomOut >= 0
	for k := range f.Held {
		for j := range f.Held[k] {
			ok = ok && f.Water[k][j] >= 0 && f.Held[k][j] >= 0 && f.Rust[k][j] >= 0 && !math.IsInf(f.Water[k][j], 0)
		}
	}
	require.True(t, ok)
}

// Whatever happens to a bed, its books close: cations, iron, the anion of both, and
// the sites until chlorine has taken some.
func TestWornBedConservesIonsIronAndCharge(t *testing.T) {
	for seed := range int64(3) {
		r := rand.New(rand.NewSource(seed))
		m := testModel(t, nil)
		s := m.Fresh(hard20)
		start := m.Inventory(&s)
		var in, out water.Ions
		iron, grossIron := 0.0, 0.0
		for n := range 2000 {
			p, dt := randomPorts(r, m)
			if r.Intn(3) > 0 {
				p.TopInIron, p.BottomInIron = math.Pow(10, 4*r.Float64()-4), math.Pow(10, 2*r.Float64()-2)
			}
			top, bottom := m.March(&s, p, dt)
			in = in.Plus(p.TopInM3, p.TopIn).Plus(p.BottomInM3, p.BottomIn)
			out = out.Plus(p.TopOutM3, top).Plus(p.BottomOutM3, bottom)
			enters := p.TopInM3*p.TopInIron + p.BottomInM3*p.BottomInIron
			grossIron += enters
			iron += enters - p.TopOutM3*s.Iron.TopOut - p.BottomOutM3*s.Iron.BottomOut
			switch {
			case n%300 == 299:
				released, sodium := m.Clean(&s, 3*r.Float64(), 3600*r.Float64())
				iron -= released
				in[water.Na] += sodium
			case n%500 == 499:
				gone, goneIron := m.Lose(&s, 0.2*r.Float64())
				out, iron = out.Plus(1, gone), iron-goneIron
			}
			if n > 1500 {
				m.Chlorinate(&s, r.Float64(), 40*r.Float64())
				continue
			}
			for k := range s.Q {
				for j := range s.Q[k] {
					sites := charge(&s.Q[k][j]) + s.Iron.Held[k][j] + s.Iron.Rust[k][j]
					require.InEpsilon(t, m.spec.CapacityEqM3, sites, 1e-11)
				}
			}
		}
		requirePositive(t, &s)
		requireIronPositive(t, &s)
		end := m.Inventory(&s)
		for i := range in {
			require.InDelta(t, 0, (start[i]+in[i]-out[i]-end[i])/(start[i]+in[i]), 1e-12, "ion %d, seed %d", i, seed)
		}
		require.InDelta(t, 0, (iron-m.IronMol(&s))/grossIron, 1e-12, "iron, seed %d", seed)
		require.Less(t, m.Spec().CapacityEqM3*0.01, s.Cut*m.Spec().CapacityEqM3)
	}
}

// A bed that has seen iron, but has none, is one without. The sites come from sums
// there, hence the tolerance.
func TestNoIronIsNoFouling(t *testing.T) {
	a, b := newCycle(DefaultSpec(ft3, 0.041), 8), newCycle(DefaultSpec(ft3, 0.041), 8)
	b.state.Iron.Present = true
	for _, c := range []*cycle{a, b} {
		c.coarse = 8
		c.regenerate()
		c.serve()
	}
	require.InEpsilon(t, a.capacity, b.capacity, 1e-9)
	require.InEpsilon(t, a.leak, b.leak, 1e-9)
	require.Zero(t, b.model.IronMol(&b.state))
}

// Iron is a fifth ion of Gaines and Thomas' mass action: little iron in hard water
// and in brine, and much in hard water.
func TestIronComesToEquilibriumWithTheOthers(t *testing.T) {
	for _, c := range []struct {
		w    water.Ions
		iron float64
	}{{hard20, 0.02}, {hard20, 2}, {water.Ions{water.Na: 1800, water.Ca: 3}, 0.5}} {
		m := testModel(t, nil)
		s := m.Fresh(c.w)
		for range 300 {
			m.March(&s, Ports{TopInM3: 1e3, BottomOutM3: 1e3, TopIn: c.w, TopInIron: c.iron, TempC: 25}, 1e-3)
			m.March(&s, Ports{TopInM3: 1e3, BottomOutM3: 1e3, TopIn: c.w, TopInIron: c.iron, TempC: 25}, 1e3)
		}
		a := c.w[water.Na]
		b := 2 * (m.kappa[water.Ca]*c.w[water.Ca] + m.kappa[water.Mg]*c.w[water.Mg] + kappaIron*c.iron)
		root := 0.5 * (a + math.Sqrt(a*a+4*b))
		want := 2 * kappaIron * c.iron / root / root
		sites := m.spec.CapacityEqM3 - s.Iron.Rust[0][0]
		require.InEpsilon(t, want, s.Iron.Held[0][0]/sites, 0.01, "%v", c)
	}
}

// 5 mg/L, and three weeks to rust in after each service.
func TestIronFoulsAndAcidCleans(t *testing.T) {
	c := newCycle(DefaultSpec(ft3, 0.041), 10)
	c.coarse = 4
	c.regenerate()
	c.serve()
	c.regenerate()
	c.serve()
	sound, rust := *c, 0.0
	c.ironMolM3 = 5 * ironMgL
	for range 4 {
		last := c.capacity
		c.regenerate()
		c.serve()
		require.Less(t, c.capacity, last)
		require.Less(t, c.ironLeak, 0.02*c.ironMolM3)
		c.stand(21)
		require.Greater(t, c.model.RustShare(&c.state), rust+0.005)
		rust = c.model.RustShare(&c.state)
	}
	t.Logf("%.2f kilograin/ft³ after %.2f, rust on %.4f of the sites", c.capacity, sound.capacity, rust)
	require.Less(t, c.capacity, sound.capacity*(1-rust)) // coated beads lose more than sites
	released := math.Inf(1)
	for range 3 {
		iron, sodium := c.model.Clean(&c.state, 2, 1800)
		t.Logf("%.3f mol of iron released", iron)
		require.InEpsilon(t, 2*iron, sodium, 1e-12)
		require.LessOrEqual(t, iron, min(released, 2.0/3)+1e-12)
		released = iron
	}
	require.Less(t, c.model.RustShare(&c.state), 0.1*rust)
	c.ironMolM3 = 0
	c.regenerate()
	c.serve()
	require.InEpsilon(t, sound.capacity, c.capacity, 0.03)
}

// What has not rusted leaves with the brine as hardness does, the more the more salt.
func TestBrineDrivesOutIronThatHasNotRusted(t *testing.T) {
	c := newCycle(DefaultSpec(ft3, 0.041), 10)
	c.coarse = 4
	c.regenerate()
	c.ironMolM3 = 3 * ironMgL
	c.serve()
	c.stand(1)
	rust := 0.5 * c.model.RustShare(&c.state) * c.model.spec.CapacityEqM3 * c.bedM3()
	held := c.model.IronMol(&c.state) - rust
	c.ironMolM3 = 0
	least := 0.6 * held
	for _, c.saltLbFt3 = range []float64{6, 10, 30} {
		d := *c
		d.regenerate()
		left := d.model.IronMol(&d.state) - rust
		t.Logf("%g lb/ft³: of %.3f mol held %.3f are left, rust %.3f", c.saltLbFt3, held, left, rust)
		require.Less(t, left, least)
		require.GreaterOrEqual(t, left, 0.0)
		least = left
	}
	require.Less(t, least, 0.05*held)
}

func TestStrongerAndLongerCleaningReleasesMore(t *testing.T) {
	m := testModel(t, nil)
	dirty := m.Fresh(hard20)
	came, gone := m.Foul(&dirty, 0.02)
	require.InEpsilon(t, 0.01*m.spec.CapacityEqM3*ft3, came, 1e-9)
	require.InEpsilon(t, 2*came, gone[water.Na], 1e-9)
	require.InEpsilon(t, 0.02, m.RustShare(&dirty), 1e-9)
	last := 0.0
	for _, c := range []struct{ acidEq, seconds float64 }{{0.5, 600}, {1, 600}, {1, 3600}, {4, 3600}, {4, 36000}} {
		s := dirty
		iron, _ := m.Clean(&s, c.acidEq, c.seconds)
		require.Greater(t, iron, last)
		require.LessOrEqual(t, iron, c.acidEq/3)
		last = iron
	}
	s := dirty
	iron, sodium := m.Clean(&s, 0, 3600)
	require.Zero(t, iron+sodium)
	require.Panics(t, func() { m.Clean(&s, math.NaN(), 1) })
}

func TestFouledBedTakesLess(t *testing.T) {
	capacity, leak := math.Inf(1), 0.0
	for _, rust := range []float64{0, 0.05, 0.15, 0.3} {
		c := newCycle(DefaultSpec(ft3, 0.041), 10)
		c.coarse = 8
		c.model.Foul(&c.state, rust)
		c.regenerate()
		c.serve()
		t.Logf("rust on %g of the sites: %.2f kilograin/ft³, leakage %.3f gpg", rust, c.capacity, c.leak)
		require.Less(t, c.capacity, capacity)
		require.Greater(t, c.leak, leak)
		capacity, leak = c.capacity, c.leak
	}
}

func TestRustSlowsTheExchange(t *testing.T) {
	left := math.Inf(1)
	for _, rust := range []float64{200, 50, 0} {
		m := testModel(t, nil)
		s := m.Fresh(hard20)
		s.Iron.Present, s.Iron.Rust[0][5] = true, rust
		s.C[0][5] = hard20
		m.March(&s, Ports{TempC: 20}, 2)
		require.Less(t, s.C[0][5].Hardness(), left)
		left = s.C[0][5].Hardness()
	}
}

func TestMarchWithIronAllocatesNothing(t *testing.T) {
	m := testModel(t, nil)
	s := m.Fresh(hard20)
	v := m.MaxVolume()
	require.Zero(t, testing.AllocsPerRun(5, func() {
		m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TopInIron: 0.02, TempC: 20, Remix: 0.01}, 1)
	}))
}

// The same on every processor, as TestMarchKeepsItsBits.
func TestWornBedKeepsItsBits(t *testing.T) {
	r := repro.NewHash()
	m := testModel(t, nil)
	s := m.Fresh(hard20)
	v := m.MaxVolume()
	for n := range 600 {
		p := Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TopInIron: 0.05, TempC: 12.5}
		switch n / 100 % 4 {
		case 1:
			p = Ports{BottomInM3: v, TopOutM3: v, BottomIn: hard20, BottomInIron: 0.02, TempC: 12.5, Remix: 0.05}
		case 2:
			p.TopIn = water.Ions{water.Na: 1800, water.K: 1}
		}
		m.March(&s, p, 20)
		switch n {
		case 150:
			m.Chlorinate(&s, 3, 22)
		case 350:
			m.Lose(&s, 0.13)
		case 450:
			m.Clean(&s, 1.5, 900)
		}
	}
	for k := range s.Q {
		for j := range s.Q[k] {
			r.Floats(s.Q[k][j][:])
			r.Floats(s.C[k][j][:])
		}
		r.Floats(s.Iron.Water[k][:])
		r.Floats(s.Iron.Held[k][:])
		r.Floats(s.Iron.Rust[k][:])
	}
	r.Floats([]float64{s.Cut, s.Lost, s.Iron.BottomOut})
	require.Equal(t, uint64(0xcd9ab0ebb53515b0), r.Sum())
}

func BenchmarkSpeedMarchWithIron(b *testing.B) {
	c := newCycle(DefaultSpec(ft3, 0.041), 6)
	c.regenerate()
	v := c.model.MaxVolume()
	b.ReportAllocs()
	for b.Loop() {
		c.model.March(&c.state, Ports{TopInM3: v, BottomOutM3: v, TopIn: hard20, TopInIron: 0.02, TempC: 20}, 0.9)
	}
}
