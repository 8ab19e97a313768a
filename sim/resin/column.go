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
	beta     float64    // kp·dt/(1 + kp·dt)
	gamma    float64    // 1 + A/(kf·dt)
	b        float64    // γβ
	hold     water.Ions // γβQκ
}

func (m *Model) newExchange(tau, tempC, dtS float64) exchange {
	theta := m.spec.Void
	film, particle := m.rates(tau/dtS, tempC)
	w := implicitness(tau / theta)
	x := exchange{tau: tau, w: w, store: theta - float64((1-w)*tau), a: theta + float64(w*tau)}
	x.beta = particle * dtS / (1 + float64(particle*dtS))
	x.gamma = 1 + x.a/(film*dtS)
	x.b = x.gamma * x.beta
	x.hold = m.kappa.Scale(x.b * m.spec.CapacityEqM3)
	return x
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
	for n, j := 0, first; n < Cells; n, j = n+1, j+step {
		c := &s.C[k][j]
		now := *c
		after := now
		if n < Cells-1 {
			after = s.C[k][j+step]
		}
		in = x.cell(c, &s.Q[k][j], &s.Root[k][j], &in, &before, &after)
		before = now
	}
	return in
}

// cell advances one cell: c (mol/m³), q (mol of charge/m³ of bed) and the root.
// in is the mean of what enters, before and after are the neighbours' water at
// the start. It returns the mean of what leaves.
func (x *exchange) cell(c, q *water.Ions, root *float64, in, before, after *water.Ions) (out water.Ions) {
	var r, p water.Ions // mol of charge per m³ of bed
	total := 0.0
	for i, c0 := range c {
		e := x.steepen(before[i], c0, after[i], in[i])
		out[i] = float64((1-x.w)*c0) + e
		r[i] = water.Charge[i] * (float64(x.store*c0) + float64(x.tau*(in[i]-e)))
		if r[i] < 0 {
			r[i] = 0 // round-off of a limit that was just met
		}
		p[i] = r[i] + float64(x.b*q[i])
		total += r[i]
	}
	film := x.film(&p, root, total/x.a)
	for i := range c {
		// (R − Δq)/A, written as a mean of no exchange and full exchange: it
		// cannot be negative.
		c1 := (float64((x.gamma-1)*r[i]/x.a) + film[i]) / x.gamma
		q1 := q[i] + (r[i] - float64(x.a*c1))
		if q1 < 0 { // round-off at an ion that is all but gone
			c1, q1 = (r[i]+q[i])/x.a, 0
		}
		q[i] = q1
		c[i] = c1 / water.Charge[i]
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
	return min(e, in+x.store/x.tau*c)
}

// film solves for the water at the beads' surface, mol of charge/m³: with
// t = 1/s, Σ p·t^z/(A·t^z + γβQκ) must equal the water's total, which rises
// steadily with t. root is the start and the result.
func (x *exchange) film(p *water.Ions, root *float64, total float64) (c water.Ions) {
	if total < 1e-200 {
		return c
	}
	t, lo, hi := *root, 0.0, 0.0 // hi = 0: no upper bound yet
	if !(t > 0) {
		t = total
	}
	for range 80 {
		sum, slope := 0.0, 0.0
		for i := range c {
			tz := t
			if water.Charge[i] == 2 {
				tz *= t
			}
			inv := 1 / (float64(x.a*tz) + x.hold[i])
			c[i] = p[i] * tz * inv
			sum += c[i]
			slope += float64(water.Charge[i] * c[i] * x.hold[i] * inv)
		}
		miss := sum - total
		if miss > 0 {
			hi = t
		} else {
			lo = t
		}
		next := t - miss*t/slope
		if !(next > lo) || hi > 0 && next >= hi {
			next = 2 * t
			if hi > 0 {
				next = 0.5 * (lo + hi)
			}
		}
		done := math.Abs(next-t) <= 1e-9*next
		t = next
		if done {
			break
		}
	}
	*root = t
	return c.Scale(total / (c[0] + c[1] + c[2] + c[3]))
}
