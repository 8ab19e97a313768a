package scenario

import (
	"brinebench/sim/site"
	"brinebench/sim/strict"
	"brinebench/sim/unit"
)

// Site is where the unit stands and how its feed changes: left out of a file, a
// cellar on the mains where nothing changes.
type Site struct {
	DayOfYear                   int
	FeedAmplitudeC              float64
	FeedColdestDay              float64
	IronMgL                     float64
	Outdoors                    int // 1 in the open
	AirMeanC, AirAmplitudeC     float64
	AirColdestDay, SwingC, SunC float64
	Changes                     []site.Change
	ShutoffPSI, RatedPSI        float64
	RatedGPM, TankGal           float64
	PrechargePSI                float64
	CutInPSI, CutOutPSI         float64
}

const (
	ironMgPerMol = 55.845 // mg/L in a mol/m³
	cellarC      = 15
)

func (x *Site) fields(w *strict.Walk) []strict.Field {
	x.AirMeanC, x.FeedColdestDay, x.AirColdestDay, x.DayOfYear = cellarC, 1, 1, 1
	list := []strict.Field{
		w.Integer("day_of_year", &x.DayOfYear, 1, 365),
		w.Number("feed_amplitude_C", &x.FeedAmplitudeC, 0, 20),
		w.Number("feed_coldest_day", &x.FeedColdestDay, 1, 365),
		w.Number("iron_mg_L", &x.IronMgL, 0, 20),
		w.Integer("outdoors", &x.Outdoors, 0, 1),
		w.Number("air_mean_C", &x.AirMeanC, -20, 40),
		w.Number("air_amplitude_C", &x.AirAmplitudeC, 0, 30),
		w.Number("air_coldest_day", &x.AirColdestDay, 1, 365),
		w.Number("air_swing_C", &x.SwingC, 0, 20),
		w.Number("sun_C", &x.SunC, 0, 40),
		w.Each("changes", func(at string, raw []byte) { x.readChange(w, at, raw) }),
		w.Object("well",
			w.Number("shutoff_psi", &x.ShutoffPSI, 10, 250),
			w.Number("rated_psi", &x.RatedPSI, 0, 250),
			w.Number("rated_gpm", &x.RatedGPM, 1, 100),
			w.Number("tank_gal", &x.TankGal, 1, 500),
			w.Number("precharge_psi", &x.PrechargePSI, 0, 150),
			w.Number("cut_in_psi", &x.CutInPSI, 5, 150),
			w.Number("cut_out_psi", &x.CutOutPSI, 10, 150)),
	}
	for i := range list {
		list[i].Optional = true
	}
	return list
}

func (x *Site) readChange(w *strict.Walk, at string, raw []byte) {
	c := site.Change{Hardness: 1}
	var iron, sodium float64
	w.Members(at, raw, []strict.Field{
		w.Integer("from_day", &c.FromDay, 0, 400),
		optional(w.Number("hardness_times", &c.Hardness, 0, 10)),
		optional(w.Number("iron_more_mg_L", &iron, 0, 20)),
		optional(w.Number("sodium_more_mg_L", &sodium, 0, 1000)),
	})
	c.IronMolM3, c.SodiumMolM3 = iron/ironMgPerMol, sodium/22.98977
	x.Changes = append(x.Changes, c)
}

// spec is that of the engine; feedC is the mean temperature of the feed.
func (x *Site) spec(feedC float64) site.Spec {
	sp := site.Steady(feedC, x.AirMeanC)
	sp.DayOfYear, sp.IronMolM3, sp.Changes = x.DayOfYear, x.IronMgL/ironMgPerMol, x.Changes
	sp.Feed.AmplitudeC, sp.Feed.ColdestDay = x.FeedAmplitudeC, x.FeedColdestDay
	sp.Outdoors, sp.SwingC, sp.SunC = x.Outdoors == 1, x.SwingC, x.SunC
	sp.Air.AmplitudeC, sp.Air.ColdestDay = x.AirAmplitudeC, x.AirColdestDay
	if x.ShutoffPSI > 0 {
		sp.FromWell = true
		sp.Well = site.Well{
			ShutoffPa: si(x.ShutoffPSI, unit.PSI), RatedPa: si(x.RatedPSI, unit.PSI), RatedM3S: si(x.RatedGPM, unit.GPM),
			TankM3: si(x.TankGal, unit.USGallon), PrechargePa: si(x.PrechargePSI, unit.PSI),
			CutInPa: si(x.CutInPSI, unit.PSI), CutOutPa: si(x.CutOutPSI, unit.PSI),
		}
	}
	return sp
}
