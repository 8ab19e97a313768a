package resin

import (
	"math"

	"brinebench/sim/water"
)

// Iron is the iron in a bed, of a clear water: dissolved as Fe(II). Beads hold it
// as they hold calcium; brine drives it out again. What stays on them long enough
// is oxidised by the water's oxygen: rust, which keeps the sites that it held and
// coats the bead until an acid dissolves it. [Model.March] writes all of it, and
// [Model.Clean].
type Iron struct {
	Present           bool                  // iron has come in; without it March leaves the rest alone
	Water             [Paths][Cells]float64 // dissolved between the beads, mol/m³
	Held              [Paths][Cells]float64 // Fe(II) on exchange sites, mol of charge per m³ of bed
	Rust              [Paths][Cells]float64 // sites that rust keeps, mol of charge per m³ of bed; half as many mol of iron
	Freeboard         [Layers]float64       // dissolved in the water above the bed, by layer, mol/m³
	Plenum            float64               // dissolved in the water below the bed, mol/m³
	TopOut, BottomOut float64               // mean of what left freeboard and plenum in the last march, mol/m³
}

const (
	// kappaIron is as Model.kappa. The usual scale has no iron; its neighbours
	// Mn and Co stand at 4.09 and 3.74 with sodium at 1.98 (selectivity.csv in
	// testdata/reference/exchange, from memory), which makes K = 2·1.9·3.9/1.98.
	kappaIron = 500 * 7.5
	// rustPerS: of the iron held, so much rusts per second, a tenth in a day. Common
	// practice, no source: a softener takes a few mg/L of clear-water iron, most
	// leaves with the brine, and without cleaning the bed is spoilt in a few years.
	rustPerS = 0.1 / 86400
	// coating: film and bead exchange at 1/(1 + coating·share of sites in rust) of
	// their rates: half at a tenth. Common practice, no source: a fouled bed leaks
	// before its capacity is gone.
	coating = 10
)

// marchIron moves the iron on as [Model.March] has moved the other ions.
func (m *Model) marchIron(s *State, p *Ports, dtS float64) {
	f := &s.Iron
	f.Present = true
	down := p.TopInM3 - p.TopOutM3
	if down >= 0 {
		var toBed float64
		f.TopOut, toBed = m.sinkIron(s, p)
		through := m.ironPaths(s, p, down-p.PastM3, toBed, dtS)
		f.BottomOut = pass(&f.Plenum, m.spec.PlenumM3, down+p.BottomInM3,
			float64((down-p.PastM3)*through)+float64(p.PastM3*f.TopOut)+float64(p.BottomInM3*p.BottomInIron))
	} else {
		f.BottomOut = pass(&f.Plenum, m.spec.PlenumM3, p.BottomInM3, p.BottomInIron*p.BottomInM3)
		f.TopOut = m.riseIron(s, p, m.ironPaths(s, p, down+p.PastM3, f.BottomOut, dtS), f.BottomOut)
	}
}

// pass is stir for iron: in m³ with mol in it.
func pass(c *float64, v, in, mol float64) (out float64) {
	if in == 0 {
		return *c
	}
	tau := in / v
	return stirOne(c, tau, implicitness(tau), mol/in)
}

// ironPaths is paths for iron; it lets iron rust as well.
func (m *Model) ironPaths(s *State, p *Ports, down, cIn, dtS float64) (out float64) {
	rusting := float64(rustPerS*dtS) / (1 + float64(rustPerS*dtS))
	for k := range Paths {
		x := m.newExchange(s, math.Abs(down)*m.share[k], p.TempC, dtS)
		out += float64(m.share[k] * m.ironColumn(s, k, &x, down < 0, cIn))
		for j := range Cells {
			rusts := float64(rusting * s.Iron.Held[k][j])
			s.Iron.Held[k][j] -= rusts
			s.Iron.Rust[k][j] += rusts
		}
	}
	return out
}

// ironColumn is column for iron.
func (m *Model) ironColumn(s *State, k int, x *exchange, up bool, cIn float64) float64 {
	first, step := 0, 1
	if up {
		first, step = Cells-1, -1
	}
	in, before := cIn, cIn
	own := *x
	for n, j := 0, first; n < Cells; n, j = n+1, j+step {
		now := s.Iron.Water[k][j]
		after := now
		if n < Cells-1 {
			after = s.Iron.Water[k][j+step]
		}
		m.foul(&own, x, s, k, j)
		in = m.ironCell(s, k, j, &own, in, before, after)
		before = now
	}
	return in
}

// foul sets of to, for the cell j of path k, what iron changes in from: only the
// sites that iron leaves take part, behind the coat of rust.
func (m *Model) foul(to, from *exchange, s *State, k, j int) {
	coat := 1 + coating*s.Iron.Rust[k][j]/m.spec.CapacityEqM3
	m.beads(to, from.film/coat, from.particle/coat, charge(&s.Q[k][j]))
}

// charge is the sum over the cations, mol of charge where q is.
func charge(q *water.Ions) float64 {
	return float64(q[water.Na]+q[water.K]) + float64(q[water.Ca]+q[water.Mg])
}

