package hydraulic

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

var sampleLaws = map[string]Law{
	"nothing at all":     {},
	"linear":             {A: 3e6},
	"open seat":          {B: CvB(8, rho)},
	"shut seat":          {B: CvB(leakCv, rho)},
	"check":              CheckLaw(CvB(2, rho), leakCv, rho),
	"check, linear leak": {Kind: Check, A: 1e3, B: 1e9, AR: 1e15},
	"stuck check":        {Kind: Check, B: CvB(leakCv, rho), BR: CvB(1, rho)},
	"drain control":      FlowControlLaw(2.4*M3SPerGPM, 1e5),
	"sharp regulator":    {Kind: Regulator, B: 1e9, BR: 1e10, SetM3S: 1e-4, SteepB: 1e20},
	"bed":                goodBed.BedLaw(0.75, 0.0507),
	"bed in a basket":    {Kind: Bed, A: 1e7, B: 1e9, CapPa: 1500, BasketB: 1e12},
	"bed of light beads": Packing{BeadM: 6e-4, Void: 0.38, BeadKgM3: 999.5, RhoKgM3: 999, MuPaS: 0.001}.BedLaw(0.75, 0.05),
	"smooth pipe":        PipeLaw(6, 0.0127, 0, 2, rho, 0.001),
	"rough pipe":         PipeLaw(6, 0.0127, 5e-4, 0, rho, 0.0015),
	"pipe with check":    {Kind: Pipe, PipeB: 1e9, PipeRe: 1e8, BR: 1e23},
	"reducer":            reduced,
	"well pump":          houseWell().Law(true, leakCv, rho),
	"air leak":           LeakLaw(0.6, 1e-4, rho, 1.2),
	"mixing tube":        {Kind: Jet, B: 3e13, NozzleGain: 1e14, SuctionGain: 1e14},
}

// flows from 1e-14 to 1e-2 m³/s, both ways.
func flows() []float64 {
	var out []float64
	for e := -14.0; e <= -2; e += 0.23 {
		out = append(out, math.Pow(10, e), -math.Pow(10, e))
	}
	return out
}

func TestSlopesAreTheDerivativesOfLosses(t *testing.T) {
	for name, l := range sampleLaws {
		for _, q := range flows() {
			h := 1e-5 * math.Abs(q)
			up, upSlope := l.Loss(q + h)
			down, downSlope := l.Loss(q - h)
			_, slope := l.Loss(q)
			chord := (up - down) / (2 * h)
			low, high := min(upSlope, downSlope, slope), max(upSlope, downSlope, slope)
			room := 1e-5*math.Abs(chord) + 1e-15*math.Abs(up)/h
			require.GreaterOrEqual(t, chord, low-room, "%s at %g m³/s", name, q)
			require.LessOrEqual(t, chord, high+room, "%s at %g m³/s", name, q)
		}
	}
}

func TestGainOfTheMixingTubeHasItsDerivatives(t *testing.T) {
	l := sampleLaws["mixing tube"]
	for _, m := range flows() {
		for _, s := range flows() {
			_, perNozzle, perSuction := l.gain(m, s)
			hm, hs := 1e-5*math.Abs(m), 1e-5*math.Abs(s)
			up, _, _ := l.gain(m+hm, s)
			down, _, _ := l.gain(m-hm, s)
			require.InDelta(t, perNozzle, (up-down)/(2*hm), 1e-6*perNozzle+1e-14*up/hm)
			up, _, _ = l.gain(m, s+hs)
			down, _, _ = l.gain(m, s-hs)
			require.InDelta(t, perSuction, (up-down)/(2*hs), 1e-6*perSuction+1e-14*up/hs)
		}
	}
}

func TestEveryKindOfLawIsSampled(t *testing.T) {
	var seen [numKinds]bool
	for _, l := range sampleLaws {
		seen[l.Kind] = true
	}
	require.NotContains(t, seen, false)
}

func TestLossesRiseWithFlow(t *testing.T) {
	for name, l := range sampleLaws {
		zero, slope := l.Loss(0)
		require.Zero(t, zero, name)
		require.GreaterOrEqual(t, slope, restSlope, name)
		last, lastBack := 0.0, 0.0
		for e := -16.0; e <= 0; e += 0.001 {
			q := math.Pow(10, e)
			pa, slope := l.Loss(q)
			back, backSlope := l.Loss(-q)
			require.Greater(t, pa, last, "%s at %g m³/s", name, q)
			require.Less(t, back, lastBack, "%s at −%g m³/s", name, q)
			require.GreaterOrEqual(t, min(slope, backSlope), restSlope, "%s at %g m³/s", name, q)
			last, lastBack = pa, back
		}
	}
}

func TestSmoothingNearRestCostsNoMoreThanAHundredthPascal(t *testing.T) {
	for name, l := range sampleLaws {
		for _, q := range flows() {
			pa, _ := l.Loss(q)
			plain, smoothed := plainLoss(&l, q), restPa
			if l.BasketB > 0 {
				smoothed *= 2 // of either part
			}
			require.InDelta(t, plain, pa, smoothed+restSlope*math.Abs(q)+1e-9*math.Abs(plain), "%s at %g m³/s", name, q)
		}
	}
}

