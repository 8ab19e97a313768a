package sizing

import (
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/hydraulic"
	"brinebench/sim/outfit"
	"brinebench/sim/plant"
	"brinebench/sim/resin"
	"brinebench/sim/site"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// What a job sheet does not tell of the installation: common practice, no source.
const (
	calciumShare = 0.68
	potassium    = 0.05 // mol/m³
	houseRiseFt  = 8
	brineLineFt  = 5
	drainBoreIn  = 0.5
	cellarC      = 15
	startHour    = 2 // at night
	saltStoreKg  = 100
	wellTankGal  = 20

	leastThroat = 1.05 // times the nozzle
)

// Config returns the plant that a sheet makes of the job; every figure of the sheet
// must be there. A figure beyond what the plant can be is held at its bound.
func (j *Job) Config(s *Sheet) plant.Config {
	t, p := s.tank(), s.parts()
	area, height := t.AreaM2(), float64(t.TankHeightIn*unit.Inch)
	bed := resin.DefaultSpec(float64(t.ResinFt3*unit.CubicFoot), area)
	bed.FreeboardM3 = float64(area * (height - bed.DepthM))
	cfg := plant.Config{
		Feed: water.ComposeFeed(j.Hardness.SI, calciumShare, j.Sodium.SI/water.MolarMass[water.Na], potassium),
		Site: j.surroundings(), SupplyPa: j.staticPa(), SupplyLossB: j.supplyLossB(),
		DrainRiseM: j.DrainRise.SI, DrainLengthM: j.DrainLength.SI, DrainBoreM: drainBore(&p),
		HouseRiseM: houseRiseFt * unit.Foot,
		BrineLiftM: height, BrineLengthM: brineLineFt * unit.Foot, BrineBoreM: float64(p.BrineBoreIn * unit.Inch),
		TankDiameterM: float64(t.TankDiameterIn * unit.Inch), TankHeightM: height, RiserBoreM: float64(t.RiserBoreMM * unit.Millimetre),
		Bed: bed, NozzleM: s.Value[Nozzle], ThroatM: math.Max(s.Value[Throat], float64(leastThroat*s.Value[Nozzle])), DrainM3S: s.Value[DrainControl], RefillM3S: s.Value[RefillControl],
		Brine: brineSpec(&p), SaltKg: saltStoreKg, BrineM: float64(outfit.BrineLevelIn(&p, s.Value[SaltDose]/unit.Pound) * unit.Inch),
		Program: s.program(), House: j.House(),
	}
	cfg.Control = j.Settings(s)
	cfg.Calendar = control.State{Skip: max(0, cfg.Control.EveryDays-1)}
	cfg.BrineM = math.Min(cfg.BrineM, cfg.Brine.HeightM)
	return cfg
}

// drainBore is that of the drain line: ½ in, and ¾ in from 4 gpm on.
func drainBore(p *outfit.Parts) float64 {
	const wide = 0.75 * unit.Inch
	if p.DrainControlGPM >= 4 {
		return wide
	}
	return drainBoreIn * unit.Inch
}

func brineSpec(p *outfit.Parts) brine.Spec {
	sp := brine.Standard()
	d := float64(p.BrineTankIn * unit.Inch)
	sp.AreaM2 = float64(math.Pi / 4 * float64(d*d))
	sp.HeightM = float64(p.BrineTankHighIn * unit.Inch)
	sp.AirCheckM, sp.FloatM = float64(p.AirCheckIn*unit.Inch), float64(p.FloatIn*unit.Inch)
	sp.BridgeM, sp.TempC = sp.FloatM, cellarC
	return sp
}

// surroundings is a cellar on the job's supply. The pump of a well gives the residual
// pressure at its flow.
func (j *Job) surroundings() site.Spec {
	sp := site.Steady(j.Temperature.SI, cellarC)
	sp.IronMolM3 = j.Iron.SI / water.MolarMassFe
	if j.Well {
		sp.FromWell = true
		cutOut, cutIn := j.staticPa(), j.cutInPa()
		rated := math.Min(j.residualPa(), cutIn)
		sp.Well = site.Well{
			ShutoffPa: float64(1.5 * cutOut), RatedPa: rated, RatedM3S: j.ResidualAt.SI,
			TankM3: wellTankGal * unit.USGallon, PrechargePa: cutIn - float64(0.1*cutIn), CutInPa: cutIn, CutOutPa: cutOut,
		}
	}
	return sp
}

// supplyLossB is the loss of main and service pipe; that of a well is its pump's.
func (j *Job) supplyLossB() float64 {
	if j.Well {
		return 0
	}
	return hydraulic.MainsB(j.staticPa(), j.residualPa(), j.ResidualAt.SI)
}

// Settings are those of the job's controller.
func (j *Job) Settings(s *Sheet) control.Settings {
	set := control.Settings{StartS: startHour * unit.Hour, RefillS: s.RefillStopS(s.Value[RefillTime])}
	if !j.Demand {
		set.EveryDays = whole(s.Value[EveryDays]/unit.Day, 1, control.MaxEveryDays)
		return set
	}
	set.Kind = control.Demand
	set.HardnessGPG = whole(s.Value[SetHardness]/unit.GPG, 1, control.MaxHardnessGPG)
	set.CapacityKgr = whole(s.Value[SetCapacity]/unit.Kilograin, 1, control.MaxCapacityKgr)
	set.ReservePct = whole(s.Value[SetReserve], 0, control.MaxReservePct)
	set.OverrideDays = whole(s.Value[OverrideDays]/unit.Day, 1, control.MaxOverrideDays)
	return set
}

// RefillStopS is how long the sheet's program has to stand at refill for water to run to
// the brine tank for flowS, as far as it can, s.
func (s *Sheet) RefillStopS(flowS float64) float64 {
	p := s.program()
	return math.Min(p.MaxRefillS, p.RefillStopS(flowS))
}

// whole is a number as a controller takes it: to the nearest, within bounds.
func whole(x float64, lo, hi int) int {
	return int(math.Max(float64(lo), math.Min(float64(hi), math.Floor(x+0.5))))
}

// UnitLossPa returns the pressure that the unit in service takes at a flow, m³/s,
// bypass included: by the bench's own network, on a supply that gives any flow. The
// sheet needs its tank and resin; what else it lacks comes with the tank.
func (j *Job) UnitLossPa(s *Sheet, m3s float64) float64 {
	bare := *s
	bare.Program = s.outfit().ProgramID
	bare.takeParts(s.outfit().Parts)
	cfg := j.Config(&bare)
	cfg.Site.FromWell, cfg.SupplyPa, cfg.SupplyLossB = false, 1e6, 0
	m, err := plant.New(cfg)
	if err != nil {
		panic("sizing: " + err.Error())
	}
	st := m.Start(plant.Healthy())
	st.NoDraw = true
	const rounds, near = 40, 1e-6
	taps := m3s // their nominal flow
	for range rounds {
		c := st.Cond
		c.LeakM3S = taps
		m.Suffer(st, c)
		m.Step(st, 0.05)
		flow := m.Flow(st, plant.House)
		if math.Abs(flow-m3s) < float64(near*m3s) {
			break
		}
		taps = float64(taps * m3s / flow)
	}
	return m.PressurePa(st, plant.SupplySide) - m.PressurePa(st, plant.HouseSide)
}
