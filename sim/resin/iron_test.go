package resin

import (
	"math"
	"math/rand"
	"testing"

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
	ok := f.Freeboard >= 0 && f.Plenum >= 0 && f.TopOut >= 0 && f.BottomOut >= 0
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
	for seed := range int64(6) {
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
		c.coarse = 2
		c.regenerate()
		c.serve()
	}
	require.InEpsilon(t, a.capacity, b.capacity, 1e-9)
	require.InEpsilon(t, a.leak, b.leak, 1e-9)
	require.Zero(t, b.model.IronMol(&b.state))
}

// Iron is a fifth ion of Gaines and Thomas' mass action.
func TestIronComesToEquilibriumWithTheOthers(t *testing.T) {
	for _, c := range []struct {
		w    water.Ions
		iron float64
	}{{hard20, 0.02}, {hard20, 2}, {water.Ions{water.Na: 1800, water.Ca: 3}, 0.5}, {water.Ions{water.Na: 1}, 0.1}} {
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

func TestIronFoulsAndAcidCleans(t *testing.T) {
	c := newCycle(DefaultSpec(ft3, 0.041), 10)
	c.coarse = 4
	c.regenerate()
	c.serve()
	clean := *c
	c.ironMolM3 = 5 * ironMgL
	capacity, rust := clean.capacity, 0.0
	for range 6 {
		c.regenerate()
		iron := c.model.IronMol(&c.state)
		c.serve()
		c.stand(20)
		held := c.model.IronMol(&c.state) - iron
		t.Logf("capacity %.2f, leakage %.3f gpg, iron %.4f of %.4f mol/m³; %.3f mol came, rust on %.4f of the sites", c.capacity, c.leak, c.ironLeak, c.ironMolM3, held, c.model.RustShare(&c.state))
		capacity, rust = c.capacity, c.model.RustShare(&c.state)
	}
	_, _ = capacity, rust
	for n := range 4 {
		fe, na := c.model.Clean(&c.state, 2, 1800)
		t.Logf("cleaning %d: %.3f mol of iron, %.3f of sodium, rust %.4f", n, fe, na, c.model.RustShare(&c.state))
	}
	c.ironMolM3 = 0
	c.regenerate()
	c.serve()
	t.Logf("capacity %.2f of %.2f, leakage %.3f gpg of %.3f", c.capacity, clean.capacity, c.leak, clean.leak)
}
