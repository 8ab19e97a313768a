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
}

func (m *Model) newExchange(tau, tempC, dtS float64) exchange {
	theta := m.spec.Void
	film, particle := m.rates(tau/dtS, tempC)
	w := implicitness(tau / theta)
	x := exchange{tau: tau, w: w, store: theta - float64((1-w)*tau), a: theta + float64(w*tau)}
	x.room = x.store / tau
	gamma := 1 + x.a/(film*dtS)
	x.b = gamma * particle * dtS / (1 + float64(particle*dtS))
	x.reach = 1 / gamma
	x.slip = (1 - x.reach) / x.a
	x.hold = m.kappa.Scale(x.b * m.spec.CapacityEqM3)
	return x
}

// columns marches the water of all paths through their cells in the direction of
// flow, entering with cIn (mol/m³), and returns the mean of what leaves each.
// The paths take turns cell by cell, because a processor can then work at both.
func (m *Model) columns(s *State, x *[Paths]exchange, up bool, cIn water.Ions) (in [Paths]water.Ions) {
	first, step := 0, 1
	if up {
		first, step = Cells-1, -1
	}
	var before [Paths]water.Ions // what stood upstream at the start
	for k := range Paths {
		in[k], before[k] = cIn, cIn
	}
	for n, j := 0, first; n < Cells; n, j = n+1, j+step {
		for k := range Paths {
			c := &s.C[k][j]
			now := *c
			after := now
			if n < Cells-1 {
				after = s.C[k][j+step]
			}
			in[k] = x[k].cell(c, &s.Q[k][j], &s.Root[k][j], &in[k], &before[k], &after)
			before[k] = now
		}
	}
	return in
}

// cell advances one cell: c (mol/m³), q (mol of charge/m³ of bed) and the root.
// in is the mean of what enters, before and after are the neighbours' water at
// the start. It returns the mean of what leaves.
func (x *exchange) cell(c, q *water.Ions, root *float64, in, before, after *water.Ions) (out water.Ions) {
	var r water.Ions // mol of charge per m³ of bed
	total := 0.0
	for i, z := range water.Charge {
		c0 := c[i]
		e := x.steepen(before[i], c0, after[i], in[i])
		out[i] = float64((1-x.w)*c0) + e
		// Round-off of a limit that was just met may leave less than nothing.
		ri := max(float64(z*(float64(x.store*c0)+float64(x.tau*(in[i]-e)))), 0)
		r[i] = ri
		total += ri
	}
	film := x.film(&r, q, root, total/x.a)
	for i, z := range water.Charge {
		// (R − Δq)/A, written as a mean of no exchange and full exchange: it
		// cannot be negative.
		c1 := float64(x.slip*r[i]) + float64(x.reach*film[i])
		q1 := q[i] + (r[i] - float64(x.a*c1))
		if q1 < 0 { // round-off at an ion that is all but gone
			c1, q1 = (r[i]+q[i])/x.a, 0
		}
		q[i] = q1
		c[i] = c1 / z
		out[i] += float64(x.w * c[i])
	}
	return out
}

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

// film returns the water at the beads' surface, mol of charge/m³: with t = 1/s
// and p = R + γβq⁰ each ion has c = p·t^z/(A·t^z + γβQκ), and all must add up to
// total. The sum rises steadily with t, so that Newton's method within a bracket
// finds its one root. root is the starting value and the result.
//
// Plain variables stand for the four ions here, as in settle.
func (x *exchange) film(r, q *water.Ions, root *float64, total float64) water.Ions {
	if total < 1e-200 {
		return water.Ions{}
	}
	pNa, pK := r[water.Na]+float64(x.b*q[water.Na]), r[water.K]+float64(x.b*q[water.K])
	pCa, pMg := r[water.Ca]+float64(x.b*q[water.Ca]), r[water.Mg]+float64(x.b*q[water.Mg])
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
	return water.Ions{float64(cNa * f), float64(cK * f), float64(cCa * f), float64(cMg * f)}
}

// Bounds of the search for the root: relative change of the last step, and
// steps. Two or three are usual.
const (
	tolerance     = 1e-7
	maxIterations = 80
)
