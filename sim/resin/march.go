package resin

import (
	"math"

	"brinebench/sim/water"
)

// Ports is what crosses the boundary of the bed during one march. Volumes are
// for the whole of dt and not negative; water is taken as incompressible, so
// TopInM3 − TopOutM3 = BottomOutM3 − BottomInM3 is the volume that goes down
// through the tank (up when negative).
type Ports struct {
	TopInM3, TopOutM3       float64    // into and out of the freeboard, m³
	BottomInM3, BottomOutM3 float64    // into and out of the plenum, m³
	PastM3                  float64    // of what goes through the tank, so much goes past the bed, m³; not negative, and no more than there is
	TopIn, BottomIn         water.Ions // in what enters, mol/m³
	TopInIron, BottomInIron float64    // dissolved iron in it, mol/m³
	TempC                   float64    // water temperature, °C, held within 0..50
	Remix                   float64    // rate at which neighbouring layers of a fluidised bed change places, 1/s, 0..1; 0 at rest
}

// check panics on ports that no plant can have.
func (p *Ports) check(dtS float64) {
	if !(p.TopInM3 >= 0 && p.TopOutM3 >= 0 && p.BottomInM3 >= 0 && p.BottomOutM3 >= 0 && p.Remix >= 0 &&
		p.TopInIron >= 0 && p.BottomInIron >= 0 && dtS > 0) {
		panic("resin: volumes, iron and remixing must not be negative, and time must be positive")
	}
	if !(p.PastM3 >= 0 && p.PastM3 <= math.Abs(p.TopInM3-p.TopOutM3)) {
		panic("resin: what goes past the bed must be a part of what goes through the tank")
	}
	gap := math.Abs((p.TopInM3 - p.TopOutM3) - (p.BottomOutM3 - p.BottomInM3))
	if !(gap <= 1e-9*(p.TopInM3+p.TopOutM3+p.BottomInM3+p.BottomOutM3)) {
		panic("resin: the volumes at top and bottom do not agree")
	}
}

// March moves the state on by dtS seconds. It returns the mean concentrations
// (mol/m³) over that time of what leaves the freeboard and the plenum. It
// conserves every ion and keeps every amount positive for any volume and time;
// see [Model.MaxVolume] for accuracy. It panics when a volume or
// iron is negative, the volumes disagree or dtS is not positive.
func (m *Model) March(s *State, p Ports, dtS float64) (topOut, bottomOut water.Ions) {
	p.check(dtS)
	down := p.TopInM3 - p.TopOutM3
	if down >= 0 {
		var toBed water.Ions
		topOut, toBed = m.sink(s, &p)
		toPlenum := blend(down-p.PastM3, m.paths(s, &p, down-p.PastM3, toBed, dtS), p.PastM3, topOut)
		bottomOut = stir(&s.Plenum, m.spec.PlenumM3, down+p.BottomInM3,
			blend(down, toPlenum, p.BottomInM3, p.BottomIn))
	} else {
		bottomOut = stir(&s.Plenum, m.spec.PlenumM3, p.BottomInM3, p.BottomIn)
		topOut = m.rise(s, &p, m.paths(s, &p, down+p.PastM3, bottomOut, dtS), bottomOut)
	}
	if p.TopInIron > 0 || p.BottomInIron > 0 || s.Iron.Present {
		m.marchIron(s, &p, dtS)
	}
	s.overturn()
	if p.Remix > 0 {
		remix(s, p.Remix*dtS)
	}
	return topOut, bottomOut
}

// paths marches the water of both paths: volume down (m³, negative for up) in
// all, entering with cIn. It returns the mean of what leaves the bed.
func (m *Model) paths(s *State, p *Ports, down float64, cIn water.Ions, dtS float64) (out water.Ions) {
	for k := range Paths {
		x := m.newExchange(s, math.Abs(down)*m.share[k], p.TempC, dtS)
		left := m.column(s, k, &x, down < 0, cIn)
		out = out.Plus(m.share[k], left)
	}
	return out
}

// implicitness returns the weight of the new concentration in the mean outflow
// of a stirred volume while τ times its content passes: one half, the
// second-order choice, until that would let go of more than half of what was
// there.
func implicitness(tau float64) float64 {
	if tau <= 1 {
		return 0.5
	}
	return 1 - 0.5/tau
}

// stir passes volume in (m³, of cIn) through a stirred volume v (m³) and
// returns the mean concentration of what left.
func stir(c *water.Ions, v, in float64, cIn water.Ions) (out water.Ions) {
	tau := in / v
	w := implicitness(tau)
	for i := range c {
		out[i] = stirOne(&c[i], tau, w, cIn[i])
	}
	return out
}

// stirOne is stir for one substance while τ times the content passes.
func stirOne(c *float64, tau, w, cIn float64) (out float64) {
	keep, all := 1-float64((1-w)*tau), 1+float64(w*tau)
	c0 := *c
	c1 := (float64(keep*c0) + float64(tau*cIn)) / all
	*c = c1
	return float64((1-w)*c0) + float64(w*c1)
}

// blend returns the concentration of va of a mixed with vb of b.
func blend(va float64, a water.Ions, vb float64, b water.Ions) water.Ions {
	if va+vb == 0 {
		return a
	}
	f := vb / (va + vb)
	return a.Scale(1-f).Plus(f, b)
}