func TestShutCheckIsSmoothAtRest(t *testing.T) {
	for _, name := range []string{"check", "check, linear leak", "stuck check", "drain control", "bed"} {
		l := sampleLaws[name]
		_, ahead := l.Loss(1e-40)
		_, back := l.Loss(-1e-40)
		require.InEpsilon(t, ahead, back, 1e-6, name)
	}
}

func TestCheckHoldsAgainstReverseFlow(t *testing.T) {
	l := CheckLaw(CvB(2, rho), leakCv, rho)
	ahead, _ := l.Loss(2 * M3SPerGPM)
	back, _ := l.Loss(-leakCv * M3SPerGPM)
	require.InEpsilon(t, PaPerPsi, ahead, 1e-3)
	require.InEpsilon(t, -PaPerPsi, back, 1e-3)
}

func TestFlowControlHoldsItsFlow(t *testing.T) {
	const set = 2.4 * M3SPerGPM
	l := FlowControlLaw(set, 15*PaPerPsi)
	at, _ := l.Loss(set)
	require.InEpsilon(t, 15*PaPerPsi, at, 1e-6)
	half, _ := l.Loss(set / 2)
	require.InEpsilon(t, at/4, half, 1e-6)
	more, _ := l.Loss(1.02 * set)
	require.Greater(t, more, 1e6, "2 % more flow takes more than 10 bar")
}

func TestLiftedBedWeighsOnTheWater(t *testing.T) {
	const area = 0.0507
	l := goodBed.BedLaw(0.75, area)
	weight := goodBed.WeightPa(0.75)
	require.InEpsilon(t, (1250-999)*9.80665*0.62*0.75, weight, 1e-12)
	for _, times := range []float64{3, 10, 30} {
		pa, _ := l.Loss(-times * goodBed.MinimumFluidisation() * area)
		require.InEpsilon(t, weight, -pa, 0.06, "at %g times the velocity that lifts the bed", times)
	}
	pa, _ := l.Loss(-0.2 * goodBed.MinimumFluidisation() * area)
	down, _ := l.Loss(0.2 * goodBed.MinimumFluidisation() * area)
	require.InEpsilon(t, down, -pa, 0.01, "a settled bed loses the same both ways")
	require.Zero(t, Packing{BeadM: 6e-4, Void: 0.38, BeadKgM3: 1100, RhoKgM3: 1180, MuPaS: 0.0018}.WeightPa(1), "beads float in strong brine")
}

func TestPipeIsLaminarAtSmallFlow(t *testing.T) {
	l := PipeLaw(6, 0.0127, 1.5e-6, 0, rho, 0.001)
	q := 1000 / l.PipeRe
	pa, _ := l.Loss(q)
	want := 128 * 0.001 * 6 / (math.Pi * math.Pow(0.0127, 4)) * q // Hagen-Poiseuille
	require.InEpsilon(t, want, pa, 1e-4)
	for _, rough := range []float64{0, 1e-3, 0.05} {
		for _, re := range []float64{laminarRe, turbulentRe} {
			below, belowSlope := frictionLoss(re*(1-1e-12), rough)
			above, aboveSlope := frictionLoss(re*(1+1e-12), rough)
			require.InEpsilon(t, below, above, 1e-9, "Re %g", re)
			require.InEpsilon(t, belowSlope, aboveSlope, 1e-9, "Re %g", re)
		}
	}
}

func TestMainsGiveTheirFlowTest(t *testing.T) {
	b := MainsB(60*PaPerPsi, 45*PaPerPsi, 10*M3SPerGPM)
	pa, _ := (&Law{B: b}).Loss(10 * M3SPerGPM)
	require.InEpsilon(t, 15*PaPerPsi, pa, 1e-6)
}

func TestValveOpenings(t *testing.T) {
	for name, opening := range map[string]func(float64) float64{"ball": BallOpening, "globe": GlobeOpening} {
		require.Zero(t, opening(-1), name)
		require.Zero(t, opening(0), name)
		require.InDelta(t, 1, opening(1), 1e-15, name)
		require.InDelta(t, 1, opening(2), 1e-15, name)
		for x := 0.1; x < 0.99; x += 0.01 {
			require.Greater(t, opening(x+0.01), opening(x), name)
		}
	}
	require.Greater(t, GlobeOpening(0.5), BallOpening(0.5), "a globe valve opens early")
}

func TestBedStaysDownUntilItLifts(t *testing.T) {
	require.Zero(t, goodBed.Expansion(0, 0.254))
	require.Zero(t, goodBed.Expansion(-1, 0.254))
	last := 0.0
	for v := 0.0; v < 1; v += 0.0005 {
		e := goodBed.Expansion(v, 0.254)
		require.GreaterOrEqual(t, e, last)
		last = e
	}
	require.InDelta(t, maxExpansion, last, 1e-12, "beads carried away")
	light := Packing{BeadM: 6e-4, Void: 0.38, BeadKgM3: 1100, RhoKgM3: 1180, MuPaS: 0.0018}
	require.Zero(t, light.MinimumFluidisation())
	require.Zero(t, light.TerminalVelocity())
	require.InDelta(t, 1, light.VoidAt(1e-3, 0.254), 0)
}
