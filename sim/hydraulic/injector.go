package hydraulic

// JetLosses are the loss coefficients of a jet pump, in velocity heads of the
// passage concerned.
type JetLosses struct {
	Nozzle   float64 // Kn
	Suction  float64 // Ks, of the annulus round the jet
	Throat   float64 // Kt, of the mixing tube
	Diffuser float64 // Kd, of the throat's velocity head
	Outlet   float64 // a², (area of throat / area of discharge)²
	Mixing   float64 // φ, part of the jet's momentum that mixing turns into pressure
}

// HouseholdLosses are those of an injector of a household softener: tried in the
// design of the bench, no outside source. wear 0..1 takes the mixing from 0.85 to 0.5.
func HouseholdLosses(wear float64) JetLosses {
	return JetLosses{
		Nozzle: 0.10, Suction: 0.40, Throat: 0.30, Diffuser: 0.40, Outlet: 0.04,
		Mixing: 0.85 - float64(0.35*wear),
	}
}

// Injector holds the coefficients of a jet pump, Pa·s²/m⁶. With k = 8ρ/(π²d⁴) of
// nozzle (kn) and throat (kt), R the nozzle's area over the throat's, Po the
// pressure at the throat's entry and flows m, s and d = m + s:
//
//	nozzle   Pm − Po = (1+Kn)·kn·m²
//	suction  Ps − Po = (1+Ks)·ks·s²,  ks = kt/(1−R)²
//	mixing   Pd − Po = 2φR·kn·m² + 2(1−R)·ks·s² − (1+Kt+Kd+a²)·kt·d²
//
// the one-dimensional jet pump with a retracted nozzle (Karassik et al., Pump
// Handbook, 4th ed. 2007, jet pumps). Of a stream wider than the throat, as in
// front of a plugged one, the part that meets it counts: R and 1−R in the gains
// are 1 at most, without which a plugged throat would give power away.
type Injector struct {
	NozzleB     float64 // of the nozzle link
	SuctionB    float64 // of the suction link
	ThroatB     float64 // of the Jet link
	NozzleGain  float64 // of the Jet link
	SuctionGain float64 // of the Jet link
}

// leastAnnulus is what a jet as wide as the throat, or wider, leaves to the
// suction beside it, as part of the area of the clean throat.
const leastAnnulus = 0.1

// NewInjector returns the coefficients of a household injector. nozzleM and
// throatM are diameters above 0, nozzleOpen and throatOpen the free fractions of
// their areas (0..1; a plug weeps through a millionth), wear 0..1 see
// HouseholdLosses.
func NewInjector(nozzleM, throatM, nozzleOpen, throatOpen, wear, rhoKgM3 float64) Injector {
	return JetPump(HouseholdLosses(wear), nozzleM, throatM, nozzleOpen, throatOpen, rhoKgM3)
}

// JetPump is NewInjector with given losses.
func JetPump(k JetLosses, nozzleM, throatM, nozzleOpen, throatOpen, rhoKgM3 float64) Injector {
	clean2 := throatM * throatM
	throat2 := clean2 * max(throatOpen, leastOpen)
	ratio := nozzleM * nozzleM * max(nozzleOpen, leastOpen) / throat2
	annulus := max(1-ratio, leastAnnulus*clean2/throat2)
	kt := rhoKgM3 / (circle * throat2 * throat2)
	kn := kt / (ratio * ratio)
	ks := kt / (annulus * annulus)
	return Injector{
		NozzleB:     (1 + k.Nozzle) * kn,
		SuctionB:    (1 + k.Suction) * ks,
		ThroatB:     (1 + k.Throat + k.Diffuser + k.Outlet) * kt,
		NozzleGain:  2 * k.Mixing * min(ratio, 1) * kn,
		SuctionGain: 2 * min(annulus, 1) * ks,
	}
}

// LeastSuction is the lowest pressure, Pa gauge, that the throat of a household injector
// gets to in water of that vapour pressure, Pa gauge below 0: dissolved air comes out
// well before the water boils, and a vacuum gauge on the brine fitting, nothing flowing,
// shows 20 to 25 inHg (common practice, no source; from memory).
func LeastSuction(vapourPa float64) float64 {
	const inHg = 3386.389 // Pa, NIST SP 811 (2008), B.8
	return greater(vapourPa, -24*inHg)
}

// Laws returns the laws of nozzle, suction and mixing tube. vapourPa is the
// pressure, gauge and below 0, that the throat does not go under: of the liquid's vapour,
// or LeastSuction.
func (c Injector) Laws(vapourPa float64) (nozzle, suction, jet Law) {
	nozzle.B = c.NozzleB
	suction.B = c.SuctionB
	jet = Law{Kind: Jet, B: c.ThroatB, NozzleGain: c.NozzleGain, SuctionGain: c.SuctionGain, VapourPa: vapourPa}
	return nozzle, suction, jet
}
