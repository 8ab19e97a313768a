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
// coefficient is finite and not negative, except RisePa and VapourPa, which are
// finite.
//
// Every law carries in addition a slope of 0.01 Pa·s/m³, and near rest a quadratic
// term gives way to a linear one, as it does in a real passage: neither changes
// a loss by more than 0.01 Pa, and no slope is ever zero.
type Law struct {
	Kind Kind

	A, B   float64 // Pa·s/m³, Pa·s²/m⁶; for Regulator below the set flow
	AR, BR float64 // the same for reverse flow; Check and Regulator, and a Pipe with a check, BR > 0

	SetM3S float64 // Regulator: flow at which it starts to throttle, m³/s, above 0
	SteepB float64 // Regulator: further loss (Q−SetM3S)²·SteepB above that; 0: 10 bar at 2 % above; Pa·s²/m⁶

	CapPa   float64 // Bed: buoyant weight of the bed per area, which the upward loss approaches, Pa
	BasketB float64 // Bed: of what it is flowed through by, in series with it, either way; Pa·s²/m⁶

	RisePa float64 // pressure added along the link: elevation, liquid column, pump; Pa

	PipeB    float64 // Pipe: 8ρL/(π²D⁵), so that friction is f·PipeB·Q², Pa·s²/m⁶
	PipeRe   float64 // Pipe: 4ρ/(πDμ), Reynolds number per flow, s/m³, above 0
	RelRough float64 // Pipe: roughness over diameter, 0..0.05

	NozzleGain  float64 // Jet: 2φR·kn, pressure gained per square of forward nozzle flow, Pa·s²/m⁶
	SuctionGain float64 // Jet: 2(1−R)·ks, the same for forward suction flow
	VapourPa    float64 // Jet: lowest pressure of the throat (its From node), Pa gauge, below 0; 0: no limit
}

const (
	restPa    = 0.01  // quadratic and one-way terms turn linear below this loss, Pa
	restSlope = 0.01  // slope added to every law, Pa·s/m³
	liftSlope = 0.001 // part of the packed bed's loss that a lifted bed keeps
	bar10Pa   = 1e6

	leastRoot2 = 1e-300 // keeps a loss of nothing finite
)

// Loss returns the loss of pressure at flow q (m³/s), in Pa, and its derivative
// (Pa·s/m³), which is always positive. The gain of a Jet is not part of it.
func (l *Law) Loss(q float64) (pa, slope float64) {
	switch l.Kind {
	case Check:
		pa, slope = l.twoWay(q)
	case Regulator:
		pa, slope = l.twoWay(q)
		if over := q - l.SetM3S; over > 0 {
			b := l.steepB()
			pa += float64(float64(b*over) * over)
			slope += float64(2 * b * over)
		}
	case Bed:
		pa, slope = l.bed(q)
		if l.BasketB > 0 {
			more, steeper := passage(q, 0, l.BasketB)
			pa, slope = pa+more, slope+steeper
		}
	case Pipe:
		pa, slope = l.pipe(q)
	default:
		pa, slope = passage(q, l.A, l.B)
	}
	return pa + float64(restSlope*q), slope + restSlope
}

// steepB returns how sharply a regulator throttles.
func (l *Law) steepB() float64 {
	if l.SteepB > 0 {
		return l.SteepB
	}
	over := 0.02 * l.SetM3S
	return bar10Pa / float64(over*over)
}

// passage is a·q + b·q|q|, the latter as b·q·√(q²+q₀²) with b·q₀² = restPa.
func passage(q, a, b float64) (pa, slope float64) {
	pa, slope = float64(a*q), a
	if b > 0 {
		h, dh := quadratic(q, b, float64(restPa*b))
		pa, slope = pa+h, slope+dh
	}
	return pa, slope
}

// quadratic is q·√(b²q²+s²): b·q|q| with a slope s at rest.
func quadratic(q, b, s2 float64) (pa, slope float64) {
	bq := b * q
	bq2 := float64(bq * bq)
	root := math.Sqrt(bq2 + s2 + leastRoot2)
	return float64(q * root), (float64(2*bq2) + s2) / root
}

