package hydraulic

import (
	"math"

	"brinebench/sim/repro"
)

const gravity = 9.80665 // m/s²

// Packing describes a bed of round beads in a liquid, all values above 0.
type Packing struct {
	BeadM    float64 // mean diameter of a bead, m
	Void     float64 // void fraction of the settled bed, 0..1
	BeadKgM3 float64 // density of a bead in the liquid, kg/m³
	RhoKgM3  float64 // density of the liquid, kg/m³
	MuPaS    float64 // viscosity of the liquid, Pa·s
}

// Ergun returns the loss of a settled bed of depthM per superficial velocity
// (viscous part, Pa·s/m) and per its square (inertial part, Pa·s²/m²).
// Ergun, Chem. Eng. Prog. 48 (1952) 89.
func (p Packing) Ergun(depthM float64) (viscous, inertial float64) {
	solid := 1 - p.Void
	per := depthM * solid / (p.BeadM * p.Void * p.Void * p.Void)
	return 150 * p.MuPaS * solid * per / p.BeadM, 1.75 * p.RhoKgM3 * per
}

// WeightPa returns the buoyant weight per area of a settled bed of depthM, Pa; 0
// for beads that float.
func (p Packing) WeightPa(depthM float64) float64 {
	return max(p.BeadKgM3-p.RhoKgM3, 0) * gravity * (1 - p.Void) * depthM
}

// BedLaw returns the law of a bed of settled depth depthM in a tank of cross-
// section areaM2: Ergun's loss down; up the same, until the bed lifts and the
// loss stays near its buoyant weight.
func (p Packing) BedLaw(depthM, areaM2 float64) Law {
	viscous, inertial := p.Ergun(depthM)
	return Law{Kind: Bed, A: viscous / areaM2, B: inertial / (areaM2 * areaM2), CapPa: p.WeightPa(depthM)}
}

// Archimedes returns the Archimedes number of a bead, 0 for one that floats.
func (p Packing) Archimedes() float64 {
	return p.BeadM * p.BeadM * p.BeadM * p.RhoKgM3 * max(p.BeadKgM3-p.RhoKgM3, 0) * gravity / (p.MuPaS * p.MuPaS)
}

// MinimumFluidisation returns the superficial velocity (m/s) at which the bed
// begins to lift. Wen & Yu, CEP Symp. Ser. 62 (1966) 100.
func (p Packing) MinimumFluidisation() float64 {
	const c = 33.7
	ar := p.Archimedes()
	// The difference of root and c, without cancellation for small beads.
	re := 0.0408 * ar / (c + math.Sqrt(float64(c*c)+float64(0.0408*ar)))
	return re * p.MuPaS / (p.RhoKgM3 * p.BeadM)
}

// TerminalReynolds returns the Reynolds number of one bead settling with the drag
// of Schiller & Naumann, Ar = 18·Re + 2.7·Re^1.687 (Re below about 1000).
func (p Packing) TerminalReynolds() float64 {
	ar := p.Archimedes()
	re := ar / 18
	for range 60 { // Newton from above on a convex function
		drag := float64(2.7 * repro.Pow(re, 0.687))
		d := (float64(re*(18+drag)) - ar) / (18 + float64(1.687*drag))
		re -= d
		if d <= 1e-14*re {
			break
		}
	}
	return max(re, 0)
}

// TerminalVelocity returns the settling velocity of one bead, m/s.
func (p Packing) TerminalVelocity() float64 {
	return p.TerminalReynolds() * p.MuPaS / (p.RhoKgM3 * p.BeadM)
}

// RichardsonZaki returns the exponent n of u = u_t·void^n in a column of diameter
// columnM. Richardson & Zaki, Trans. Inst. Chem. Eng. 32 (1954) 35.
func (p Packing) RichardsonZaki(columnM float64) float64 {
	re, wall := p.TerminalReynolds(), p.BeadM/columnM
	switch {
	case re < 0.2:
		return 4.65 + float64(19.5*wall)
	case re < 1:
		return (4.35 + float64(17.5*wall)) * repro.Pow(re, -0.03)
	case re < 200:
		return (4.45 + float64(18*wall)) * repro.Pow(re, -0.1)
	case re < 500:
		return 4.45 * repro.Pow(re, -0.1)
	}
	return 2.39
}

// VoidAt returns the void fraction of the bed at an upward superficial velocity
// upMS (m/s) in a column of diameter columnM: that of Richardson & Zaki, between
// the settled bed's and 1 (beads carried away).
func (p Packing) VoidAt(upMS, columnM float64) float64 {
	ut := p.TerminalVelocity()
	if upMS <= 0 {
		return p.Void
	}
	if upMS >= ut {
		return 1
	}
	return max(p.Void, repro.Pow(upMS/ut, 1/p.RichardsonZaki(columnM)))
}

// Expansion returns by which part of its settled depth the bed is deeper at an
// upward superficial velocity upMS: 0.5 for half as deep again. No more than
// maxExpansion, where beads are carried away.
func (p Packing) Expansion(upMS, columnM float64) float64 {
	void := p.VoidAt(upMS, columnM)
	solid := 1 - p.Void
	return min(solid/max(1-void, solid/(1+maxExpansion))-1, maxExpansion)
}

// maxExpansion is the greatest expansion that is told apart.
const maxExpansion = 20
