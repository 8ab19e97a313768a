package outfit

import (
	"math"

	"brinebench/sim/hydraulic"
	"brinebench/sim/resin"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// Site is where the parts have to work.
type Site struct {
	WaterC    float64 // temperature of the feed, °C, 1..40
	SupplyPSI float64 // pressure at the valve, above 0
	SaltLb    float64 // salt dose
}

// Flow coefficients of the valve body and brine line, US gpm at 1 psi, and other
// figures of the plant that the parts are put into.
const (
	motiveCv     = 0.9
	screenCv     = 0.6
	rinseCv      = 3
	brineSeatCv  = 0.9
	refillOpenCv = 0.8 // refill control lifted free by the draw
	refillCv     = 0.3 // the same below its rated flow
	airCheckCv   = 0.9
	shutCv       = 2e-7
	lowerDistCv  = 9
	inletCv      = 6

	drainThresholdPSI = 13.4 // from which a drain control regulates
	brineLineFt       = 5
	roughM            = 1.5e-6
	beadKgM3          = 1250
	brineTankC        = 15
)

// Draw is what an injector does on a site, with nothing wrong.
type Draw struct {
	BrineGPM float64 // drawn from the brine tank; below 0 when water runs into it instead
	TotalGPM float64 // what then goes through the bed
	RinseGPM float64 // motive water alone, once the air check has seated
	Fraction float64 // of salt by mass in what goes through the bed, 0 when nothing is drawn
	Solved   bool    // the network was solved; otherwise the figures are its best
}

// Nodes and links of a unit in brine draw.
const (
	atValve = iota
	atNozzle
	atThroat
	atSuction
	atBed
	atDrain
	inTank
	numNodes
)

const (
	feed = iota
	nozzle
	suction
	mixing
	line
	bedAndDrain
	numLinks
)

var fixed = []bool{atValve: true, atDrain: true, inTank: true}

var ends = []hydraulic.Ends{
	feed:        {From: atValve, To: atNozzle},
	nozzle:      {From: atNozzle, To: atThroat},
	suction:     {From: atSuction, To: atThroat},
	mixing:      {From: atThroat, To: atBed, Jet: true, Nozzle: nozzle, Suction: suction},
	line:        {From: inTank, To: atSuction},
	bedAndDrain: {From: atBed, To: atDrain},
}

// Drawn returns what the injector of the parts draws and rinses on the site.
func Drawn(t *Tank, p *Parts, site Site) Draw {
	net, err := hydraulic.NewNetwork(numNodes, fixed, ends)
	if err != nil {
		panic("outfit: " + err.Error())
	}
	s := net.NewState()
	s.P[atValve] = float64(site.SupplyPSI * unit.PSI)
	laws := drawLaws(t, p, site)
	drawing := net.Solve(laws, nil, &s)
	var d Draw
	d.BrineGPM = s.Q[suction] / unit.GPM
	d.TotalGPM = s.Q[mixing] / unit.GPM
	if s.Q[suction] > 0 {
		w := water.Solubility(brineTankC)
		brineKg := float64(s.Q[suction] * water.BrineDensity(brineTankC, w))
		d.Fraction = float64(brineKg*w) / (brineKg + float64(s.Q[nozzle]*water.Density(site.WaterC)))
	}
	laws[line].B = hydraulic.CvB(shutCv, water.Density(site.WaterC))
	rinsing := net.Solve(laws, nil, &s)
	d.RinseGPM = s.Q[mixing] / unit.GPM
	d.Solved = drawing.Status == hydraulic.Solved && rinsing.Status == hydraulic.Solved
	return d
}

func drawLaws(t *Tank, p *Parts, site Site) []hydraulic.Law {
	rho, mu := water.Density(site.WaterC), water.Viscosity(site.WaterC)
	cv := func(gpm float64) float64 { return hydraulic.CvB(gpm, rho) }
	laws := make([]hydraulic.Law, numLinks)
	laws[feed].B = cv(motiveCv) + cv(screenCv)
	laws[nozzle], laws[suction], laws[mixing] = p.injector(rho).Laws(hydraulic.LeastSuction(water.VapourPressure(site.WaterC) - unit.Atmosphere))
	laws[line] = p.brineLine(t, rho, mu)
	laws[line].B += cv(airCheckCv) + cv(refillOpenCv) + cv(brineSeatCv)

	bed := packing(site.WaterC, 0).BedLaw(t.BedDepthM(), t.AreaM2())
	out := hydraulic.FlowControlLaw(float64(p.DrainControlGPM*unit.GPM), drainThresholdPSI*unit.PSI)
	out.A += bed.A
	out.B += bed.B + cv(rinseCv) + cv(lowerDistCv)
	laws[bedAndDrain] = out
	return laws
}

func (p *Parts) injector(rho float64) hydraulic.Injector {
	return hydraulic.NewInjector(float64(p.NozzleMM*unit.Millimetre), float64(p.ThroatMM*unit.Millimetre), 1, 1, 0, rho)
}

// brineLine is the line up from the brine tank at the end of the draw, when it has
// to lift the brine highest: to the top of the resin tank.
func (p *Parts) brineLine(t *Tank, rho, mu float64) hydraulic.Law {
	l := hydraulic.PipeLaw(brineLineFt*unit.Foot, float64(p.BrineBoreIn*unit.Inch), roughM, 3, rho, mu)
	brine := water.BrineDensity(brineTankC, water.Solubility(brineTankC))
	l.RisePa = -float64(float64(brine*unit.Gravity) * float64((t.TankHeightIn-p.AirCheckIn)*unit.Inch))
	return l
}

// packing returns the beads of a household bed in water, or brine of mass fraction w.
func packing(tempC, w float64) hydraulic.Packing {
	sp := resin.DefaultSpec(1, 1)
	return hydraulic.Packing{
		BeadM: sp.BeadM, Void: sp.Void, BeadKgM3: beadKgM3,
		RhoKgM3: water.BrineDensity(tempC, w), MuPaS: water.BrineViscosity(tempC, w),
	}
}

// Expansion returns by which part of its depth upward water of gpm (US gal/min)
// lifts the bed, were the tank endlessly high; w is the mass fraction of salt in it.
// Richardson & Zaki, as package hydraulic has it.
func Expansion(t *Tank, gpm, tempC, w float64) float64 {
	return packing(tempC, w).Expansion(float64(gpm*unit.GPM)/t.AreaM2(), float64(t.TankDiameterIn*unit.Inch))
}

// RefillNeedsPSI returns the pressure at the valve from which the refill control
// meters: what throat, brine seat and line take at its rated flow.
func RefillNeedsPSI(t *Tank, p *Parts, tempC float64) float64 {
	rho, mu := water.Density(tempC), water.Viscosity(tempC)
	cv := func(gpm float64) float64 { return hydraulic.CvB(gpm, rho) }
	in := p.injector(rho)
	l := p.brineLine(t, rho, mu)
	l.B += in.ThroatB + in.SuctionB + cv(inletCv) + cv(brineSeatCv) + cv(refillCv) + cv(airCheckCv)
	pa, _ := l.Loss(float64(p.RefillControlGPM * unit.GPM))
	return (pa + l.RisePa) / unit.PSI
}

// saltPerGallonLb is what a gallon of refill water dissolves: common practice, and
// computed from the solubility of salt (2.96 to 3.0).
const saltPerGallonLb = 3

// RefillFlowS returns for how long the refill has to run for the salt dose, s.
func RefillFlowS(p *Parts, saltLb float64) float64 {
	return float64(saltLb / saltPerGallonLb / p.RefillControlGPM * unit.Minute)
}

// brineSwell is the volume of saturated brine over that of its water.
const brineSwell = 1.13

// BrineStopS returns how long the brine stop has to be held for the salt dose:
// until the brine is drawn and a bed volume of slow rinse has followed it, s. The
// draw must be above 0. One bed volume at least is common practice, no source.
func BrineStopS(t *Tank, d Draw, saltLb float64) float64 {
	drawS := float64(float64(brineSwell*saltLb) / saltPerGallonLb / d.BrineGPM * unit.Minute)
	bedGal := float64(t.ResinFt3 * (unit.CubicFoot / unit.USGallon))
	return drawS + float64(bedGal/d.RinseGPM*unit.Minute)
}

// BrineLevelIn returns the level at which the brine of one dose stands in the
// voids of the salt, in.
func BrineLevelIn(p *Parts, saltLb float64) float64 {
	const saltVoid = 0.47
	const galIn3 = 231
	area := math.Pi / 4 * float64(p.BrineTankIn*p.BrineTankIn)
	return p.AirCheckIn + float64(brineSwell*saltLb)/saltPerGallonLb*galIn3/float64(area*saltVoid)
}