// twoWay follows A and B forward, AR and BR in reverse, with one slope at rest:
// that of the easier way.
func (l *Law) twoWay(q float64) (pa, slope float64) {
	a, b := l.A, l.B
	if q < 0 {
		a, b = l.AR, l.BR
	}
	easyA, easyB := l.A, l.B
	if l.AR < easyA {
		easyA = l.AR
	}
	if l.BR < easyB {
		easyB = l.BR
	}
	pa, slope = float64(easyA*q), easyA
	if easyB > 0 {
		h, dh := quadratic(q, b, float64(restPa*easyB))
		pa, slope = pa+h, slope+dh
	} else if b > 0 {
		pa += float64(b * float64(q*math.Abs(q)))
		slope += float64(2 * b * math.Abs(q))
	}
	if k := a - easyA; k > 0 {
		kq := float64(k * math.Abs(q))
		down := kq + restPa
		pa += math.Copysign(float64(kq*kq)/down, q)
		slope += float64(k * (kq * (kq + 2*restPa) / (down * down)))
	}
	return pa, slope
}

// bed is Ergun's loss; upward it bends to the weight of the bed, CapPa, as
// x/(1+x⁴)^¼ does to 1, and a small part of it goes on rising.
func (l *Law) bed(q float64) (pa, slope float64) {
	pa, slope = passage(q, l.A, l.B)
	if q >= 0 || l.CapPa <= 0 {
		return pa, slope
	}
	x := pa / l.CapPa
	x2 := float64(x * x)
	s := 1 + float64(x2*x2)
	root := math.Sqrt(math.Sqrt(s))
	const weight = 1 - liftSlope
	return float64(pa * (weight/root + liftSlope)), float64(slope * (weight/float64(s*root) + liftSlope))
}

// gain returns what the mixing tube gains from the nozzle's and the suction's
// flow, Pa, and its derivatives. A reversed flow brings nothing.
func (l *Law) gain(nozzle, suction float64) (pa, perNozzle, perSuction float64) {
	m, s := greater(nozzle, 0), greater(suction, 0)
	perNozzle, perSuction = float64(2*l.NozzleGain*m), float64(2*l.SuctionGain*s)
	return float64(float64(l.NozzleGain*m)*m) + float64(float64(l.SuctionGain*s)*s), perNozzle, perSuction
}

// guess returns a flow whose loss is about target Pa, given the loss pa at q of
// the same sign: exact for a quadratic law.
func (l *Law) guess(q, pa, target float64) float64 {
	if l.Kind == Regulator && q > l.SetM3S {
		if low, _ := l.twoWay(l.SetM3S); target > low {
			return l.SetM3S + math.Sqrt((target-low)/l.steepB())
		}
	}
	return q * math.Sqrt(target/pa)
}

// allValid tells whether every coefficient of every law is in its range. x − |x| is
// 0 for a finite x that is not negative, less for one that is, and else not a number.
//
//go:noinline
func allValid(laws []Law) bool {
	good := true
	for i := range laws {
		l := &laws[i]
		under := (l.A - math.Abs(l.A)) + (l.B - math.Abs(l.B)) + (l.AR - math.Abs(l.AR)) + (l.BR - math.Abs(l.BR)) +
			(l.SetM3S - math.Abs(l.SetM3S)) + (l.SteepB - math.Abs(l.SteepB)) + (l.CapPa - math.Abs(l.CapPa)) + (l.BasketB - math.Abs(l.BasketB)) +
			(l.PipeB - math.Abs(l.PipeB)) + (l.PipeRe - math.Abs(l.PipeRe)) + (l.RelRough - math.Abs(l.RelRough)) +
			(l.NozzleGain - math.Abs(l.NozzleGain)) + (l.SuctionGain - math.Abs(l.SuctionGain)) +
			(l.RisePa - l.RisePa) + (l.VapourPa - l.VapourPa)
		if under != 0 {
			good = false
		}
		if l.Kind >= Regulator && !l.fits() {
			good = false
		}
	}
	return good
}

// fits tells whether a law has the flow or the bore that its kind needs.
func (l *Law) fits() bool {
	return l.Kind < numKinds && (l.Kind != Regulator || l.SetM3S > 0) && (l.Kind != Pipe || l.PipeRe > 0)
}

func finite(x float64) bool { return x-x == 0 }