// ironCell advances the iron of one cell after its other ions, in which iron is a
// trace: it follows the root that they have found, which is right for little iron,
// and for any amount among calcium and magnesium. Then it changes places with them. What has no place to go to stays for the next march, so that nothing goes
// negative in a water of iron alone. It returns the mean of what leaves.
func (m *Model) ironCell(s *State, k, j int, x *exchange, in, before, after float64) float64 {
	c, held := &s.Iron.Water[k][j], &s.Iron.Held[k][j]
	r, out := x.limited(*c, in, x.steepen(before, *c, after))
	r = float64(2 * r)
	taken := 0.0
	if t := s.Root[k][j]; t > 0 {
		hold := float64(x.b*charge(&s.Q[k][j])*kappaIron) / t / t
		atBead := (r + float64(x.b**held)) / (x.a + hold)
		taken = r - float64(x.a*(float64(x.slip*r)+float64(x.reach*atBead)))
	}
	taken = m.displace(&s.C[k][j], &s.Q[k][j], max(taken, -*held))
	*held = max(*held+taken, 0)
	*c = 0.5 * (r - taken) / x.a
	return out + float64(x.w**c)
}

// displace lets iron take so many sites, or give them up (mol of charge/m³ of
// bed), from and to the cations in the proportions that it finds: at most half of
// what is there. It returns what it could.
func (m *Model) displace(c, q *water.Ions, sites float64) float64 {
	if sites > 0 {
		all := charge(q)
		if all == 0 {
			return 0
		}
		sites = min(sites, float64(0.5*all))
		m.toWater(c, q, sites/all)
		return sites
	}
	all := float64(m.spec.Void * c.Anion())
	if all == 0 {
		return 0
	}
	sites = max(sites, float64(-0.5*all))
	f := -sites / all
	for i, z := range water.Charge {
		q[i] += float64(m.spec.Void * z * c[i] * f)
		c[i] -= float64(f * c[i])
	}
	return sites
}

// toWater moves the share f of what is on the resin into the water around it.
func (m *Model) toWater(c, q *water.Ions, f float64) {
	for i, z := range water.Charge {
		d := float64(f * q[i])
		q[i] -= d
		c[i] += d / (z * m.spec.Void)
	}
}

// swap is swap for the iron of two cells.
func (f *Iron) swap(ka, ja, kb, jb int, share float64) {
	if f.Present {
		swapOne(&f.Water[ka][ja], &f.Water[kb][jb], share)
		swapOne(&f.Held[ka][ja], &f.Held[kb][jb], share)
		swapOne(&f.Rust[ka][ja], &f.Rust[kb][jb], share)
	}
}

// IronMol returns the iron in the water and on the resin, rust included, mol.
func (m *Model) IronMol(s *State) float64 {
	f := &s.Iron
	bed := 0.0
	for k := range f.Held {
		for j := range f.Held[k] {
			bed += float64(m.spec.Void*f.Water[k][j]) + float64(0.5*(f.Held[k][j]+f.Rust[k][j]))
		}
	}
	return float64(bed*m.cellOf(s)) + float64(m.freeboardOf(s)*meanOf(f.Freeboard[:])) + float64(m.spec.PlenumM3*f.Plenum)
}

// RustShare returns the share of a new bed's sites that rust keeps, 0..1.
func (m *Model) RustShare(s *State) float64 {
	sum := 0.0
	for k := range s.Iron.Rust {
		for _, x := range s.Iron.Rust[k] {
			sum += x
		}
	}
	return sum / (Cells * Paths * m.spec.CapacityEqM3)
}

// Foul gives rust a share (0 ≤ x < 1) of the sites that are still in use, as a long
// time of clear-water iron would: alike in all cells, since iron travels down the
// bed with the hardness and a backwash mixes the layers. It returns the iron that
// has come in for it and the cations that have gone, mol, for the caller's books.
func (m *Model) Foul(s *State, share float64) (ironMol float64, gone water.Ions) {
	if !(share >= 0 && share < 1) {
		panic("resin: the share fouled must lie between 0 and 1")
	}
	had, hadIron := m.Inventory(s), m.IronMol(s)
	s.Iron.Present = s.Iron.Present || share > 0
	for k := range s.Q {
		for j := range s.Q[k] {
			s.Iron.Rust[k][j] += float64(share * charge(&s.Q[k][j]))
			s.Q[k][j] = s.Q[k][j].Scale(1 - share)
		}
	}
	return m.IronMol(s) - hadIron, had.Plus(-1, m.Inventory(s))
}

// Clean lets acidEq (mol of hydrogen ion, ≥ 0) of a resin cleaner stand in the bed
// for seconds (≥ 0). It dissolves rust and drives out the iron held, at most one
// mol of iron per three of acid, and takes it along to the drain. The sites come back
// in the sodium form, from the cleaner's own sodium and the brine after it. It
// returns the iron that went out and the sodium that went in, mol: both are for
// the caller's books.
func (m *Model) Clean(s *State, acidEq, seconds float64) (ironMol, sodiumMol float64) {
	if !(acidEq >= 0 && seconds >= 0) {
		panic("resin: acid and time must not be negative")
	}
	cell := m.cellOf(s)
	// 70 % in half an hour at 190 mol/m³ between the beads, the usual dose of some
	// 2 mol to a cubic foot. Common practice, no source.
	const perAcid = 7e-6 // m³/(mol·s)
	x := float64(perAcid * acidEq / (m.spec.Void * cell * (Cells * Paths)) * seconds)
	f := x / (1 + x)
	all := 0.0
	for k := range s.Q {
		for j := range s.Q[k] {
			all += s.Iron.Held[k][j] + s.Iron.Rust[k][j]
		}
	}
	if all *= 0.5 * cell; all > 0 {
		f = min(f, acidEq/(3*all))
	}
	for k := range s.Q {
		for j := range s.Q[k] {
			held, rust := float64(f*s.Iron.Held[k][j]), float64(f*s.Iron.Rust[k][j])
			s.Iron.Held[k][j] -= held
			s.Iron.Rust[k][j] -= rust
			s.Q[k][j][water.Na] += held + rust
		}
	}
	return float64(f * all), float64(2 * f * all)
}
