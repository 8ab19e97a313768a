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
	keep     float64    // 1−w
	room     float64    // store/τ
	peak     float64    // 0, or ∞ when nothing passes: see steepen
	b        float64    // γβ with γ = 1 + A/(kf·dt)
	reach    float64    // 1/γ
	slip     float64    // (1 − 1/γ)/A
	hold     water.Ions // γβQκ

	film, particle, dtS float64 // rates, 1/s, and the time of the march
	trend               float64 // by what factor the root of the cell before has changed
}

// newExchange is for pass (m³) through one path.
func (m *Model) newExchange(s *State, pass, tempC, dtS float64) exchange {
	theta := m.spec.Void
	tau := pass / m.cellOf(s)
	film, particle := m.rates(tau/dtS*(1-s.Lost), tempC)
	w := implicitness(tau / theta)
	x := exchange{tau: tau, w: w, store: theta - float64((1-w)*tau), a: theta + float64(w*tau), dtS: dtS}
	x.keep, x.room = 1-w, x.store/tau
	if tau == 0 {
		x.peak = math.Inf(1)
	}
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
	own.trend = 1
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
// the cell. Plain variables stand for the ions, as in [Column.settle]. What is rare
// stands in calls, which the compiler puts aside, so that there is no jump
// otherwise: in WebAssembly it would be dear.
func (x *exchange) cell(c, q *water.Ions, root *float64, in, before, after *water.Ions) {
	cNa, cK, cCa, cMg := c[water.Na], c[water.K], c[water.Ca], c[water.Mg]
	inNa, inK, inCa, inMg := in[water.Na], in[water.K], in[water.Ca], in[water.Mg]
	eNa, eK := x.steepen(before[water.Na], cNa, after[water.Na]), x.steepen(before[water.K], cK, after[water.K])
	eCa, eMg := x.steepen(before[water.Ca], cCa, after[water.Ca]), x.steepen(before[water.Mg], cMg, after[water.Mg])
	before[water.Na], before[water.K], before[water.Ca], before[water.Mg] = cNa, cK, cCa, cMg
	rNa, outNa := x.supply(cNa, inNa, eNa)
	rK, outK := x.supply(cK, inK, eK)
	rCa, outCa := x.supply(cCa, inCa, eCa)
	rMg, outMg := x.supply(cMg, inMg, eMg)
	if x.beyond(cNa, inNa, eNa) || x.beyond(cK, inK, eK) || x.beyond(cCa, inCa, eCa) || x.beyond(cMg, inMg, eMg) ||
		rNa < 0 || rK < 0 || rCa < 0 || rMg < 0 {
		rNa, outNa = x.limited(cNa, inNa, eNa)
		rK, outK = x.limited(cK, inK, eK)
		rCa, outCa = x.limited(cCa, inCa, eCa)
		rMg, outMg = x.limited(cMg, inMg, eMg)
	}
	rCa, rMg = rCa+rCa, rMg+rMg
	qNa, qK, qCa, qMg := q[water.Na], q[water.K], q[water.Ca], q[water.Mg]
	at := surface{rNa + float64(x.b*qNa), rK + float64(x.b*qK), rCa + float64(x.b*qCa), rMg + float64(x.b*qMg)}
	at = x.settle(at, root, ((rNa+rK)+(rCa+rMg))/x.a)

	cNa, heldNa := x.part(rNa, at.na, qNa)
	cK, heldK := x.part(rK, at.k, qK)
	cCa, heldCa := x.part(rCa, at.ca, qCa)
	cMg, heldMg := x.part(rMg, at.mg, qMg)
	if heldNa < 0 || heldK < 0 || heldCa < 0 || heldMg < 0 {
		cNa, heldNa = x.allGone(rNa, qNa, cNa, heldNa)
		cK, heldK = x.allGone(rK, qK, cK, heldK)
		cCa, heldCa = x.allGone(rCa, qCa, cCa, heldCa)
		cMg, heldMg = x.allGone(rMg, qMg, cMg, heldMg)
	}
	cCa, cMg = float64(0.5*cCa), float64(0.5*cMg)
	q[water.Na], q[water.K], q[water.Ca], q[water.Mg] = heldNa, heldK, heldCa, heldMg
	c[water.Na], c[water.K], c[water.Ca], c[water.Mg] = cNa, cK, cCa, cMg
	in[water.Na], in[water.K] = outNa+float64(x.w*cNa), outK+float64(x.w*cK)
	in[water.Ca], in[water.Mg] = outCa+float64(x.w*cCa), outMg+float64(x.w*cMg)
}

// steepen returns what is added to the outflow of a cell against numerical
// spreading: half of van Leer's limited slope in the direction of flow, which is
// rise·next/(rise+next), but 0 at a peak.
func (x *exchange) steepen(before, c, after float64) (e float64) {
	rise, next := c-before, after-c
	if product := rise * next; product > x.peak {
		e = product / (rise + next)
	}
	return e
}

// supply returns R of one ion, in its own unit, and of the outflow the part that
// does not depend on the new concentration; e is what steepens.
func (x *exchange) supply(c, in, e float64) (r, out float64) {
	return float64(x.store*c) + float64(x.tau*(in-e)), float64(x.keep*c) + e
}

// beyond tells whether e is more than keeps cell and outflow positive.
func (x *exchange) beyond(c, in, e float64) bool {
	return e < -float64(x.keep*c) || e > in+float64(x.room*c)
}

// limited is supply with e held within what keeps cell and outflow positive.
//
//go:noinline
func (x *exchange) limited(c, in, e float64) (r, out float64) {
	if least := -float64(x.keep * c); e < least {
		e = least
	} else if most := in + float64(x.room*c); e > most {
		e = most
	}
	r, out = x.supply(c, in, e)
	return max(r, 0), out // below 0 by round-off of a limit that was just met
}

// part returns what the water and the beads hold at the end, given R, the water at
// the surface and what the beads held, in mol of charge.
func (x *exchange) part(r, surface, q float64) (c, held float64) {
	// (R − Δq)/A, written as a mean of no exchange and full exchange: it
	// cannot be negative.
	c = float64(x.slip*r) + float64(x.reach*surface)
	return c, q + (r - float64(x.a*c))
}

// allGone mends the round-off at an ion that is all but gone from the beads.
//
//go:noinline
func (x *exchange) allGone(r, q, c, held float64) (float64, float64) {
	if held < 0 {
		return (r + q) / x.a, 0
	}
	return c, held
}

// surface is the water at the beads' surface, mol of charge/m³; before it is
// settled p = R + γβq⁰.
type surface struct{ na, k, ca, mg float64 }

// settle turns p into the water at the beads' surface: with t = 1/s each ion has
// c = p·t^z/(A·t^z + γβQκ), and all must add up to total. The sum rises steadily
// with t, so that Newton's method within a bracket finds its one root; d is the
// slope of c over ln t, and corrects c for the last step, so that charge is
// conserved to round-off. root is the last root and the result. It changes in the
// same proportion, nearly, as in the cell before, which gives the start.
func (x *exchange) settle(p surface, root *float64, total float64) surface {
	if total < noIons {
		return surface{}
	}
	lo, hi, trend := 0.0, math.Inf(1), x.trend
	t := float64(*root * trend)
	if !(t > 0) {
		t = total
	}
	for turns := 1; ; turns++ {
		at, t2 := float64(x.a*t), float64(t*t)
		at2 := float64(at * t)
		gNa, gK := 1/(at+x.hold[water.Na]), 1/(at+x.hold[water.K])
		gCa, gMg := 1/(at2+x.hold[water.Ca]), 1/(at2+x.hold[water.Mg])
		cNa, cK := float64(float64(p.na*t)*gNa), float64(float64(p.k*t)*gK)
		cCa, cMg := float64(float64(p.ca*t2)*gCa), float64(float64(p.mg*t2)*gMg)
		bCa, bMg := float64(x.hold[water.Ca]*gCa), float64(x.hold[water.Mg]*gMg)
		dNa, dK := float64(cNa*float64(x.hold[water.Na]*gNa)), float64(cK*float64(x.hold[water.K]*gK))
		dCa, dMg := float64(cCa*(bCa+bCa)), float64(cMg*(bMg+bMg))
		miss := total - ((cNa + cK) + (cCa + cMg))
		step := miss / ((dNa + dK) + (dCa + dMg)) // relative to t
		if step <= tolerance && step >= -tolerance {
			*root = t + float64(t*step)
			x.trend = trend + float64(trend*step)
			return surface{cNa + float64(dNa*step), cK + float64(dK*step), cCa + float64(dCa*step), cMg + float64(dMg*step)}
		}
		if math.Abs(miss) <= roundOff*total || turns == maxSettle {
			*root, x.trend = t, 1
			return surface{cNa, cK, cCa, cMg}
		}
		if miss > 0 {
			lo = t
		} else {
			hi = t
		}
		trend += float64(trend * step)
		if t += float64(t * step); !(t > lo && t < hi) {
			t, trend = between(lo, hi), 1
		}
		if !(trend > 0.5 && trend < 2) {
			trend = 1
		}
	}
}

// tolerance is the last step to the root, relative to it: its square is left.
const tolerance = 3e-4
