package rig

import (
	"math"

	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/resin"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// Group is where a knob stands among the others.
type Group string

// The groups, in their order.
const (
	Hands   Group = "hands"   // what a person does at the unit
	Water   Group = "water"   // the feed
	House   Group = "house"   // pressure and draw
	Parts   Group = "parts"   // sizes
	Pipes   Group = "pipes"   // lengths, heights, bores of the lines
	Control Group = "control" // settings of the controller
	Faults  Group = "faults"
)

// Groups returns all of them in their order.
func Groups() []Group { return []Group{Hands, Water, House, Parts, Pipes, Control, Faults} }

// Knob is one thing that can be set on a unit on the bench.
type Knob struct {
	ID        string
	Group     Group
	Name      string              // in English
	Quantity  instrument.Quantity // of the value, SI; Fraction of faults and openings
	Low, High float64             // SI
	Whole     bool                // takes whole numbers only
	Push      bool                // is pressed and has no value: set it to 1
	Bore      bool                // a bore, which the trade measures in mm everywhere
	Part      plant.Part          // that it is about; "" none

	read  func(*plant.Config) float64 // a figure of the installation …
	write func(*plant.Config, float64)
	on    func(*plant.Config) bool                  // units that have it; nil: all
	held  func(*plant.State) float64                // what a person's hand has set …
	do    func(*plant.Model, *plant.State, float64) // … and how
	fault int                                       // of the catalogue; -1 for none
}

// Find returns a knob.
func Find(id string) (*Knob, bool) {
	i, ok := places[id]
	if !ok {
		return nil, false
	}
	return &knobs[i], true
}

// All returns every knob of any unit. Read only.
func All() []Knob { return knobs }

// Knobs returns every knob that the unit has, by group, in their fixed order.
func (r *Rig) Knobs() (list []*Knob) {
	for i := range knobs {
		if k := &knobs[i]; k.fits(&r.cfg) {
			list = append(list, k)
		}
	}
	return list
}

// fits tells whether a unit has the knob.
func (k *Knob) fits(c *plant.Config) bool { return k.on == nil || k.on(c) }

var (
	knobs  = allKnobs()
	places = func() map[string]int {
		at := map[string]int{}
		for i := range knobs {
			at[knobs[i].ID] = i
		}
		return at
	}()
)

func allKnobs() (all []Knob) {
	for _, l := range [][]Knob{handKnobs, waterKnobs, houseKnobs, partKnobs, pipeKnobs, controlKnobs} {
		all = append(all, l...)
	}
	for i := range all {
		all[i].fault = -1
	}
	catalogue := fault.Catalogue()
	for i := range catalogue {
		f := &catalogue[i]
		all = append(all, Knob{
			ID: "fault." + f.ID, Group: Faults, Name: f.Name, Quantity: instrument.Fraction, High: 1, Part: f.Where,
			on: f.CanBe, fault: i,
		})
	}
	return all
}

// field makes a knob of a plain figure of the installation.
func field(k Knob, at func(*plant.Config) *float64) Knob {
	k.read = func(c *plant.Config) float64 { return *at(c) }
	k.write = func(c *plant.Config, v float64) { *at(c) = v }
	return k
}

// number makes a knob of a whole number of the installation.
func number(k Knob, at func(*plant.Config) *int) Knob {
	k.Whole, k.Quantity = true, instrument.Count
	k.read = func(c *plant.Config) float64 { return float64(*at(c)) }
	k.write = func(c *plant.Config, v float64) { *at(c) = int(v) }
	return k
}

// ion makes a knob of what the feed has of an ion, kg/m³.
func ion(k Knob, i water.Ion) Knob {
	k.Quantity, k.High = instrument.Content, 1
	k.read = func(c *plant.Config) float64 { return float64(c.Feed[i] * water.MolarMass[i]) }
	k.write = func(c *plant.Config, v float64) { c.Feed[i] = v / water.MolarMass[i] }
	return k
}

// switched makes a knob of something that is on, 1, or off, 0.
func switched(k Knob, at func(*plant.State) *bool, whenOn bool) Knob {
	k.Whole, k.High, k.Quantity = true, 1, instrument.Count
	k.held = func(s *plant.State) float64 {
		if *at(s) == whenOn {
			return 1
		}
		return 0
	}
	k.do = func(_ *plant.Model, s *plant.State, v float64) { *at(s) = (v == 1) == whenOn }
	return k
}

// opened makes a knob of a tap.
func opened(k Knob, at func(*plant.State) *float64) Knob {
	k.High, k.Quantity = 1, instrument.Fraction
	k.held = func(s *plant.State) float64 { return *at(s) }
	k.do = func(_ *plant.Model, s *plant.State, v float64) { *at(s) = v }
	return k
}

// push makes a knob that is pressed.
func push(id, name string, part plant.Part, do func(*plant.Model, *plant.State, float64)) Knob {
	return Knob{ID: id, Group: Hands, Name: name, Part: part, Push: true, Whole: true, Low: 1, High: 1, Quantity: instrument.Count, do: do}
}

var handKnobs = []Knob{
	push("start-regeneration", "Start a regeneration", plant.PartController, func(_ *plant.Model, s *plant.State, _ float64) { s.StartNow = true }),
	push("advance", "Advance to the next position", plant.PartController, func(_ *plant.Model, s *plant.State, _ float64) { s.AdvanceNow = true }),
	{
		ID: "bypass", Group: Hands, Name: "Bypass", Part: plant.PartBypass, High: 2, Whole: true, Quantity: instrument.Count,
		held: func(s *plant.State) float64 { return float64(s.Bypass) },
		do:   func(_ *plant.Model, s *plant.State, v float64) { s.Bypass = plant.BypassPos(v) },
	},
	switched(Knob{ID: "supply-open", Group: Hands, Name: "Supply shut-off open", Part: plant.PartShutOff}, func(s *plant.State) *bool { return &s.ShutOff }, false),
	switched(Knob{ID: "plugged-in", Group: Hands, Name: "Controller plugged in", Part: plant.PartPlugIn}, func(s *plant.State) *bool { return &s.Powered }, true),
	switched(Knob{ID: "mains-power", Group: Hands, Name: "Power in the house", Part: plant.PartHouse}, func(s *plant.State) *bool { return &s.PowerCut }, false),
	opened(Knob{ID: "house-tap", Group: Hands, Name: "House tap", Part: plant.PartHouseTap}, func(s *plant.State) *float64 { return &s.HouseTap }),
	opened(Knob{ID: "raw-tap", Group: Hands, Name: "Raw-water sample tap", Part: plant.PartRawTap}, func(s *plant.State) *float64 { return &s.RawTap }),
	push("spend-bed", "Exhaust the bed", plant.PartBed, func(m *plant.Model, s *plant.State, _ float64) { m.SpendBed(s) }),
	push("freshen-bed", "Put a fresh bed in", plant.PartBed, func(m *plant.Model, s *plant.State, _ float64) { m.FreshenBed(s) }),
	push("fill-salt", "Fill up the salt", plant.PartSalt, fillSalt),
	push("set-clock", "Set the clock right", plant.PartController, func(m *plant.Model, s *plant.State, _ float64) { m.SetClock(s) }),
}

var waterKnobs = []Knob{
	{
		ID: "hardness", Group: Water, Name: "Hardness", Quantity: instrument.Hardness, Low: 1 * unit.GPG, High: 100 * unit.GPG,
		read: func(c *plant.Config) float64 { return c.Feed.Hardness() }, write: hardness,
	},
	{
		ID: "calcium-share", Group: Water, Name: "Calcium, share of the hardness", Quantity: instrument.Fraction, High: 1,
		read: func(c *plant.Config) float64 { return c.Feed[water.Ca] / c.Feed.Hardness() },
		write: func(c *plant.Config, v float64) {
			h := c.Feed.Hardness()
			c.Feed[water.Ca], c.Feed[water.Mg] = float64(h*v), float64(h*(1-v))
		},
	},
	ion(Knob{ID: "sodium", Group: Water, Name: "Sodium"}, water.Na),
	ion(Knob{ID: "potassium", Group: Water, Name: "Potassium"}, water.K),
	{
		ID: "iron", Group: Water, Name: "Iron, dissolved", Quantity: instrument.Content, High: 0.02,
		read:  func(c *plant.Config) float64 { return float64(c.Site.IronMolM3 * water.MolarMassFe) },
		write: func(c *plant.Config, v float64) { c.Site.IronMolM3 = v / water.MolarMassFe },
	},
	field(Knob{ID: "temperature", Group: Water, Name: "Temperature", Quantity: instrument.Warmth, Low: 1, High: 40}, func(c *plant.Config) *float64 { return &c.Site.Feed.MeanC }),
}

// lossM3S is the flow at which the loss of main and service pipe is told.
const lossM3S = 10 * unit.GPM

var houseKnobs = []Knob{
	onMains(field(Knob{ID: "supply", Group: House, Name: "Supply pressure, at rest", Quantity: instrument.Pressure, High: 150 * unit.PSI, Part: plant.PartSupply}, func(c *plant.Config) *float64 { return &c.SupplyPa })),
	{
		ID: "supply-loss", Group: House, Name: "Pressure lost in the main at 10 gpm (38 L/min)", Quantity: instrument.Pressure, High: 60 * unit.PSI, Part: plant.PartSupply,
		read:  func(c *plant.Config) float64 { return float64(c.SupplyLossB * lossM3S * lossM3S) },
		write: func(c *plant.Config, v float64) { c.SupplyLossB = v / (lossM3S * lossM3S) },
	},
	switched(Knob{ID: "at-home", Group: House, Name: "The household draws water", Part: plant.PartHouse}, func(s *plant.State) *bool { return &s.NoDraw }, false),
	number(Knob{ID: "people", Group: House, Name: "People in the house", High: 20, Part: plant.PartHouse}, func(c *plant.Config) *int { return &c.House.People }),
	field(Knob{ID: "steady-draw", Group: House, Name: "Steady draw besides", Quantity: instrument.Flow, High: 15 * unit.GPM, Part: plant.PartHouse}, func(c *plant.Config) *float64 { return &c.House.LeakM3S }),
	field(Knob{ID: "house-rise", Group: House, Name: "Height of the taps above the valve", Quantity: instrument.Length, Low: -3, High: 12, Part: plant.PartHouse}, func(c *plant.Config) *float64 { return &c.HouseRiseM }),
}

// onMains makes a knob one of houses that have no well of their own.
func onMains(k Knob) Knob {
	k.on = func(c *plant.Config) bool { return !c.Site.FromWell }
	return k
}

var partKnobs = []Knob{
	bore("nozzle", "Injector nozzle", plant.PartInjector, 0.3e-3, 5e-3, func(c *plant.Config) *float64 { return &c.NozzleM }),
	bore("throat", "Injector throat", plant.PartInjector, 0.6e-3, 10e-3, func(c *plant.Config) *float64 { return &c.ThroatM }),
	field(Knob{ID: "drain-control", Group: Parts, Name: "Drain flow control", Quantity: instrument.Flow, Low: 0.3 * unit.GPM, High: 20 * unit.GPM, Part: plant.PartDrainCtl}, func(c *plant.Config) *float64 { return &c.DrainM3S }),
	field(Knob{ID: "refill-control", Group: Parts, Name: "Refill flow control", Quantity: instrument.Flow, Low: 0.05 * unit.GPM, High: 3 * unit.GPM, Part: plant.PartRefillCtl}, func(c *plant.Config) *float64 { return &c.RefillM3S }),
	{
		ID: "resin", Group: Parts, Name: "Depth of the bed", Quantity: instrument.Length, Low: 0.2, High: 1.5, Part: plant.PartBed,
		read: func(c *plant.Config) float64 { return c.Bed.DepthM }, write: bedDepth,
	},
	{
		ID: "tank-diameter", Group: Parts, Name: "Diameter of the resin tank", Quantity: instrument.Length, Low: 6 * unit.Inch, High: 24 * unit.Inch, Part: plant.PartBed,
		read:  func(c *plant.Config) float64 { return c.TankDiameterM },
		write: func(c *plant.Config, v float64) { c.TankDiameterM = v; bedDepth(c, c.Bed.DepthM) },
	},
	{
		ID: "tank-height", Group: Parts, Name: "Height of the resin tank", Quantity: instrument.Length, Low: 20 * unit.Inch, High: 72 * unit.Inch, Part: plant.PartBed,
		read: func(c *plant.Config) float64 { return c.TankHeightM },
		write: func(c *plant.Config, v float64) {
			c.TankHeightM, c.BrineLiftM = v, v // the injector stands on the tank
			bedDepth(c, c.Bed.DepthM)
		},
	},
	bore("riser", "Bore of the riser tube", plant.PartRiser, 10e-3, 100e-3, func(c *plant.Config) *float64 { return &c.RiserBoreM }),
	{
		ID: "brine-tank-diameter", Group: Parts, Name: "Diameter of the brine tank", Quantity: instrument.Length, Low: 10 * unit.Inch, High: 40 * unit.Inch, Part: plant.PartBrineTank,
		read:  func(c *plant.Config) float64 { return math.Sqrt(c.Brine.AreaM2 / (math.Pi / 4)) },
		write: func(c *plant.Config, v float64) { c.Brine.AreaM2 = float64(math.Pi / 4 * float64(v*v)) },
	},
	field(Knob{ID: "air-check", Group: Parts, Name: "Height of the air check", Quantity: instrument.Length, Low: 0.5 * unit.Inch, High: 10 * unit.Inch, Part: plant.PartAirCheck}, func(c *plant.Config) *float64 { return &c.Brine.AirCheckM }),
	{
		ID: "float", Group: Parts, Name: "Height of the safety float", Quantity: instrument.Length, Low: 3 * unit.Inch, High: 50 * unit.Inch, Part: plant.PartFloat,
		read: func(c *plant.Config) float64 { return c.Brine.FloatM },
		write: func(c *plant.Config, v float64) {
			c.Brine.FloatM, c.Brine.BridgeM = v, math.Min(v+0.02, c.Brine.HeightM) // as scenario has it
		},
	},
}

// bedDepth fills the tank with a bed of a depth; above it is water.
func bedDepth(c *plant.Config, v float64) {
	area := float64(math.Pi / 4 * float64(c.TankDiameterM*c.TankDiameterM))
	c.Bed = resin.DefaultSpec(float64(v*area), area)
	c.Bed.DepthM = v
	c.Bed.FreeboardM3 = float64(area * math.Max(0.05, c.TankHeightM-v))
}

// bore makes a knob of a bore, m.
func bore(id, name string, part plant.Part, low, high float64, at func(*plant.Config) *float64) Knob {
	return field(Knob{ID: id, Group: Parts, Name: name, Part: part, Quantity: instrument.Length, Bore: true, Low: low, High: high}, at)
}

var pipeKnobs = []Knob{
	field(Knob{ID: "drain-rise", Group: Pipes, Name: "Rise of the drain line", Quantity: instrument.Length, Low: -2, High: 4, Part: plant.PartDrainLine}, func(c *plant.Config) *float64 { return &c.DrainRiseM }),
	field(Knob{ID: "drain-length", Group: Pipes, Name: "Length of the drain line", Quantity: instrument.Length, Low: 0.3, High: 30, Part: plant.PartDrainLine}, func(c *plant.Config) *float64 { return &c.DrainLengthM }),
	inPipes(bore("drain-bore", "Bore of the drain line", plant.PartDrainLine, 5e-3, 50e-3, func(c *plant.Config) *float64 { return &c.DrainBoreM })),
	field(Knob{ID: "brine-length", Group: Pipes, Name: "Length of the brine line", Quantity: instrument.Length, Low: 0.3, High: 15, Part: plant.PartBrineLine}, func(c *plant.Config) *float64 { return &c.BrineLengthM }),
	inPipes(bore("brine-bore", "Bore of the brine line", plant.PartBrineLine, 2.5e-3, 25e-3, func(c *plant.Config) *float64 { return &c.BrineBoreM })),
	field(Knob{ID: "blend", Group: Pipes, Name: "Blending bypass, flow coefficient (Cv)", Quantity: instrument.Count, High: 12, Part: plant.PartBypass}, func(c *plant.Config) *float64 { return &c.BlendCv }),
}

func inPipes(k Knob) Knob {
	k.Group = Pipes
	return k
}

var controlKnobs = []Knob{
	of(byClock, number(Knob{ID: "every-days", Group: Control, Name: "Days between regenerations", Low: 1, High: 30, Part: plant.PartController}, func(c *plant.Config) *int { return &c.Control.EveryDays })),
	of(byDemand, number(Knob{ID: "set-hardness", Group: Control, Name: "Hardness set, grains per gallon", Low: 1, High: control.MaxHardnessGPG, Part: plant.PartController}, func(c *plant.Config) *int { return &c.Control.HardnessGPG })),
	of(byDemand, number(Knob{ID: "set-capacity", Group: Control, Name: "Capacity set, thousands of grains", Low: 1, High: control.MaxCapacityKgr, Part: plant.PartController}, func(c *plant.Config) *int { return &c.Control.CapacityKgr })),
	of(byDemand, number(Knob{ID: "reserve", Group: Control, Name: "Reserve, per cent of the capacity", High: 90, Part: plant.PartController}, func(c *plant.Config) *int { return &c.Control.ReservePct })),
	field(Knob{ID: "refill-time", Group: Control, Name: "Time of each refill", Quantity: instrument.Span, High: 3600, Part: plant.PartController}, func(c *plant.Config) *float64 { return &c.Control.RefillS }),
	field(Knob{ID: "start-time", Group: Control, Name: "Hour of the automatic start", Quantity: instrument.Span, High: 86399, Part: plant.PartController}, func(c *plant.Config) *float64 { return &c.Control.StartS }),
}

func of(which func(*plant.Config) bool, k Knob) Knob {
	k.on = which
	return k
}

func byClock(c *plant.Config) bool {
	return c.Control.Kind == control.Clock && c.Control.EveryDays > 0
}

func byDemand(c *plant.Config) bool { return c.Control.Kind == control.Demand }
