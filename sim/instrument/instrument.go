// Package instrument is what a technician can measure, look at and listen to on
// a unit: each test with its resolution, its noise, its cost in minutes and what
// it needs. A reading is taken from the plant's present state and nothing else.
package instrument

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// Quantity is the kind of a reading's value.
type Quantity string

// The kinds of quantity. A sighting has no value but one of a few things seen.
const (
	Sighting Quantity = ""
	Hardness Quantity = "hardness" // mol/m³
	Pressure Quantity = "pressure" // Pa gauge
	Flow     Quantity = "flow"     // m³/s
	Length   Quantity = "length"   // m
	Fraction Quantity = "fraction" // 0..1
	Specific Quantity = "specific" // conductivity, S/m
)

// Instrument is one test.
type Instrument struct {
	ID, Name string
	What     string     // what it tells, in a sentence
	Where    plant.Part // where it is made
	Minutes  float64    // what it costs
	Quantity Quantity

	Resolution float64 // smallest step it shows, in SI; 0 for a sighting
	Noise      float64 // standard deviation of a reading, in SI
	Relative   float64 // the same as a fraction of the reading, added

	Signed bool // it can read below zero

	RunHouseTap float64 // opening of the house test tap while it is made, 0..1
	RunRawTap   float64 // the same of the raw-water sample tap

	value  func(m *plant.Model, s *plant.State) float64 // of a measurement
	booked func(l *plant.Ledger) float64                // m³: a flow measured over the whole time of the test
	runs   func(m *plant.Model, s *plant.State) float64 // m³/s: the water that is sampled; nil where none has to run
	seen   func(m *plant.Model, s *plant.State) string  // of a sighting
}

// Reading is what one use of an instrument gives: a value or a sighting.
type Reading struct {
	Value float64
	Seen  string
}

// NothingRuns is what is seen where there is no water to sample.
const NothingRuns = "no water comes"

// Exact returns what the instrument would show at this moment, without noise or
// rounding.
func (in *Instrument) Exact(m *plant.Model, s *plant.State) Reading {
	const dripM3S = 0.01 * unit.GPM
	switch {
	case in.Quantity == Sighting:
		return Reading{Seen: in.seen(m, s)}
	case in.runs != nil && in.runs(m, s) < dripM3S:
		return Reading{Seen: NothingRuns}
	}
	return Reading{Value: in.value(m, s)}
}

// Over returns the exact reading of a test that has just ended and was begun the
// given seconds ago, when the books stood as in from.
func (in *Instrument) Over(m *plant.Model, s *plant.State, from *plant.Ledger, seconds float64) Reading {
	if in.booked == nil || seconds <= 0 {
		return in.Exact(m, s)
	}
	return Reading{Value: (in.booked(&s.Ledger) - in.booked(from)) / seconds}
}

// Noisy returns a reading as the technician gets it: with the instrument's noise,
// drawn from r, and rounded to its resolution.
func (in *Instrument) Noisy(x Reading, r *repro.Stream) Reading {
	if x.Seen != "" {
		return x
	}
	v := x.Value + float64(r.Normal()*in.Sigma(x.Value))
	v = float64(math.Floor(v/in.Resolution+0.5) * in.Resolution)
	if !in.Signed {
		v = math.Max(v, 0) // no gauge, bucket or tape reads below nothing
	}
	return Reading{Value: v + 0} // + 0 turns −0 into 0
}

// Sigma is the standard deviation of a reading near v, rounding included.
func (in *Instrument) Sigma(v float64) float64 {
	return in.Noise + float64(in.Relative*math.Abs(v)) + float64(0.3*in.Resolution)
}

// Minutes, resolution and noise of the kit: common practice, no source.

// All returns every instrument, in its fixed order. Read only.
func All() []Instrument { return all }

// Find returns the instrument of that ID.
func Find(id string) (*Instrument, bool) {
	for i := range all {
		if all[i].ID == id {
			return &all[i], true
		}
	}
	return nil, false
}

const (
	gpg = unit.GPG
	psi = unit.PSI
	gpm = unit.GPM
)

// penLimit is the end of the conductivity pen's range, S/m.
const penLimit = 2

