package hydraulic

import "math"

// Kind tells which loss law a link follows.
type Kind uint8

// The kinds of link.
const (
	Quadratic Kind = iota // A·Q + B·Q|Q| both ways: seat, orifice, minor loss
	Check                 // forward A, B; reverse AR, BR: check, ball, float
	Regulator             // flow regulator: A, B up to SetM3S, steep above it; reverse AR, BR
	Bed                   // packed bed down (positive) and up, up to the weight of the bed
	Pipe                  // Darcy-Weisbach with Colebrook, laminar below Re 2000, and minor loss B
	Jet                   // mixing tube of a jet pump, with the gain from its nozzle and suction links
	numKinds
)

// Law is the loss law of one link at this moment: plain data, rebuilt by the
// caller as often as it likes. It states
//
//	P_from + RisePa − P_to = loss(Q)
//
// with gauge pressures in Pa and Q in m³/s, positive from → to. Every
// coefficient is finite and not negative, RisePa and VapourPa are finite.
//
// Every law carries in addition a slope of 1 Pa·s/m³, and every quadratic term
// is B·Q·√(Q²+Q₀²) with B·Q₀² = 0.01 Pa: never more than 0.005 Pa above B·Q|Q|,
// and smooth with a slope that is not zero at rest, as a real passage has it.
type Law struct {
	Kind Kind

	A, B   float64 // Pa·s/m³, Pa·s²/m⁶; for Regulator below the set flow
	AR, BR float64 // the same for reverse flow; Check and Regulator, and Pipe when BR > 0

	SetM3S float64 // Regulator: flow at which it starts to throttle, m³/s
	SteepB float64 // Regulator: loss above the set flow is SteepB·(Q−SetM3S)², Pa·s²/m⁶; 0: 10 bar at 2 % above

	CapPa float64 // Bed: buoyant weight of the bed per area, the greatest upward loss, Pa

	RisePa float64 // pressure added along the link: elevation, liquid column, pump; Pa

	PipeB    float64 // Pipe: 8ρL/(π²D⁵), so that friction is f·PipeB·Q², Pa·s²/m⁶
	PipeRe   float64 // Pipe: 4ρ/(πDμ), Reynolds number per flow, s/m³
	RelRough float64 // Pipe: roughness over diameter

	NozzleGain  float64 // Jet: 2φR·kn, pressure gained per square of forward nozzle flow, Pa·s²/m⁶
	SuctionGain float64 // Jet: 2(1−R)·ks, the same for forward suction flow
	VapourPa    float64 // Jet: lowest pressure of the throat (its From node), Pa gauge, below 0; 0: no limit
}

// Loss returns the loss of pressure at flow q (m³/s), in Pa, and its derivative
// (Pa·s/m³), which is always positive. The gain of a Jet is not part of it.
func (l *Law) Loss(q float64) (pa, slope float64) {
	return l.A*q + l.B*q*math.Abs(q), l.A + 2*l.B*math.Abs(q)
}
