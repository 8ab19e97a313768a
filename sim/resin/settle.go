package resin

import (
	"math"

	"brinebench/sim/water"
)

// settle gives each cell the water that is due to it and brings it into equilibrium
// with the resin. With p = c + q conserved for each ion and t = 1/s, the water holds
// c = p·t^z/(t^z + hold), and all c must add up to the total that the anion
// balances. The sum rises steadily with t: it has one root.
//
// d = z·c·hold/(t^z + hold), the slope of c over ln t, gives Newton's step and
// corrects c for it, which makes the sum right to round-off whatever the step. Where
// the root is for the new water is foretold, without a division, from what the last
// time left in the cell: one turn is enough. Where the water changes abruptly,
// [Column.search] comes first. ok is false, and the cell as it was, when there was
// no root to be found.
//
// Plain variables stand for the four ions here, because the compiler keeps
// arrays in memory, which would cost a third more time. What is rare stands in
// calls, which the compiler puts aside: a jump is dear in WebAssembly.
func (k *Column) settle() {
	sure := -1 // the cell whose root has been searched for
	for j := 0; j < len(k.cells); j++ {
		x := &k.cells[j]
		byNa, byK, byCa, byMg := x.by[water.Na], x.by[water.K], x.by[water.Ca], x.by[water.Mg]
		if byNa == 0 && byK == 0 && byCa == 0 && byMg == 0 {
			continue // it is in equilibrium with its water already
		}
		na, kk, ca, mg := x.to[water.Na], x.to[water.K], x.to[water.Ca], x.to[water.Mg]
		off := x.off + float64(x.perMiss*((float64(byNa*x.on[water.Na])+float64(byK*x.on[water.K]))+
			(float64(byCa*x.on[water.Ca])+float64(byMg*x.on[water.Mg]))))
		total := (na + kk) + (ca + mg)
		if total < noIons {
			x.dilute()
			continue
		}
		t := x.t + float64(x.t*off)
		if off2 := float64(off * off); !(off2 < straightStep*straightStep) {
			t = k.start(x, off, total)
		}
		pNa, pK, pCa, pMg := na+x.q[water.Na], kk+x.q[water.K], ca+x.q[water.Ca], mg+x.q[water.Mg]
		t2 := float64(t * t)
		gNa, gCa := 1/(t+k.hold[water.Na]), 1/(t2+k.hold[water.Ca])
		cNa, cCa := float64(float64(pNa*t)*gNa), float64(float64(pCa*t2)*gCa)
		bNa, bCa := float64(k.hold[water.Na]*gNa), float64(k.hold[water.Ca]*gCa)
		dNa, dCa := float64(cNa*bNa), float64(cCa*(bCa+bCa))
		x.t, x.on[water.Na], x.on[water.Ca] = t, bNa, bCa
		var cK, dK, cMg, dMg float64 // often there is none
		if pK > 0 {
			g := 1 / (t + k.hold[water.K])
			b := float64(k.hold[water.K] * g)
			cK = float64(float64(pK*t) * g)
			dK = float64(cK * b)
			x.on[water.K] = b
		}
		if pMg > 0 {
			g := 1 / (t2 + k.hold[water.Mg])
			b := float64(k.hold[water.Mg] * g)
			cMg = float64(float64(pMg*t2) * g)
			dMg = float64(cMg * (b + b))
			x.on[water.Mg] = b
		}
		miss := total - ((cNa + cK) + (cCa + cMg))
		perMiss := 1 / ((dNa + dK) + (dCa + dMg))
		step := float64(miss * perMiss) // relative to t
		if !(step <= smallStep && step >= -smallStep) {
			if j != sure && k.searchOn(x, miss, total) {
				sure = j
				j--
				continue
			}
			step, perMiss = 0, 0 // nothing is left that a step could better
		}
		x.off, x.perMiss = step, perMiss
		cNa, cCa = cNa+float64(dNa*step), cCa+float64(dCa*step)
		qNa, qCa := pNa-cNa, pCa-cCa
		x.c[water.Na], x.q[water.Na], x.c[water.Ca], x.q[water.Ca] = cNa, qNa, cCa, qCa
		if pK > 0 {
			cK += float64(dK * step)
			x.c[water.K], x.q[water.K] = cK, pK-cK
		}
		if pMg > 0 {
			cMg += float64(dMg * step)
			x.c[water.Mg], x.q[water.Mg] = cMg, pMg-cMg
		}
		if qNa < 0 || qCa < 0 || x.q[water.K] < 0 || x.q[water.Mg] < 0 {
			x.mend(water.Ions{pNa, pK, pCa, pMg})
		}
	}
}

// dilute gives a cell pure water, which takes nothing off the resin.
//
//go:noinline
func (x *tray) dilute() { x.c = x.to }

// start returns where to look for the root after an abrupt change; off is the
// relative step of first order.
func (k *Column) start(x *tray, off, total float64) float64 {
	t := x.foretell(off)
	if off2 := float64(off * off); !(off2 < sureStep*sureStep) {
		w, q := &x.to, &x.q
		t, _ = k.search(w[water.Na]+q[water.Na], w[water.K]+q[water.K], w[water.Ca]+q[water.Ca], w[water.Mg]+q[water.Mg], total, t, nearStep)
	}
	return t
}

