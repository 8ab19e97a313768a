package hydraulic

import "math"

// PaPerPsi is the exact-to-double value of one pound-force per square inch, Pa.
const PaPerPsi = 6894.757293168361

// M3SPerGPM is one US gallon per minute, m³/s.
const M3SPerGPM = 3.785411784e-3 / 60

// CvB returns the coefficient B (Pa·s²/m⁶) of a passage with flow coefficient
// cvGPM (US gpm at 1 psi of water of specific gravity 1) for a liquid of density
// rhoKgM3; the flow coefficient of IEC 60534-1.
func CvB(cvGPM, rhoKgM3 float64) float64 {
	q := cvGPM * M3SPerGPM
	return PaPerPsi * rhoKgM3 / 999.10329 / float64(q*q)
}

// MinorB returns B of a minor loss of k velocity heads in a bore of diameterM.
func MinorB(k, diameterM, rhoKgM3 float64) float64 {
	d2 := diameterM * diameterM
	return k * 8 * rhoKgM3 / (math.Pi * math.Pi * d2 * d2)
}

// OrificeB returns B of an orifice with discharge coefficient cd.
func OrificeB(cd, diameterM, rhoKgM3 float64) float64 {
	return MinorB(1/(cd*cd), diameterM, rhoKgM3)
}

// PipeLaw returns the law of a straight pipe with k velocity heads of minor loss.
func PipeLaw(lengthM, diameterM, roughnessM, k, rhoKgM3, muPaS float64) Law {
	d := diameterM
	return Law{
		Kind:     Pipe,
		A:        0,
		B:        MinorB(k, d, rhoKgM3),
		PipeB:    MinorB(lengthM/d, d, rhoKgM3),
		PipeRe:   4 * rhoKgM3 / (math.Pi * d * muPaS),
		RelRough: roughnessM / d,
	}
}

// Injector holds the coefficients of a jet pump, Pa·s²/m⁶.
type Injector struct {
	NozzleB     float64 // (1+Kn)·kn: law of the nozzle link, Quadratic
	SuctionB    float64 // (1+Ks)·ks: law of the suction link, Quadratic
	ThroatB     float64 // (1+Kt+Kd+a²)·kt: B of the Jet link
	NozzleGain  float64 // of the Jet link
	SuctionGain float64 // of the Jet link
}

// NewInjector returns the coefficients of an injector.
// nozzleM and throatM are diameters, nozzleOpen and throatOpen the free fractions
// of their areas (0..1), phi the effectiveness of the mixing (0.85 new, less with
// wear), rhoKgM3 the density of the liquid.
func NewInjector(nozzleM, throatM, nozzleOpen, throatOpen, phi, rhoKgM3 float64) Injector {
	return Injector{}
}

// Laws returns the laws of the three links, in the order nozzle, suction, jet.
// vapourPa is the vapour pressure of the liquid as gauge pressure.
func (c Injector) Laws(vapourPa float64) (nozzle, suction, jet Law) {
	nozzle = Law{Kind: Quadratic, B: c.NozzleB}
	suction = Law{Kind: Quadratic, B: c.SuctionB}
	jet = Law{Kind: Jet, B: c.ThroatB, NozzleGain: c.NozzleGain, SuctionGain: c.SuctionGain, VapourPa: vapourPa}
	return nozzle, suction, jet
}

// Packing describes a bed of beads in water.
type Packing struct {
	BeadM    float64 // mean bead diameter, m
	Void     float64 // void fraction of the settled bed
	BeadKgM3 float64 // density of a wet bead
	RhoKgM3  float64 // density of the liquid
	MuPaS    float64 // its viscosity
}

// BedLaw returns the law of a settled bed of the given depth and cross-section:
// Ergun's loss down; up, the same, capped at the buoyant weight of the bed.
func BedLaw(p Packing, depthM, areaM2 float64) Law { return Law{Kind: Bed} }

// ErgunA and ErgunB of a bed, per superficial velocity and its square, Pa·s/m and Pa·s²/m².
func (p Packing) Ergun(depthM float64) (perV, perV2 float64) { return 0, 0 }

// WeightPa returns the buoyant weight of a settled bed per area, Pa.
func (p Packing) WeightPa(depthM float64) float64 { return 0 }

// FluidisationVelocity returns Wen & Yu's superficial velocity of incipient fluidisation, m/s.
func (p Packing) FluidisationVelocity() float64 { return 0 }

// TerminalVelocity returns the settling velocity of one bead with Schiller-Naumann drag, m/s.
func (p Packing) TerminalVelocity() float64 { return 0 }

// VoidAt returns the void fraction at an upward superficial velocity (m/s) after
// Richardson & Zaki, never below Void. columnM is the diameter of the tank.
func (p Packing) VoidAt(upMS, columnM float64) float64 { return p.Void }

// Expansion returns the relative increase of depth of a bed at an upward superficial velocity.
func (p Packing) Expansion(upMS, columnM float64) float64 { return 0 }

// MainsB returns B of a supply that gives staticPa at rest and residualPa at flowM3S.
func MainsB(staticPa, residualPa, flowM3S float64) float64 {
	return (staticPa - residualPa) / float64(flowM3S*flowM3S)
}

// PluggedB returns the B of a passage whose free area is reduced to the fraction
// open (0..1) of that at which it has coefficient b.
func PluggedB(b, open float64) float64 { return b / float64(open*open) }

// BallOpening returns the Cv of a quarter-turn ball valve, as a fraction of fully open, at turn 0..1.
func BallOpening(turn float64) float64 { return turn }

// GlobeOpening returns the same for a globe valve or tap at lift 0..1.
func GlobeOpening(lift float64) float64 { return lift }
