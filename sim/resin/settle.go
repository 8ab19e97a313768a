package resin

import (
	"math"

	"brinebench/sim/water"
)

// settle gives a cell the water na, kk, ca, mg (mol of charge/m³ of bed) and brings
// it into equilibrium with the resin. With p = c + q conserved for each ion and
// t = 1/s, the water holds c = p·t^z/(t^z + hold), and all c must add up to the
// total that the anion balances. The sum rises steadily with t: it has one root.
//
// d = z·c·hold/(t^z + hold), the slope of c over ln t, gives Newton's step and
// corrects c for it, which makes the sum right to round-off whatever the step. Where
// the root is for the new water is foretold to second order, without a division,
// from what the last time left in the cell: one turn is enough unless the water
// changes abruptly, and then [Column.search] finds the place. ok is false, and the
// resin as it was, when there was none to be found.
//
// Plain variables stand for the four ions here, because the compiler keeps
// arrays in memory, which would cost a third more time.
func (k *Column) settle(x *tray, na, kk, ca, mg float64) (ok bool) {
	total := (na + kk) + (ca + mg)
	if total < noIons { // pure water takes nothing off the resin
		x.c = water.Ions{na, kk, ca, mg}
		return true
	}
	pNa, pK, pCa, pMg := na+x.q[water.Na], kk+x.q[water.K], ca+x.q[water.Ca], mg+x.q[water.Mg]
	t := x.t
	off := total - ((float64(pNa*x.share[water.Na]) + float64(pK*x.share[water.K])) +
		(float64(pCa*x.share[water.Ca]) + float64(pMg*x.share[water.Mg])))
	off = float64(off * x.perMiss)
	if float64(off*off) < farStep*farStep {
		t += float64(t * float64(off*(1+float64(x.bend*off))))
	}
	if !(t > 0) {
		t = total
	}
	for near := nearStep; ; near = 0 {
		t2 := float64(t * t)
		gNa, gCa := 1/(t+k.hold[water.Na]), 1/(t2+k.hold[water.Ca])
		aNa, aCa := float64(t*gNa), float64(t2*gCa)
		cNa, cCa := float64(pNa*aNa), float64(pCa*aCa)
		bNa, bCa := float64(k.pull[water.Na]*gNa), float64(k.pull[water.Ca]*gCa)
		dNa, dCa := float64(cNa*bNa), float64(cCa*bCa)
		var aK, cK, bK, dK, aMg, cMg, bMg, dMg float64 // often there is none
		if pK > 0 {
			g := 1 / (t + k.hold[water.K])
			aK, bK = float64(t*g), float64(k.pull[water.K]*g)
			cK = float64(pK * aK)
			dK = float64(cK * bK)
		}
		if pMg > 0 {
			g := 1 / (t2 + k.hold[water.Mg])
			aMg, bMg = float64(t2*g), float64(k.pull[water.Mg]*g)
			cMg = float64(pMg * aMg)
			dMg = float64(cMg * bMg)
		}
		miss := total - ((cNa + cK) + (cCa + cMg))
		perMiss := 1 / ((dNa + dK) + (dCa + dMg))
		step := float64(miss * perMiss) // relative to t
		if !(float64(step*step) <= smallStep*smallStep) {
			if !(math.Abs(miss) <= roundOff*total) {
				if t, ok = k.search(pNa, pK, pCa, pMg, total, t, near); !ok {
					x.c = water.Ions{na, kk, ca, mg}
					return false
				}
				continue
			}
			step, perMiss = 0, 0
		}
		x.t, x.perMiss = t, perMiss
		x.bend = perMiss * ((float64(dNa*(1-bNa)) + float64(dK*(1-bK))) +
			(float64(dCa*(1.5-bCa)) + float64(dMg*(1.5-bMg))))
		x.share[water.Na], x.share[water.Ca] = aNa, aCa
		x.c[water.Na], x.q[water.Na] = part(pNa, cNa+float64(dNa*step))
		x.c[water.Ca], x.q[water.Ca] = part(pCa, cCa+float64(dCa*step))
		if pK > 0 {
			x.share[water.K] = aK
			x.c[water.K], x.q[water.K] = part(pK, cK+float64(dK*step))
		}
		if pMg > 0 {
			x.share[water.Mg] = aMg
			x.c[water.Mg], x.q[water.Mg] = part(pMg, cMg+float64(dMg*step))
		}
		return true
	}
}

// search finds the root within a bracket from the start t: a place from which the
// next step is small, or if none is found, within near.
func (k *Column) search(pNa, pK, pCa, pMg, total, t, near float64) (root float64, ok bool) {
	lo, hi := 0.0, math.Inf(1)
	for range maxSettle {
		t2 := float64(t * t)
		gNa, gK := 1/(t+k.hold[water.Na]), 1/(t+k.hold[water.K])
		gCa, gMg := 1/(t2+k.hold[water.Ca]), 1/(t2+k.hold[water.Mg])
		cNa, cK := float64(pNa*float64(t*gNa)), float64(pK*float64(t*gK))
		cCa, cMg := float64(pCa*float64(t2*gCa)), float64(pMg*float64(t2*gMg))
		dNa, dK := float64(cNa*float64(k.pull[water.Na]*gNa)), float64(cK*float64(k.pull[water.K]*gK))
		dCa, dMg := float64(cCa*float64(k.pull[water.Ca]*gCa)), float64(cMg*float64(k.pull[water.Mg]*gMg))
		miss := total - ((cNa + cK) + (cCa + cMg))
		step := float64(miss * (1 / ((dNa + dK) + (dCa + dMg))))
		if float64(step*step) <= smallStep*smallStep || math.Abs(miss) <= roundOff*total {
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

// part shares p between water, which holds c, and resin.
func part(p, c float64) (inWater, onResin float64) {
	q := p - c
	if q < 0 { // round-off at an ion that is all but gone
		return p, 0
	}
	return c, q
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

// Bounds of the search for the root. A last step of this size leaves an error of
// its square. There are enough turns to come from anywhere.
const (
	noIons    = 1e-200 // mol of charge/m³
	smallStep = 1e-6
	nearStep  = 1e-3 // its square is a small step
	farStep   = 0.5  // no greater step is foretold
	roundOff  = 4e-16
	maxSettle = 400
)
