// Package site tells where a unit stands and what water comes to it, by the day
// and the hour: season, sun and frost, mains or well, changes of the feed.
package site

import (
	"fmt"
	"math"

	"brinebench/sim/water"
)

// Spec is a site. Days count from 0, as those of the household.
type Spec struct {
	DayOfYear int      // what day of the year day 0 is, 1..365
	FromWell  bool     // the water comes from Well, not from the mains
	Well      Well     // left out unless FromWell
	Feed      Season   // temperature of the feed
	IronMolM3 float64  // iron in the feed as Fe(II), dissolved and clear, mol/m³
	Changes   []Change // of the feed, by FromDay
	Outdoors  bool     // the unit stands outside, in frost and sun
	Air       Season   // around the unit, in the shade, mean of the day; indoors it does not change
	SwingC    float64  // outdoors: by how much the afternoon is above the mean of the day and the night below, K
	SunC      float64  // outdoors: by how much the noon sun warms what it shines on above the air, K; see AroundC
	TankLagS  float64  // time constant with which salt and brine follow what is around the tank, s
}

// Change is a new feed water from a day on, compared with the first one.
type Change struct {
	FromDay     int
	Hardness    float64 // of the first one's calcium and magnesium, 0..10
	IronMolM3   float64 // iron besides Spec.IronMolM3, mol/m³; negative: less
	SodiumMolM3 float64 // sodium chloride besides, mol/m³; negative: less
}

// Well is a pump in a well with a pressure tank under a switch. Pressures are
// gauge, at the tank.
type Well struct {
	ShutoffPa   float64 // what the pump gives at no flow, Pa
	RatedPa     float64 // and at its rated flow, Pa
	RatedM3S    float64 // rated flow, m³/s
	TankM3      float64 // volume of the tank's air when it holds no water, m³
	PrechargePa float64 // its pressure then, Pa
	CutInPa     float64 // at which the pump starts, Pa
	CutOutPa    float64 // at which it stops, Pa
}

// Steady returns a site on the mains, indoors, where nothing changes.
func Steady(feedC, airC float64) Spec {
	return Spec{DayOfYear: 1, Feed: Season{MeanC: feedC, ColdestDay: 1}, Air: Season{MeanC: airC, ColdestDay: 1}, TankLagS: usualLagS}
}

// usualLagS is the time constant of a brine tank. Common practice, no source: with
// 100 kg of salt and 60 L of brine, 0.3 MJ/K, and 1.5 m² of wall at 5 W/(m²·K).
const usualLagS = 40e3

// faults collects what is wrong with a spec.
type faults []error

func (e *faults) add(format string, args ...any) { *e = append(*e, fmt.Errorf(format, args...)) }

func (e *faults) within(field string, v, low, high float64) {
	if !(v >= low && v <= high) {
		e.add("%s: %v is outside %v to %v", field, v, low, high)
	}
}

// Validate returns every fault of the spec, each naming its field.
func (sp *Spec) Validate() []error {
	var e faults
	e.within("day_of_year", float64(sp.DayOfYear), 1, yearDays)
	if sp.FromWell {
		sp.Well.validate(&e)
	}
	sp.Feed.validate(&e, "feed", 1, 40)
	e.within("iron_mol_m3", sp.IronMolM3, 0, maxIronMolM3)
	sp.validateChanges(&e)
	if sp.Outdoors {
		sp.Air.validate(&e, "air", -50, 60)
		e.within("swing_C", sp.SwingC, 0, 25)
		e.within("sun_C", sp.SunC, 0, 50)
	} else {
		e.within("air.mean_C", sp.Air.MeanC, 1, 60)
	}
	e.within("tank_lag_s", sp.TankLagS, 60, 1e7)
	return e
}

// maxIronMolM3 bounds the iron of a feed, 56 mg/L.
const maxIronMolM3 = 1

func (sp *Spec) validateChanges(e *faults) {
	for i, c := range sp.Changes {
		at := fmt.Sprintf("changes[%d].", i)
		switch {
		case c.FromDay < 0:
			e.add("%sfrom_day: %d is negative", at, c.FromDay)
		case i > 0 && c.FromDay <= sp.Changes[i-1].FromDay:
			e.add("%sfrom_day: %d is not after the change before, %d", at, c.FromDay, sp.Changes[i-1].FromDay)
		}
		e.within(at+"hardness", c.Hardness, 0, 10)
		e.within(at+"iron_mol_m3", c.IronMolM3, -sp.IronMolM3, maxIronMolM3)
		e.within(at+"sodium_mol_m3", c.SodiumMolM3, -200, 200)
	}
}

func (w *Well) validate(e *faults) {
	const top = 2e6 // Pa
	e.within("well.precharge_pa", w.PrechargePa, 0, top)
	e.within("well.cut_in_pa", w.CutInPa, w.PrechargePa, top)
	above := func(field string, v float64, than string, low float64) {
		if !(v > low && v <= top) {
			e.add("well.%s: %v is not above %s %v, or above %v", field, v, than, low, top)
		}
	}
	above("cut_out_pa", w.CutOutPa, "cut_in_pa", w.CutInPa)
	above("shutoff_pa", w.ShutoffPa, "cut_out_pa", w.CutOutPa)
	if !(w.RatedPa >= 0 && w.RatedPa < w.ShutoffPa) {
		e.add("well.rated_pa: %v is not from 0 to below shutoff_pa %v", w.RatedPa, w.ShutoffPa)
	}
	e.within("well.rated_m3_s", w.RatedM3S, 1e-5, 0.1)
	e.within("well.tank_m3", w.TankM3, 1e-3, 5)
}

// Water returns the feed of a day: its ions, of the first feed's, and its iron,
// all in mol/m³ and none below 0.
func (sp *Spec) Water(day int, first water.Ions) (ions water.Ions, ironMolM3 float64) {
	ions, ironMolM3 = first, sp.IronMolM3
	for i := len(sp.Changes) - 1; i >= 0; i-- {
		if c := &sp.Changes[i]; day >= c.FromDay {
			ions[water.Ca] = float64(ions[water.Ca] * c.Hardness)
			ions[water.Mg] = float64(ions[water.Mg] * c.Hardness)
			ions[water.Na] = math.Max(ions[water.Na]+c.SodiumMolM3, 0)
			return ions, math.Max(ironMolM3+c.IronMolM3, 0)
		}
	}
	return ions, ironMolM3
}
