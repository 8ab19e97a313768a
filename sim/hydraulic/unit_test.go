package hydraulic

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
)

// The nodes and passages of a household softener, as the unit under test.
const (
	street = iota
	supplySide
	valveIn
	valveOut
	houseSide
	bedTop
	bedBottom
	riserTop
	drainManifold
	drainLine
	screen
	nozzleIn
	throat
	suction
	valveBrine
	pickup
	house
	sink
	gap
	tank
	numNodes
)

const (
	inletSeat = iota
	outletSeat
	passSeat
	upflowSeat
	backwashSeat
	rinseSeat
	motiveSeat
	brineSeat
	mains
	bypassIn
	bypassOut
	crossing
	houseTap
	rawTap
	bed
	riser
	screenMesh
	nozzle
	suctionPort
	mixing
	drainControl
	drainPipe
	brinePipe
	airCheck
	numLinks
)

var unitLinks = [numLinks]Ends{
	inletSeat:    {From: valveIn, To: bedTop},
	outletSeat:   {From: riserTop, To: valveOut},
	passSeat:     {From: valveIn, To: valveOut},
	upflowSeat:   {From: valveIn, To: riserTop},
	backwashSeat: {From: bedTop, To: drainManifold},
	rinseSeat:    {From: riserTop, To: drainManifold},
	motiveSeat:   {From: valveIn, To: screen},
	brineSeat:    {From: valveBrine, To: suction},
	mains:        {From: street, To: supplySide},
	bypassIn:     {From: supplySide, To: valveIn},
	bypassOut:    {From: valveOut, To: houseSide},
	crossing:     {From: supplySide, To: houseSide},
	houseTap:     {From: houseSide, To: house},
	rawTap:       {From: supplySide, To: sink},
	bed:          {From: bedTop, To: bedBottom},
	riser:        {From: bedBottom, To: riserTop},
	screenMesh:   {From: screen, To: nozzleIn},
	nozzle:       {From: nozzleIn, To: throat},
	suctionPort:  {From: suction, To: throat},
	mixing:       {From: throat, To: bedTop, Jet: true, Nozzle: nozzle, Suction: suctionPort},
	drainControl: {From: drainManifold, To: drainLine},
	drainPipe:    {From: drainLine, To: gap},
	brinePipe:    {From: pickup, To: valveBrine},
	airCheck:     {From: tank, To: pickup},
}

var goodBed = Packing{BeadM: 6e-4, Void: 0.38, BeadKgM3: 1250, RhoKgM3: 999, MuPaS: 0.001}

const (
	rho      = 999.0
	vapourPa = -99000.0
	leakCv   = 2e-6
)

// unitNetwork is the softener's network; its fixed nodes are the ends.
func unitNetwork(t testing.TB) *Network {
	n, err := NewNetwork(numNodes, unitFixed(), unitLinks[:])
	require.NoError(t, err)
	return n
}

func unitFixed() []bool {
	fixed := make([]bool, numNodes)
	for _, v := range []int{street, house, sink, gap, tank} {
		fixed[v] = true
	}
	return fixed
}

// openLaws is a healthy unit with everything open that is not named as shut.
func openLaws(shut ...int) []Law {
	laws := make([]Law, numLinks)
	for i := range laws {
		laws[i].B = CvB(8, rho)
	}
	laws[bed] = goodBed.BedLaw(0.75, 0.0507)
	laws[nozzle], laws[suctionPort], laws[mixing] = NewInjector(0.0009, 0.0017, 1, 1, 0, rho).Laws(vapourPa)
	laws[drainControl] = FlowControlLaw(2.4*M3SPerGPM, 1e5)
	laws[drainPipe] = PipeLaw(6, 0.0127, 1.5e-6, 2, rho, 0.001)
	laws[airCheck] = CheckLaw(CvB(2, rho), leakCv, rho)
	laws[brinePipe] = Law{B: CvB(0.6, rho), RisePa: -6000}
	for _, i := range shut {
		laws[i] = Law{B: CvB(leakCv, rho)}
	}
	return laws
}

// drawLaws is a healthy unit in brine draw with nobody using water.
func drawLaws() []Law {
	return openLaws(inletSeat, outletSeat, upflowSeat, backwashSeat, houseTap, rawTap, crossing)
}

// randomLaws draws a unit with anything open, shut, plugged, worn or reversed.
func randomLaws(r *repro.Stream, laws []Law) {
	for i := range laws {
		laws[i] = Law{B: CvB(1+20*r.Float64(), rho)}
		switch u := r.Float64(); {
		case u < 0.45:
			laws[i].B = CvB(leakCv*math.Max(r.Float64(), 1e-3), rho)
		case u < 0.6:
			laws[i].B = PluggedB(laws[i].B, r.Float64()*r.Float64()*r.Float64())
		}
	}
	p := goodBed
	p.BeadKgM3 = 1150 + 150*r.Float64()
	laws[bed] = p.BedLaw(0.1+r.Float64(), 0.03+0.1*r.Float64())
	injector := NewInjector(0.0009+0.0005*r.Float64(), 0.0017, 1, 1, 0, rho)
	if r.Float64() < 0.5 {
		plug := r.Float64() * r.Float64()
		injector = NewInjector(0.0009, 0.0017, plug*plug, r.Float64()*r.Float64(), r.Float64(), rho)
	}
	laws[nozzle], laws[suctionPort], laws[mixing] = injector.Laws(vapourPa)
	laws[drainControl] = FlowControlLaw(2.4*M3SPerGPM*math.Max(0.001, r.Float64()), 1000+5e4*r.Float64())
	laws[drainPipe] = PipeLaw(6, 0.0127*math.Max(0.05, r.Float64()), 1.5e-6, 2, rho, 0.001)
	laws[airCheck] = CheckLaw(CvB(2, rho), leakCv, rho)
	if r.Float64() < 0.3 {
		laws[airCheck] = Law{Kind: Check, B: CvB(leakCv, rho), BR: CvB(1, rho)}
	}
	laws[brinePipe].RisePa = -2e4 * r.Float64()
	laws[houseTap].RisePa = 1e5 * (r.Float64() - 0.5)
}

// randomPressures sets the ends of the unit: supply 0..150 psi, the house
// sometimes pressing back.
func randomPressures(r *repro.Stream, p []float64) {
	p[street] = 150 * PaPerPsi * r.Float64()
	p[house], p[sink], p[gap] = 0, 0, 0
	if r.Float64() < 0.1 {
		p[house] = 100 * PaPerPsi * r.Float64()
	}
	p[tank] = 1e4 * r.Float64()
}
