package resin

import (
	"math"

	"brinebench/sim/water"
)

// settle gives a cell the water na, kk, ca, mg (mol of charge/m³) and brings it
// into equilibrium with the resin. With p = θ·c + q conserved for each ion and
// t = 1/s, the water holds c = p·t^z/(θ·t^z + hold), and all c must add up to the
// total that the anion balances. The sum rises steadily with t: it has one root.
//
// s = z·c·hold/(θ·t^z + hold), the slope of c over ln t, gives Newton's step and
// corrects c for it, which makes the sum right to round-off whatever the step. Where
// the root is for the new water is foretold to second order, without a division,
// from what the last time left in the cell: one turn is enough unless the water
// changes abruptly, and then [Column.search] finds the place. ok is false, and the
// resin as it was, when there was none to be found.
//
// Plain variables stand for the four ions here, because the compiler keeps
// arrays in memory, which would cost a third more time.
func (k *Column) settle(x *tray, na, kk, ca, mg float64) (ok bool) {
	x.c[water.Na], x.c[water.K], x.c[water.Ca], x.c[water.Mg] = na, kk, ca, mg
	total := (na + kk) + (ca + mg)
	if total < noIons {
		return true // pure water takes nothing off the resin
	}
	void := k.spec.Void
	pNa, pK := float64(void*na)+x.q[water.Na], float64(void*kk)+x.q[water.K]
	pCa, pMg := float64(void*ca)+x.q[water.Ca], float64(void*mg)+x.q[water.Mg]
	t := x.t
	off := total - ((float64(pNa*x.share[water.Na]) + float64(pK*x.share[water.K])) +
		(float64(pCa*x.share[water.Ca]) + float64(pMg*x.share[water.Mg])))
	if off = float64(off * x.perMiss); math.Abs(off) < farStep {
		t += float64(t * float64(off*(1+float64(x.bend*off))))
	}
	if !(t > 0) {
		t = total
	}
	for near := nearStep; ; near = 0 {
		t2 := float64(t * t)
		v, v2 := float64(void*t), float64(void*t2)
		gNa, gK := 1/(v+k.hold[water.Na]), 1/(v+k.hold[water.K])
		gCa, gMg := 1/(v2+k.hold[water.Ca]), 1/(v2+k.hold[water.Mg])
		aNa, aK, aCa, aMg := float64(t*gNa), float64(t*gK), float64(t2*gCa), float64(t2*gMg)
		cNa, cK, cCa, cMg := float64(pNa*aNa), float64(pK*aK), float64(pCa*aCa), float64(pMg*aMg)
		bNa, bK := float64(k.hold[water.Na]*gNa), float64(k.hold[water.K]*gK)
		bCa, bMg := float64(k.hold[water.Ca]*gCa), float64(k.hold[water.Mg]*gMg)
		sNa, sK, sCa, sMg := float64(cNa*bNa), float64(cK*bK), float64(cCa*(bCa+bCa)), float64(cMg*(bMg+bMg))
		miss := total - ((cNa + cK) + (cCa + cMg))
		perMiss := 1 / ((sNa + sK) + (sCa + sMg))
		step := float64(miss * perMiss) // relative to t
		if !(math.Abs(step) <= smallStep) {
			if !(math.Abs(miss) <= roundOff*total) {
				if t, ok = k.search(pNa, pK, pCa, pMg, total, t, near); !ok {
					return false
				}
				continue
			}
			step, perMiss = 0, 0
		}
		x.t, x.perMiss = t, perMiss
		x.share[water.Na], x.share[water.K], x.share[water.Ca], x.share[water.Mg] = aNa, aK, aCa, aMg
		x.bend = perMiss * ((float64(sNa*(1-bNa)) + float64(sK*(1-bK))) +
			(float64(sCa*(1.5-(bCa+bCa))) + float64(sMg*(1.5-(bMg+bMg)))))
		x.c[water.Na], x.q[water.Na] = part(pNa, cNa+float64(sNa*step), void)
		x.c[water.K], x.q[water.K] = part(pK, cK+float64(sK*step), void)
		x.c[water.Ca], x.q[water.Ca] = part(pCa, cCa+float64(sCa*step), void)
		x.c[water.Mg], x.q[water.Mg] = part(pMg, cMg+float64(sMg*step), void)
		return true
	}
}

// search finds the root within a bracket from the start t: a place from which the
// next step is small, or if none is found, within near.
func (k *Column) search(pNa, pK, pCa, pMg, total, t, near float64) (root float64, ok bool) {
	void, lo, hi := k.spec.Void, 0.0, math.Inf(1)
	hNa, hK, hCa, hMg := k.hold[water.Na], k.hold[water.K], k.hold[water.Ca], k.hold[water.Mg]
	for range maxSettle {
		t2 := float64(t * t)
		v, v2 := float64(void*t), float64(void*t2)
		gNa, gK, gCa, gMg := 1/(v+hNa), 1/(v+hK), 1/(v2+hCa), 1/(v2+hMg)
		cNa, cK, cCa, cMg := float64(pNa*float64(t*gNa)), float64(pK*float64(t*gK)), float64(pCa*float64(t2*gCa)), float64(pMg*float64(t2*gMg))
		bNa, bK, bCa, bMg := float64(hNa*gNa), float64(hK*gK), float64(hCa*gCa), float64(hMg*gMg)
		sNa, sK, sCa, sMg := float64(cNa*bNa), float64(cK*bK), float64(cCa*(bCa+bCa)), float64(cMg*(bMg+bMg))
		miss := total - ((cNa + cK) + (cCa + cMg))
		perMiss := 1 / ((sNa + sK) + (sCa + sMg))
		step := float64(miss * perMiss)
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

// part shares p (mol of charge/m³ of bed) between water, which holds c
// (mol of charge/m³), and resin.
func part(p, c, void float64) (inWater, onResin float64) {
	q := p - float64(void*c)
	if q < 0 { // round-off at an ion that is all but gone
		return p / void, 0
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
