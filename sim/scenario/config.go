package scenario

import (
	"math"
	"slices"

	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/household"
	"brinebench/sim/hydraulic"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/resin"
	"brinebench/sim/strict"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// cross checks what concerns more than one field.
func (f *File) cross(w *strict.Walk) {
	if f.ResidualPSI > f.StaticPSI {
		w.Fault("supply.residual_psi", "%v is above the static pressure %v", f.ResidualPSI, f.StaticPSI)
	}
	f.Unit.cross(w)
	f.Controller.cross(w)
	if !w.Clean() {
		return
	}
	// What the engine itself refuses is refused here, with the file's name.
	if _, err := plant.New(f.Config()); err != nil {
		w.Fault("", "%w", err)
	}
}

// FirstSeed is the seed of a call as its file tells it.
const FirstSeed = 1

// Vary gives the same trouble to a household that lives other days: when and how much
// it draws, and on which of them an intermittent fault is there. With FirstSeed, and
// where the file names no other seeds, the file stays as it is.
func (f *File) Vary(seed uint64) {
	if n := uint64(len(f.OtherSeeds)); n > 0 && seed != FirstSeed {
		f.Seed = f.OtherSeeds[(seed-FirstSeed-1)%n]
	}
}

// Config returns the engine's configuration.
func (f *File) Config() plant.Config {
	u := &f.Unit
	diameter := si(u.TankDiameterIn, unit.Inch)
	area := float64(math.Pi / 4 * float64(diameter*diameter))
	height := si(u.TankHeightIn, unit.Inch)
	bed := resin.DefaultSpec(si(u.ResinFt3, unit.CubicFoot), area)
	bed.FreeboardM3 = float64(area * (height - bed.DepthM))
	house := household.Standard(f.People, uint64(f.Seed))
	house.Visits, house.LeakM3S = f.Visits, si(f.LeakGPM, unit.GPM)
	return plant.Config{
		Feed: water.ComposeFeed(si(f.HardnessGPG, unit.GPG), f.CalciumShare,
			f.SodiumMgL/(1e3*water.MolarMass[water.Na]), f.PotassiumMgL/(1e3*water.MolarMass[water.K])),
		Site:        f.Site.spec(f.TempC),
		SupplyPa:    si(f.StaticPSI, unit.PSI),
		SupplyLossB: hydraulic.MainsB(si(f.StaticPSI, unit.PSI), si(f.ResidualPSI, unit.PSI), si(f.ResidualAtGPM, unit.GPM)),
		DrainRiseM:  si(u.DrainRiseFt, unit.Foot), DrainLengthM: si(u.DrainLengthFt, unit.Foot), DrainBoreM: si(u.DrainBoreIn, unit.Inch),
		HouseRiseM: si(u.HouseRiseFt, unit.Foot), BlendCv: u.BlendCv,
		BrineLiftM: height, BrineLengthM: si(u.BrineLengthFt, unit.Foot), BrineBoreM: si(u.BrineBoreIn, unit.Inch),
		TankDiameterM: diameter, TankHeightM: height, RiserBoreM: si(u.RiserBoreMM, unit.Millimetre),
		Bed:     bed,
		NozzleM: si(u.NozzleMM, unit.Millimetre), ThroatM: si(u.ThroatMM, unit.Millimetre),
		DrainM3S: si(u.DrainControlGPM, unit.GPM), RefillM3S: si(u.RefillControlGPM, unit.GPM),
		Brine:    u.brineSpec(),
		SaltKg:   si(u.SaltLb, unit.Pound),
		BrineM:   u.brineLevelM(),
		Program:  u.program(),
		Control:  f.Controller.settings(u.refillS()),
		Calendar: control.State{ClockS: f.callS, DaysSince: f.DayOfCycle, Skip: max(0, f.Controller.EveryDays-1-f.DayOfCycle)},
		House:    house,
	}
}

// si converts a number in a trade unit. The conversion keeps the product from
// being fused into a sum on processors that do so.
func si(x, inSI float64) float64 { return float64(x * inSI) }

// Condition returns the unit's condition with all its faults at their worst, as
// at the call.
func (f *File) Condition() plant.Condition { return f.ConditionOn(f.HistoryDays) }

// ConditionOn returns the unit's condition on a day of its history, from 0. A
// growing fault has come evenly to its severity by the call; an intermittent one is
// there on half of the days, drawn from the seed, and at the call.
func (f *File) ConditionOn(day int) plant.Condition {
	c := plant.Healthy()
	for i, x := range f.Faults {
		entry, ok := fault.Find(x.ID)
		if !ok {
			panic("scenario: fault " + x.ID + " passed Decode and is not in the catalogue")
		}
		entry.Apply(&c, float64(x.Severity*f.course(i, day)))
	}
	return c
}

// course is the share of its severity that fault i of the file has on a day, 0..1.
func (f *File) course(i, day int) float64 {
	x := &f.Faults[i]
	switch {
	case day >= f.HistoryDays:
	case x.Onset == fault.Growing:
		return float64(day+1) / float64(f.HistoryDays+1)
	case x.Onset == fault.Intermittent:
		r := repro.NewStream(uint64(f.Seed), "onset/"+x.ID)
		for range day + i {
			r.Float64()
		}
		if r.Float64() < 0.5 {
			return 0
		}
	}
	return 1
}

// CourseOf returns the share of its severity that a fault of the catalogue, were it
// what is wrong, would have on a day of the history, 0..1. A fault of the file takes
// its own course, any other that of the file's first: the trouble came about as it
// did, whatever its cause. Only what nobody has mended does not go away on the days
// of an intermittent one.
func (f *File) CourseOf(x *fault.Fault, day int) float64 {
	i := max(0, slices.IndexFunc(f.Faults, func(own Fault) bool { return own.ID == x.ID }))
	if len(f.Faults) == 0 || (f.Faults[i].ID != x.ID && f.Faults[i].Onset == fault.Intermittent && x.Stays) {
		return 1
	}
	return f.course(i, day)
}

// Breaks are the times of the history, s, at which power or faults may change, in
// their order, without its begin and end.
func (f *File) Breaks() (at []float64) {
	endS := float64(float64(f.HistoryDays) * unit.Day)
	if slices.ContainsFunc(f.Faults, func(x Fault) bool { return x.Onset != fault.Steady }) {
		for day := 1; day < f.HistoryDays; day++ {
			at = append(at, float64(float64(day)*unit.Day))
		}
	}
	for _, c := range f.PowerCuts {
		from, to := c.span()
		at = append(at, from, to)
	}
	slices.Sort(at)
	return slices.Compact(slices.DeleteFunc(at, func(t float64) bool { return t <= 0 || t >= endS }))
}

// Powered tells whether the house has power at a time of the history, s, and how
// long that stays so.
func (f *File) Powered(timeS float64) (on bool, forS float64) {
	on, forS = true, math.Inf(1)
	for _, c := range f.PowerCuts {
		from, to := c.span()
		switch {
		case timeS < from:
			forS = math.Min(forS, from-timeS)
		case timeS < to:
			on, forS = false, math.Min(forS, to-timeS)
		}
	}
	return on, forS
}

// span is its begin and end, s from the start of the history.
func (c *PowerCut) span() (from, to float64) {
	from = float64(float64(c.Day)*unit.Day) + c.StartS
	return from, from + float64(c.Hours*hourS)
}