// searchOn looks for the root where a turn was not enough, and leaves it for the next. It tells whether there is a better one.
func (k *Column) searchOn(x *tray, miss, total float64) bool {
	if math.Abs(miss) <= roundOff*total {
		return false
	}
	p := x.to.Plus(1, x.q)
	t, ok := k.search(p[water.Na], p[water.K], p[water.Ca], p[water.Mg], total, x.t, 0)
	if !ok {
		k.ok, x.by = false, water.Ions{} // it stays as it is
		return true
	}
	x.t, x.off, x.perMiss = t, 0, 0
	return true
}

// mend takes away the round-off at an ion that is all but gone from the resin; p is
// what there is in all.
//
//go:noinline
func (x *tray) mend(p water.Ions) {
	for i, q := range x.q {
		if q < 0 {
			x.c[i], x.q[i] = p[i], 0
		}
	}
}

// foretell returns t after a change of the water to second order; off is the
// relative step of first order. The sum's slope changes with the water, and bends
// over t.
func (x *tray) foretell(off float64) float64 {
	by := &x.by
	if !(math.Abs(off) < farStep) {
		return x.t
	}
	bNa, bK, bCa, bMg := x.on[water.Na], x.on[water.K], 2*x.on[water.Ca], 2*x.on[water.Mg]
	dNa, dK := float64(x.c[water.Na]*bNa), float64(x.c[water.K]*bK)
	dCa, dMg := float64(x.c[water.Ca]*bCa), float64(x.c[water.Mg]*bMg)
	slope := (float64(by[water.Na]*float64(bNa*(1-bNa))) + float64(by[water.K]*float64(bK*(1-bK)))) +
		(float64(by[water.Ca]*float64(bCa*(1-float64(0.5*bCa)))) + float64(by[water.Mg]*float64(bMg*(1-float64(0.5*bMg)))))
	bend := float64(0.5*(dCa+dMg)) - ((float64(dNa*bNa) + float64(dK*bK)) + (float64(dCa*bCa) + float64(dMg*bMg)))
	off -= float64(off * float64(slope*x.perMiss))
	return x.t + float64(x.t*float64(off*(1+float64(float64(1+float64(bend*x.perMiss))*off))))
}

// search finds the root within a bracket from the start t: a place from which the
// next step is small or, if it is found first, one that a step within near led to.
func (k *Column) search(pNa, pK, pCa, pMg, total, t, near float64) (root float64, ok bool) {
	if !(t > 0) {
		t = total
	}
	lo, hi := 0.0, math.Inf(1)
	for range maxSettle {
		t2 := float64(t * t)
		gNa, gK := 1/(t+k.hold[water.Na]), 1/(t+k.hold[water.K])
		gCa, gMg := 1/(t2+k.hold[water.Ca]), 1/(t2+k.hold[water.Mg])
		cNa, cK := float64(float64(pNa*t)*gNa), float64(float64(pK*t)*gK)
		cCa, cMg := float64(float64(pCa*t2)*gCa), float64(float64(pMg*t2)*gMg)
		bCa, bMg := float64(k.hold[water.Ca]*gCa), float64(k.hold[water.Mg]*gMg)
		dNa, dK := float64(cNa*float64(k.hold[water.Na]*gNa)), float64(cK*float64(k.hold[water.K]*gK))
		dCa, dMg := float64(cCa*(bCa+bCa)), float64(cMg*(bMg+bMg))
		miss := total - ((cNa + cK) + (cCa + cMg))
		step := float64(miss * (1 / ((dNa + dK) + (dCa + dMg))))
		if math.Abs(step) <= smallStep || math.Abs(miss) <= roundOff*total {
			return t, true
		}
		if miss > 0 {
			lo = t
		} else {
			hi = t
		}
		if t += float64(t * step); !(t > lo && t < hi) {
			t = between(lo, hi)
		} else if math.Abs(step) <= near {
			return t, true
		}
	}
	return t, false
}

// between returns a guess within a bracket of positive numbers whose ends may
// lie far apart, or not be known yet.
func between(lo, hi float64) float64 {
	switch {
	case lo == 0:
		return hi / 64
	case math.IsInf(hi, 1):
		return lo * 64
	}
	return math.Sqrt(lo) * math.Sqrt(hi)
}

// Bounds of the search for the root, steps relative to it. What the last leaves is
// of the order of its square; a cell at rest has no step. There are enough turns to
// come from anywhere.
const (
	noIons       = 1e-200 // mol of charge/m³
	smallStep    = 1e-4
	nearStep     = 6e-3 // its square is a small step
	straightStep = 8e-3 // foretold to a small step by the first order
	sureStep     = 0.08 // by the second
	farStep      = 0.5  // no greater step is foretold
	roundOff     = 4e-16
	maxSettle    = 400
)
