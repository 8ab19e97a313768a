package hydraulic

import "math"

// Units of the trade that coefficients are given in.
const (
	PaPerPsi  = 6894.757293168361     // lbf/in²
	M3SPerGPM = 3.785411784e-3 / 60   // US gallon per minute
	waterRho  = 999.10329             // kg/m³, water at 15 °C, to which flow coefficients refer
	kvUnit    = 1.0 / 3600            // m³/h
	kvPa      = 1e5                   // bar
	leastOpen = 1e-6                  // free fraction of an area that counts as plugged
	circle    = math.Pi * math.Pi / 8 // (area/diameter²)²·2
)

// CvB returns the coefficient B (Pa·s²/m⁶) of a passage with flow coefficient
// cvGPM, above 0 (US gpm of water at 1 psi), for a liquid of density rhoKgM3.
// Definition of IEC 60534-1.
func CvB(cvGPM, rhoKgM3 float64) float64 {
	q := cvGPM * M3SPerGPM
	return PaPerPsi * rhoKgM3 / waterRho / (q * q)
}

// KvB is CvB for a flow coefficient in m³/h of water at 1 bar.
func KvB(kvM3H, rhoKgM3 float64) float64 {
	q := kvM3H * kvUnit
	return kvPa * rhoKgM3 / waterRho / (q * q)
}

// MinorB returns B of k velocity heads in a bore of diameterM, above 0.
func MinorB(k, diameterM, rhoKgM3 float64) float64 {
	d2 := diameterM * diameterM
	return k * rhoKgM3 / (circle * d2 * d2)
}

// OrificeB returns B of a sharp orifice with discharge coefficient cd, above 0,
// into a large space or the atmosphere.
func OrificeB(cd, diameterM, rhoKgM3 float64) float64 {
	return MinorB(1/(cd*cd), diameterM, rhoKgM3)
}

// PluggedB returns the B of a passage whose free area is the fraction open (0..1)
// of that at which it has coefficient b. A plug weeps through a millionth.
func PluggedB(b, open float64) float64 {
	open = max(open, leastOpen)
	return b / (open * open)
}

// PipeLaw returns the law of a full round pipe with k velocity heads of minor
// loss: Darcy-Weisbach with Colebrook's friction (see Friction). All arguments
// are above 0 but roughnessM, k and lengthM, which may be 0.
func PipeLaw(lengthM, diameterM, roughnessM, k, rhoKgM3, muPaS float64) Law {
	return Law{
		Kind:     Pipe,
		B:        MinorB(k, diameterM, rhoKgM3),
		PipeB:    MinorB(lengthM/diameterM, diameterM, rhoKgM3),
		PipeRe:   4 * rhoKgM3 / (math.Pi * diameterM * muPaS),
		RelRough: roughnessM / diameterM,
	}
}

// FlowControlLaw returns the law of a flow regulator that passes setM3S from
// thresholdPa of pressure difference on and 2 % more at 10 bar; an orifice below
// the threshold and in reverse. setM3S and thresholdPa are above 0.
func FlowControlLaw(setM3S, thresholdPa float64) Law {
	b := thresholdPa / (setM3S * setM3S)
	return Law{Kind: Regulator, B: b, BR: b, SetM3S: setM3S}
}

// CheckLaw returns the law of a check or ball that passes forward flow with
// coefficient b and reverse flow only as a leak of flow coefficient leakCvGPM, above 0.
func CheckLaw(b, leakCvGPM, rhoKgM3 float64) Law {
	return Law{Kind: Check, B: b, BR: CvB(leakCvGPM, rhoKgM3)}
}

// MainsB returns B of a supply main that stands at staticPa at rest and at
// residualPa, below staticPa, when flowM3S is drawn (a flow test). As a link it
// leads from a fixed node at staticPa.
func MainsB(staticPa, residualPa, flowM3S float64) float64 {
	return (staticPa - residualPa) / (flowM3S * flowM3S)
}

// BallOpening returns the flow coefficient of a quarter-turn ball valve as a
// fraction of that fully open, at turn 0..1: none in the first twelfth, where the
// ball laps its seat, then as the square. Common practice, no source.
func BallOpening(turn float64) float64 {
	const lap = 1.0 / 12
	part := max((min(turn, 1)-lap)/(1-lap), 0)
	return part * part
}

// GlobeOpening returns the same for a globe valve or tap with a flat disc at lift
// 0..1: the curtain under the disc in series with the body, each with half of the
// loss of the open valve. Common practice, no source.
func GlobeOpening(lift float64) float64 {
	x := min(max(lift, 0), 1)
	return x / math.Sqrt((1+float64(x*x))/2)
}
