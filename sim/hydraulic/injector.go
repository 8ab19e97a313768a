package hydraulic

// Loss coefficients of the jet pump, as tried for a household injector: in
// velocity heads of the nozzle, the suction annulus, the throat, the diffuser,
// and (area of throat / area of discharge)². Form of the equations: the one-
// dimensional jet pump of the Pump Handbook (Karassik et al.), with mixing at the
// effectiveness φ. Values from the design, no outside source.
const (
	nozzleLoss   = 0.10
	suctionLoss  = 0.40
	throatLoss   = 0.30
	diffuserLoss = 0.40
	dischargeA2  = 0.04

	widestJet  = 0.9  // of the throat's area: a wider jet is cut down to it by the throat
	plugOpen   = 1e-6 // free fraction of an area that counts as plugged
	newMixing  = 0.85
	wornMixing = 0.5
)

// Injector holds the coefficients of a jet pump, Pa·s²/m⁶, with
// k = 8ρ/(π²d⁴) of nozzle (kn) and throat (kt), R = nozzle area over throat area.
type Injector struct {
	NozzleB     float64 // (1+Kn)·kn: B of the nozzle link
	SuctionB    float64 // (1+Ks)·ks, ks = kt/(1−R)²: B of the suction link
	ThroatB     float64 // (1+Kt+Kd+a²)·kt: B of the Jet link
	NozzleGain  float64 // 2φR·kn: of the Jet link
	SuctionGain float64 // 2(1−R)·ks: of the Jet link
}

// NewInjector returns the coefficients of an injector. nozzleM and throatM are
// diameters, nozzleOpen and throatOpen the free fractions of their areas (0..1),
// wear 0..1 takes the mixing effectiveness φ from that of a new injector, 0.85,
// to 0.5. A nozzle wider than the throat is as good as one nearly as wide.
func NewInjector(nozzleM, throatM, nozzleOpen, throatOpen, wear, rhoKgM3 float64) Injector {
	phi := newMixing - float64((newMixing-wornMixing)*wear)
	throat2 := throatM * throatM * max(throatOpen, plugOpen)
	ratio := min(nozzleM*nozzleM*max(nozzleOpen, plugOpen)/throat2, widestJet)
	kt := rhoKgM3 / (circle * throat2 * throat2)
	kn := kt / (ratio * ratio)
	annulus := 1 - ratio
	ks := kt / (annulus * annulus)
	return Injector{
		NozzleB:     (1 + nozzleLoss) * kn,
		SuctionB:    (1 + suctionLoss) * ks,
		ThroatB:     (1 + throatLoss + diffuserLoss + dischargeA2) * kt,
		NozzleGain:  2 * phi * ratio * kn,
		SuctionGain: 2 * annulus * ks,
	}
}

// Laws returns the laws of nozzle, suction and mixing tube. vapourPa is the
// vapour pressure of the liquid as gauge pressure, below 0.
func (c Injector) Laws(vapourPa float64) (nozzle, suction, jet Law) {
	nozzle.B = c.NozzleB
	suction.B = c.SuctionB
	jet = Law{Kind: Jet, B: c.ThroatB, NozzleGain: c.NozzleGain, SuctionGain: c.SuctionGain, VapourPa: vapourPa}
	return nozzle, suction, jet
}
