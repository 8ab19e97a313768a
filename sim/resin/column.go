package resin

import (
	"math"

	"brinebench/sim/water"
)

// exchange holds the coefficients of one path's cells for one march: the
// balance of a cell, with concentrations in mol of charge, is
//
//	R = store·c⁰ + τ·(c_in − steepening),  A·c + Δq = R,
//	Δq = kf·dt·(c − c^s) = β·(Q·y(c^s) − q⁰)
//
// with the particle's and the film's linear driving force in series.
type exchange struct {
	tau      float64    // volume passed per cell volume
	w        float64    // weight of the new concentration in the outflow
	store, a float64    // θ − (1−w)τ and A = θ + wτ
	room     float64    // store/τ
	b        float64    // γβ with γ = 1 + A/(kf·dt)
	reach    float64    // 1/γ
	slip     float64    // (1 − 1/γ)/A
	hold     water.Ions // γβQκ

	film, particle, dtS float64 // rates, 1/s, and the time of the march
}

// newExchange is for pass (m³) through one path.
func (m *Model) newExchange(s *State, pass, tempC, dtS float64) exchange {
	theta := m.spec.Void
	tau := pass / m.cellOf(s)
	film, particle := m.rates(tau/dtS*(1-s.Lost), tempC)
	w := implicitness(tau / theta)
	x := exchange{tau: tau, w: w, store: theta - float64((1-w)*tau), a: theta + float64(w*tau), dtS: dtS}
	x.room = x.store / tau
	m.beads(&x, film, particle, m.spec.CapacityEqM3*sound(s.Cut))
	return x
}

// beads sets what depends on the beads: rates (1/s) and capacity (mol of
// charge/m³ of bed).
func (m *Model) beads(x *exchange, film, particle, capacity float64) {
	x.film, x.particle = film, particle
	gamma := 1 + x.a/(film*x.dtS)
	x.b = gamma * particle * x.dtS / (1 + float64(particle*x.dtS))
	x.reach = 1 / gamma
	x.slip = (1 - x.reach) / x.a
	x.hold = m.kappa.Scale(x.b * capacity)
}

// column marches the water of path k through its cells in the direction of
// flow, entering with cIn (mol/m³), and returns the mean of what leaves.
func (m *Model) column(s *State, k int, x *exchange, up bool, cIn water.Ions) water.Ions {
	first, step := 0, 1
	if up {
		first, step = Cells-1, -1
	}
	in := cIn     // mean of what enters the cell
	before := cIn // what stood upstream at the start
	own := *x
	for n, j := 0, first; n < Cells; n, j = n+1, j+step {
		after := &s.C[k][j]
		if n < Cells-1 {
			after = &s.C[k][j+step]
		}
		if s.Iron.Present {
			m.foul(&own, x, s, k, j)
		}
		own.cell(&s.C[k][j], &s.Q[k][j], &s.Root[k][j], &in, &before, after)
	}
	return in
}

// cell advances one cell: c (mol/m³), q (mol of charge/m³ of bed) and the root.
// in is the mean of what enters, before and after are the neighbours' water at
// the start. It leaves in in the mean of what leaves, and in before what stood in
// the cell: a processor waits when an array is copied of which it has just written
// the parts.
func (x *exchange) cell(c, q *water.Ions, root *float64, in, before, after *water.Ions) {
	var r, p water.Ions // mol of charge per m³ of bed
	total := 0.0
	for i, z := range water.Charge {
		c0 := c[i]
		e := x.steepen(before[i], c0, after[i], in[i])
		ri := float64(z * (float64(x.store*c0) + float64(x.tau*(in[i]-e))))
		if ri < 0 {
			ri = 0 // round-off of a limit that was just met
		}
		in[i] = float64((1-x.w)*c0) + e
		before[i] = c0
		r[i] = ri
		p[i] = ri + float64(x.b*q[i])
		total += ri
	}
	x.surface(&p, root, total/x.a)
	for i := range p {
		// (R − Δq)/A, written as a mean of no exchange and full exchange: it
		// cannot be negative.
		c1 := float64(x.slip*r[i]) + float64(x.reach*p[i])
		q1 := q[i] + (r[i] - float64(x.a*c1))
		if q1 < 0 { // round-off at an ion that is all but gone
			c1, q1 = (r[i]+q[i])/x.a, 0
		}
		q[i] = q1
		c1 = float64(c1 * perCharge[i])
		c[i] = c1
		in[i] += float64(x.w * c1)
	}
}

// perCharge is the inverse of water.Charge.
var perCharge = water.Ions{1, 1, 0.5, 0.5}

// steepen returns what is added to the outflow of a cell against numerical
// spreading: half of van Leer's limited slope in the direction of flow, held
// within what keeps cell and outflow positive.
func (x *exchange) steepen(before, c, after, in float64) float64 {
	rise, next := c-before, after-c
	product := rise * next
	if product <= 0 || x.tau == 0 {
		return 0
	}
	e := product / (rise + next)
	if e < 0 {
		return max(e, -float64((1-x.w)*c))
	}
	return min(e, in+float64(x.room*c))
}

// surface turns p = R + γβq⁰ into the water at the beads' surface, mol of
// charge/m³: with t = 1/s each ion has c = p·t^z/(A·t^z + γβQκ), and all must add
// up to total. The sum rises steadily with t, so that Newton's method within a
// bracket finds its one root. root is the starting value and the result.
func (x *exchange) surface(p *water.Ions, root *float64, total float64) {
	if total < 1e-200 {
		*p = water.Ions{}
		return
	}
	pNa, pK, pCa, pMg := p[water.Na], p[water.K], p[water.Ca], p[water.Mg]
	hNa, hK, hCa, hMg := x.hold[water.Na], x.hold[water.K], x.hold[water.Ca], x.hold[water.Mg]
	var cNa, cK, cCa, cMg, sum float64
	t, lo, hi := *root, 0.0, math.Inf(1)
	if !(t > 0) {
		t = total
	}
	for range maxIterations {
		at, t2 := float64(x.a*t), float64(t*t)
		at2 := float64(at * t)
		na, k, ca, mg := 1/(at+hNa), 1/(at+hK), 1/(at2+hCa), 1/(at2+hMg)
		cNa, cK, cCa, cMg = float64(pNa*t*na), float64(pK*t*k), float64(pCa*t2*ca), float64(pMg*t2*mg)
		sum = cNa + cK + cCa + cMg
		slope := (float64(cNa*na*hNa) + float64(cK*k*hK) +
			float64(2*(float64(cCa*ca*hCa)+float64(cMg*mg*hMg)))) / t
		miss := sum - total
		if miss > 0 {
			hi = t
		} else {
			lo = t
		}
		next := t - miss/slope
		if !(next > lo && next < hi) {
			next = min(float64(2*t), 0.5*(lo+hi))
		}
		done := math.Abs(next-t) <= tolerance*next
		t = next
		if done {
			break
		}
	}
	*root = t
	// What is left of the residual is shared out, so that charge is conserved
	// to round-off.
	f := total / sum
	p[water.Na], p[water.K] = float64(cNa*f), float64(cK*f)
	p[water.Ca], p[water.Mg] = float64(cCa*f), float64(cMg*f)
}

// Bounds of the search for the root: relative change of the last step, and
// steps. Two or three are usual.
const (
	tolerance     = 1e-7
	maxIterations = 80
)