var all = []Instrument{
	hardness("hardness-raw", "Hardness, raw water", "The water as it comes from the street, by drop-count titration.",
		plant.PartRawTap, plant.SupplySide, plant.RawTap, 0, 0.5),
	hardness("hardness-valve", "Hardness, valve outlet", "The water that leaves the softener, before the bypass.",
		plant.PartValve, plant.ValveOut, plant.BypassOut, 0.35, 0),
	hardness("hardness-house", "Hardness, house tap", "The water that the family gets.",
		plant.PartHouseTap, plant.HouseSide, plant.House, 0.35, 0),
	gauge("pressure-in", "Pressure, valve inlet", "Pressure ahead of the valve, as it stands now.", plant.ValveIn),
	gauge("pressure-out", "Pressure, valve outlet", "Pressure after the valve, as it stands now.", plant.ValveOut),
	{
		ID: "drain-flow", Name: "Drain flow, bucket and watch",
		What:  "What the drain line gives in its present position, measured at the air gap.",
		Where: plant.PartAirGap, Minutes: 3, Quantity: Flow, Resolution: 0.02 * gpm, Noise: 0.01 * gpm, Relative: 0.03,
		value:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.Drain) },
		booked: func(l *plant.Ledger) float64 { return l.DrainM3 },
	},
	{
		ID: "drain-conductivity", Name: "Conductivity, drain water",
		What:  "How much salt the water at the air gap carries, by pen. The pen ends at 20 mS/cm.",
		Where: plant.PartAirGap, Minutes: 1, Quantity: Specific, Resolution: 0.001, Noise: 0.0005, Relative: 0.02,
		value: func(m *plant.Model, s *plant.State) float64 {
			return math.Min(penLimit, water.Conductivity(m.Config().FeedTempC, m.PathWater(s, plant.Drain)))
		},
		runs: func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.Drain) },
	},
	{
		ID: "brine-draw", Name: "Brine line flow, tape and watch",
		What:  "How fast the level in the brine well falls (draw, positive) or rises (water running into the tank, negative).",
		Where: plant.PartBrineLine, Minutes: 5, Quantity: Flow, Resolution: 0.01 * gpm, Noise: 0.004 * gpm, Relative: 0.03,
		Signed: true,
		value:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.BrineLine) },
	},
	{
		ID: "brine-level", Name: "Brine level, tape", What: "Height of the liquid in the brine well above the tank's floor.",
		Where: plant.PartBrineTank, Minutes: 1, Quantity: Length, Resolution: 0.005, Noise: 0.003,
		value: func(m *plant.Model, s *plant.State) float64 { return m.Tank(s).LevelM },
	},
	{
		ID: "brine-strength", Name: "Brine strength, hydrometer", What: "Strength of the brine in the well as a fraction of saturation.",
		Where: plant.PartBrineTank, Minutes: 2, Quantity: Fraction, Resolution: 0.01, Noise: 0.01,
		value: func(m *plant.Model, s *plant.State) float64 { return m.Tank(s).Saturation },
	},
	{
		ID: "salt-look", Name: "Salt, look into the tank", What: "How high the salt seems to stand, seen from above.",
		Where: plant.PartSalt, Minutes: 1, seen: saltSeen,
	},
	{
		ID: "salt-probe", Name: "Salt, push a rod through it", What: "Whether the salt stands on the floor all the way down.",
		Where: plant.PartSalt, Minutes: 2, seen: saltProbed,
	},
	{
		ID: "drain-look", Name: "Watch the air gap", What: "What runs into the drain just now, by eye.",
		Where: plant.PartAirGap, Minutes: 0.5, seen: drainSeen,
	},
	look("look-injector", "Injector pulled: nozzle and throat", plant.PartInjector, bore, func(c *plant.Condition) float64 {
		return math.Min(c.NozzleOpen, c.ThroatOpen)
	}),
	look("look-screen", "Injector screen pulled", plant.PartScreen, bore, func(c *plant.Condition) float64 { return c.ScreenOpen }),
	look("look-drain-control", "Drain flow control pulled", plant.PartDrainCtl, bore, func(c *plant.Condition) float64 { return c.DrainCtlOpen }),
	look("look-refill-control", "Refill flow control pulled", plant.PartRefillCtl, bore, func(c *plant.Condition) float64 { return c.RefillOpen }),
	look("look-drain-line", "Drain line taken off and blown through", plant.PartDrainLine, bore, func(c *plant.Condition) float64 { return c.DrainLineOpen }),
	look("look-brine-line", "Brine line taken off and blown through", plant.PartBrineLine, bore, func(c *plant.Condition) float64 { return c.BrineLineOpen }),
	look("look-seats", "Cover off: discs and seats", plant.PartSeats, disc, func(c *plant.Condition) float64 { return 1 - min(1, c.PassLeakCv) }),
	look("look-float", "Float lifted out and measured", plant.PartFloat, float, func(c *plant.Condition) float64 { return 1 - min(1, 5*c.FloatLowM) }),
	look("look-bypass", "Bypass turned through and felt", plant.PartBypass, plug, func(c *plant.Condition) float64 { return 1 - min(1, c.BypassLeakCv) }),
}

// hardness is a drop-count titration: one drop to the grain per gallon.
func hardness(id, name, what string, where plant.Part, at plant.Node, by plant.Path, houseTap, rawTap float64) Instrument {
	return Instrument{
		ID: id, Name: name, What: what, Where: where, Minutes: 3, Quantity: Hardness,
		Resolution: 0.5 * gpg, Noise: 0.1 * gpg, Relative: 0.01, RunHouseTap: houseTap, RunRawTap: rawTap,
		value: func(m *plant.Model, s *plant.State) float64 { w := m.Water(s, at); return w.Hardness() },
		runs:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, by) },
	}
}

func gauge(id, name, what string, at plant.Node) Instrument {
	return Instrument{
		ID: id, Name: name, What: what, Where: plant.PartValve, Minutes: 1, Quantity: Pressure,
		Resolution: 1 * psi, Noise: 0.4 * psi, Relative: 0.01,
		value: func(m *plant.Model, s *plant.State) float64 { return math.Max(0, m.PressurePa(s, at)) },
	}
}
