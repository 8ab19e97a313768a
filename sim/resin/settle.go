package resin

import (
	"math"

	"brinebench/sim/water"
)

// settle brings water and resin of a cell into equilibrium. With p = θ·c + q
// conserved for each ion and t = 1/s, the water holds c = p·t^z/(θ·t^z + hold),
// and all c must add up to the total that the anion balances. The sum rises
// steadily with t, so that Newton's method within a bracket finds its one root.
// e = z·hold/(θ·t^z + hold), the slope of ln c over ln t, gives Newton's step
// and at the end corrects c for the last of them. ok is false, and the cell as it
// was, when there was none to be found.
//
// Plain variables stand for the four ions here, because the compiler keeps
// arrays in memory, which would cost a third more time.
func (x *tray) settle(hold *water.Ions, void float64) (ok bool) {
	total := (x.c[water.Na] + x.c[water.K]) + (x.c[water.Ca] + x.c[water.Mg])
	if total < noIons {
		return true // pure water takes nothing off the resin
	}
	pNa, pK := float64(void*x.c[water.Na])+x.q[water.Na], float64(void*x.c[water.K])+x.q[water.K]
	pCa, pMg := float64(void*x.c[water.Ca])+x.q[water.Ca], float64(void*x.c[water.Mg])+x.q[water.Mg]
	hNa, hK, hCa, hMg := hold[water.Na], hold[water.K], hold[water.Ca], hold[water.Mg]
	t, lo, hi := x.t, 0.0, math.Inf(1)
	if !(t > 0) {
		t = total
	}
	for range maxSettle {
		t2 := float64(t * t)
		v, v2 := float64(void*t), float64(void*t2)
		na, k, ca, mg := 1/(v+hNa), 1/(v+hK), 1/(v2+hCa), 1/(v2+hMg)
		cNa, cK, cCa, cMg := float64(pNa*t*na), float64(pK*t*k), float64(pCa*t2*ca), float64(pMg*t2*mg)
		miss := total - ((cNa + cK) + (cCa + cMg))
		sNa, sK, sCa, sMg := float64(cNa*hNa*na), float64(cK*hK*k), float64(2*cCa*hCa*ca), float64(2*cMg*hMg*mg)
		step := miss / ((sNa + sK) + (sCa + sMg)) // relative to t
		if math.Abs(step) < smallStep || math.Abs(miss) <= roundOff*total {
			step = min(max(step, -smallStep), smallStep)
			x.t = t
			x.c[water.Na], x.q[water.Na] = part(pNa, cNa+float64(sNa*step), void)
			x.c[water.K], x.q[water.K] = part(pK, cK+float64(sK*step), void)
			x.c[water.Ca], x.q[water.Ca] = part(pCa, cCa+float64(sCa*step), void)
			x.c[water.Mg], x.q[water.Mg] = part(pMg, cMg+float64(sMg*step), void)
			return true
		}
		if miss > 0 {
			lo = t
		} else {
			hi = t
		}
		if t += float64(t * step); !(t > lo && t < hi) {
			t = between(lo, hi)
		}
	}
	return false
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
// its square. Two turns are usual; there are enough to come from anywhere.
const (
	noIons    = 1e-200 // mol of charge/m³
	smallStep = 1e-7
	roundOff  = 4e-16
	maxSettle = 400
)
