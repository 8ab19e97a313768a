package resin

import (
	"math"

	"brinebench/sim/water"
)

// change is what the water of a cell changes by, mol of charge/m³ of bed.
type change struct{ na, k, ca, mg float64 }

// settle gives a cell the water na, kk, ca, mg (mol of charge/m³ of bed), which is
// by the change more than it has, and brings it into equilibrium with the resin.
// With p = c + q conserved for each ion and t = 1/s, the water holds
// c = p·t^z/(t^z + hold), and all c must add up to the total that the anion
// balances. The sum rises steadily with t: it has one root.
//
// d = z·c·hold/(t^z + hold), the slope of c over ln t, gives Newton's step and
// corrects c for it, which makes the sum right to round-off whatever the step. Where
// the root is for the new water is foretold to second order, without a division,
// from what the last time left in the cell: one turn is enough unless the water
// changes abruptly, and then [Column.search] comes first. ok is false, and the resin
// as it was, when there was no root to be found.
//
// Plain variables stand for the four ions here, because the compiler keeps
// arrays in memory, which would cost a third more time.
func (k *Column) settle(x *tray, na, kk, ca, mg float64, by change) (ok bool) {
	off := x.off + ((float64(by.na*x.lead[water.Na]) + float64(by.k*x.lead[water.K])) +
		(float64(by.ca*x.lead[water.Ca]) + float64(by.mg*x.lead[water.Mg])))
	off = float64(off * (1 - ((float64(by.na*x.ease[water.Na]) + float64(by.k*x.ease[water.K])) +
		(float64(by.ca*x.ease[water.Ca]) + float64(by.mg*x.ease[water.Mg])))))
	off2 := float64(off * off)
	t := x.t
	if off2 < farStep*farStep {
		t = (t + float64(t*off)) + float64(x.bend*off2)
	}
	total := (na + kk) + (ca + mg)
	if total < noIons { // pure water takes nothing off the resin
		x.c = water.Ions{na, kk, ca, mg}
		return true
	}
	pNa, pK, pCa, pMg := na+x.q[water.Na], kk+x.q[water.K], ca+x.q[water.Ca], mg+x.q[water.Mg]
	if !(off2 < sureStep*sureStep && t > 0) {
		t, _ = k.search(pNa, pK, pCa, pMg, total, t, nearStep)
	}
	for {
		t2 := float64(t * t)
		gNa, gCa := 1/(t+k.hold[water.Na]), 1/(t2+k.hold[water.Ca])
		cNa, cCa := float64(float64(pNa*t)*gNa), float64(float64(pCa*t2)*gCa)
		bNa, bCa := float64(k.hold[water.Na]*gNa), float64(k.hold[water.Ca]*gCa)
		dNa, dCa := float64(cNa*bNa), float64(cCa*(bCa+bCa))
		var cK, bK, dK, cMg, bMg, dMg float64 // often there is none
		if pK > 0 {
			g := 1 / (t + k.hold[water.K])
			cK, bK = float64(float64(pK*t)*g), float64(k.hold[water.K]*g)
			dK = float64(cK * bK)
		}
		if pMg > 0 {
			g := 1 / (t2 + k.hold[water.Mg])
			cMg, bMg = float64(float64(pMg*t2)*g), float64(k.hold[water.Mg]*g)
			dMg = float64(cMg * (bMg + bMg))
		}
		divalent := dCa + dMg
		miss := total - ((cNa + cK) + (cCa + cMg))
		perMiss := 1 / ((dNa + dK) + divalent)
		step := float64(miss * perMiss) // relative to t
		if !(float64(step*step) <= smallStep*smallStep) {
			if !(math.Abs(miss) <= roundOff*total) {
				if t, ok = k.search(pNa, pK, pCa, pMg, total, t, 0); !ok {
					x.c = water.Ions{na, kk, ca, mg}
					return false
				}
				continue
			}
			step, perMiss = 0, 0
		}
		leadNa, leadCa := float64(perMiss*bNa), float64(perMiss*bCa)
		x.lead[water.Na], x.lead[water.Ca] = leadNa, leadCa
		x.ease[water.Na], x.ease[water.Ca] = float64(leadNa*(1-bNa)), float64((leadCa+leadCa)*(1-bCa))
		bend := (1 + float64(float64(0.5*divalent)*perMiss)) - (float64(dNa*leadNa) + float64(dCa*(leadCa+leadCa)))
		x.c[water.Na], x.q[water.Na] = part(pNa, cNa+float64(dNa*step))
		x.c[water.Ca], x.q[water.Ca] = part(pCa, cCa+float64(dCa*step))
		if pK > 0 {
			lead := float64(perMiss * bK)
			x.lead[water.K], x.ease[water.K] = lead, float64(lead*(1-bK))
			bend -= float64(dK * lead)
			x.c[water.K], x.q[water.K] = part(pK, cK+float64(dK*step))
		}
		if pMg > 0 {
			lead := float64(perMiss * bMg)
			x.lead[water.Mg], x.ease[water.Mg] = lead, float64((lead+lead)*(1-bMg))
			bend -= float64(dMg * (lead + lead))
			x.c[water.Mg], x.q[water.Mg] = part(pMg, cMg+float64(dMg*step))
		}
		x.t, x.off, x.bend = t, step, float64(t*bend)
		return true
	}
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

// Bounds of the search for the root, steps relative to it. What the last leaves is
// of the order of its square; a cell at rest has no step. There are enough turns to
// come from anywhere.
const (
	noIons    = 1e-200 // mol of charge/m³
	smallStep = 3e-6
	nearStep  = 1e-3 // its square is a small step
	sureStep  = 0.02 // foretold to a small step
	farStep   = 0.5  // no greater step is foretold
	roundOff  = 4e-16
	maxSettle = 400
)
