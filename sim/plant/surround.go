package plant

import (
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/hydraulic"
	"brinebench/sim/site"
	"brinebench/sim/water"
)

// Surroundings are what season, weather and street have come to: plain data,
// written by Step (at midnight and with the exchanges).
type Surroundings struct {
	FeedC    float64    // temperature of the feed, °C, whole degrees
	Feed     water.Ions // composition of the raw water, mol/m³
	FeedIron float64    // dissolved iron in it, mol/m³
	TankC    float64    // temperature of salt and brine, °C
	BrineIce site.Ice   // in the brine line of a unit outdoors
	DrainIce site.Ice   // in its drain line
	FreshM3  float64    // refill water that stands in the brine line, m³; the rest is brine

	Well hydraulic.WellState // of a house on a well
}

// Frost is the ice in the lines, as shares of their areas, 0..1.
type Frost struct{ Brine, Drain float64 }

// frost is what the pipes feel of the ice: in small steps, so that the network
// need not be solved anew for every crystal.
func (a *Surroundings) frost() Frost {
	const step = 0.02
	part := func(x float64) float64 {
		if x >= 1 {
			return 1 - leastFree
		}
		return float64(step * math.Floor(x/step))
	}
	return Frost{Brine: part(a.BrineIce.Fraction), Drain: part(a.DrainIce.Fraction)}
}

// leastFree is what a line that is frozen solid weeps through, as a share.
const leastFree = 1e-3

// lineFilmWM2K is between the lines and the air: common practice, no source.
const lineFilmWM2K = 10

// newDay takes over the feed of a day.
func (m *Model) newDay(s *State) {
	a, c := &s.Around, &s.Cond
	a.Feed, a.FeedIron = m.cfg.Site.Water(s.House.Day, m.cfg.Feed)
	a.Feed[water.Ca] *= c.FeedHarder
	a.Feed[water.Mg] *= c.FeedHarder
	a.FeedIron += c.FeedIron
	t := m.cfg.Site.FeedC(s.House.Day) - c.FeedColderC
	a.FeedC = math.Floor(math.Max(coldestC, math.Min(warmestC, t)) + 0.5)
}

// settleIn starts the surroundings as they have long been.
func (m *Model) settleIn(s *State) {
	a := &s.Around
	around := m.cfg.Site.AroundC(s.House.Day, s.House.TimeS)
	a.TankC = tankC(around)
	a.BrineIce.TempC, a.DrainIce.TempC = math.Max(around, 1), math.Max(around, 1)
	if m.cfg.Site.FromWell {
		a.Well.WaterM3 = m.well.WaterM3(m.well.CutOutPa)
	}
	m.newDay(s)
}

// tankC holds a temperature within what the tables of brine have, °C.
func tankC(c float64) float64 { return math.Max(0, math.Min(50, c)) }

// weather moves tank and lines on by dt.
func (m *Model) weather(s *State, dt float64) {
	a, sp := &s.Around, &m.cfg.Site
	around := sp.AroundC(s.House.Day, s.House.TimeS)
	a.TankC = tankC(site.Follow(a.TankC, around, sp.TankLagS, dt))
	if !sp.Outdoors {
		return
	}
	air := sp.AirC(s.House.Day, s.House.TimeS)
	full := float64(math.Pi / 4 * m.cfg.BrineBoreM * m.cfg.BrineBoreM * m.cfg.BrineLengthM)
	a.FreshM3 = math.Max(0, math.Min(full, a.FreshM3-float64(m.TankDraw(s)*dt)))
	freezing := 0.0
	if a.FreshM3 < 0.5*full {
		freezing = water.FreezingPoint(brine.MassFraction(&s.Tank) / math.Max(0.05, 1-a.BrineIce.Fraction))
	}
	line := site.Line{BoreM: m.cfg.BrineBoreM, LengthM: m.cfg.BrineLengthM, FilmWM2K: lineFilmWM2K}
	line.Step(&a.BrineIce, site.Exposure{AirC: air, FreezingC: freezing, FlowM3S: s.Net.Q[linkLine], WaterC: a.TankC}, dt)
	drain := site.Line{BoreM: m.cfg.DrainBoreM, LengthM: m.cfg.DrainLengthM, FilmWM2K: lineFilmWM2K}
	drain.Step(&a.DrainIce, site.Exposure{AirC: air, FlowM3S: s.Net.Q[linkDrainLine], WaterC: a.FeedC}, dt)
}

// AirC is the temperature of the air around the unit, °C.
func (m *Model) AirC(s *State) float64 { return m.cfg.Site.AirC(s.House.Day, s.House.TimeS) }

// supplyPa is the pressure at the street connection, Pa gauge. That of a well goes
// up and down with its tank; the pipes hear of it in steps.
func (m *Model) supplyPa(s *State) float64 {
	const stepPa = 500
	pa := m.cfg.SupplyPa
	if m.cfg.Site.FromWell {
		pa = float64(stepPa * math.Floor(m.well.PressurePa(s.Around.Well.WaterM3)/stepPa))
	}
	return float64(pa * s.Cond.SupplyScale)
}

// newWell is the well of a site.
func newWell(w *site.Well) hydraulic.Well {
	return hydraulic.Well{
		ShutoffPa: w.ShutoffPa, PumpB: hydraulic.PumpB(w.ShutoffPa, w.RatedPa, w.RatedM3S), TankM3: w.TankM3,
		PrechargePa: w.PrechargePa, CutInPa: w.CutInPa, CutOutPa: w.CutOutPa,
	}
}
