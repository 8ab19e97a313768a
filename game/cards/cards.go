// Package cards is the reference cards of a unit: for each position of its valve and
// each of its parts what the model says of them, in numbers of this very unit.
package cards

import (
	"cmp"
	"math"
	"slices"

	"brinebench/sim"
)

// Figure is one number of a card, in SI.
type Figure struct {
	ID    string // of its name
	Value float64
	Unit  sim.Unit
	Way   Way
}

// Way tells how the sign of a flow is to be read.
type Way int

// The ways.
const (
	Plain  Way = iota // a negative one goes against the usual direction
	UpDown            // positive is down
	Tank              // positive is out of the brine tank
)

// Traced is a way that water takes in a position.
type Traced struct {
	ID    string // "house", "drain", "brine", "tank"
	Paths []sim.Path
}

// Position is the card of a position.
type Position struct {
	Station   sim.Station
	Why       string // what it is for, in the engine's words
	Ways      []Traced
	Flows     []Figure
	Pressures []Figure
	Bed       []Figure // what the bed and its water do
	DrawS     float64  // of brine draw: until the air check seated, s; 0 elsewhere
	DrawnM3   float64  // the brine drawn meanwhile, m³
}

// Part is the card of a part.
type Part struct {
	Info  sim.PartInfo
	Sizes []Figure
	Head  []string // ids of the names of the columns of Rows
	Rows  [][]Figure
	Tests []sim.InstrumentInfo // made at it, without opening anything
}

// Deck is all cards of a unit.
type Deck struct {
	Setup     *sim.Setup
	Positions []Position // each once, in the order of the program
	Parts     []Part     // in the order of the setup
}

// settleS is how long a unit has been in a position when its figures are taken: the
// flows are those of the position, and brine has been drawn for two minutes.
const settleS = 120

// New runs a unit through its positions, a bath tap open, and takes their figures.
func New(c *sim.Cycle) *Deck {
	d := &Deck{Setup: c.Setup()}
	var views []sim.View
	for i, st := range d.Setup.Stations {
		if slices.ContainsFunc(d.Setup.Stations[:i], func(o sim.Station) bool { return o.ID == st.ID }) {
			continue
		}
		c.Show(st.ID)
		c.Run(settleS)
		var v sim.View
		c.View(&v)
		views = append(views, v)
		d.Positions = append(d.Positions, position(c, st, i, &v))
	}
	for _, info := range d.Setup.Parts {
		d.Parts = append(d.Parts, d.part(info, views))
	}
	return d
}

func position(c *sim.Cycle, st sim.Station, at int, v *sim.View) Position {
	p := Position{Station: st, Why: c.Program().Stops[at].Why}
	for _, e := range c.Exercises(sim.TracePath) {
		if e.Stop == st.ID {
			p.Ways = append(p.Ways, Traced{e.Way, c.Trace(st.ID, e.Way)})
		}
	}
	flow := func(id string, path sim.Path, w Way) {
		p.Flows = append(p.Flows, Figure{id, still(v.Paths[path].FlowM3S), sim.UnitFlow, w})
	}
	flow("house", sim.PathHouse, Plain)
	flow("bed", sim.PathBed, UpDown)
	flow("drain", sim.PathDrain, Plain)
	flow("nozzle", sim.PathMotiveSeat, Plain)
	flow("brine", sim.PathBrineLine, Tank)
	pressure := func(id string, n sim.Node) {
		p.Pressures = append(p.Pressures, Figure{ID: id, Value: v.PressurePa[n], Unit: sim.UnitPressure})
	}
	pressure("inlet", sim.NodeValveIn)
	pressure("outlet", sim.NodeValveOut)
	pressure("bed-top", sim.NodeBedTop)
	pressure("bed-bottom", sim.NodeBedBottom)
	pressure("drain", sim.NodeDrainManifold)
	pressure("throat", sim.NodeThroat)
	pressure("brine", sim.NodeValveBrine)
	p.Bed = []Figure{
		{ID: "lift", Value: lift(v), Unit: sim.UnitFraction},
		{ID: "loss", Value: math.Abs(v.Bed.LossPa), Unit: sim.UnitPressure},
		{ID: "hardness", Value: v.Paths[sim.PathHouse].Water.HardnessMolM3, Unit: sim.UnitHardness},
	}
	if st.Open[sim.SeatMotive] && st.Open[sim.SeatBrine] {
		p.DrawS, p.DrawnM3 = c.Draw()
	}
	return p
}

// still leaves out what no one could measure.
func still(m3s float64) float64 {
	const leastM3S = 1e-7 // 6 mL/min
	if math.Abs(m3s) < leastM3S {
		return 0
	}
	return m3s
}

// lift is by how much of its settled depth a bed is lifted.
func lift(v *sim.View) float64 { return max(0, v.Bed.DepthM/v.Bed.RestDepthM-1) }

func (d *Deck) part(info sim.PartInfo, views []sim.View) Part {
	p := Part{Info: info, Sizes: sizes(d.Setup, info.ID)}
	for _, col := range columns[info.ID] {
		p.Head = append(p.Head, col.id)
	}
	for i := range views {
		var row []Figure
		for _, col := range columns[info.ID] {
			value := col.of(&views[i])
			if col.unit == sim.UnitFlow {
				value = still(value)
			}
			row = append(row, Figure{col.id, value, col.unit, col.way})
		}
		if row != nil {
			p.Rows = append(p.Rows, row)
		}
	}
	for _, in := range d.Setup.Instruments {
		if in.Where == info.ID {
			p.Tests = append(p.Tests, in)
		}
	}
	return p
}

// At returns what can go wrong with a part.
func At(wear []sim.Wear, part sim.Part) (list []sim.Wear) {
	for _, w := range wear {
		if w.Where == part {
			list = append(list, w)
		}
	}
	return list
}

// Shown is what goes wrong and is told in a position, by one reading.
type Shown struct {
	sim.Wear
	By sim.Showing
}

// In returns what is most often wrong with the parts that the water of a position
// passes, and shows there; at most so many.
func In(wear []sim.Wear, p *Position, most int) (list []Shown) {
	parts := passed(p)
	for _, w := range wear {
		i := slices.IndexFunc(w.Shows, func(s sim.Showing) bool { return !s.AnyTime && !s.Alike && stopOf(s.Stage) == p.Station.ID })
		if i >= 0 && slices.Contains(parts, w.Where) {
			list = append(list, Shown{w, w.Shows[i]})
		}
	}
	slices.SortStableFunc(list, func(a, b Shown) int { return cmp.Compare(b.Prior, a.Prior) })
	return list[:min(most, len(list))]
}

// passed are the parts that the water of a position passes. A seat that it does not
// pass can leak as well.
func passed(p *Position) []sim.Part {
	list := []sim.Part{sim.PartSeats}
	for _, w := range p.Ways {
		for _, path := range w.Paths {
			list = append(list, partsOn[path]...)
		}
	}
	return list
}

// partsOn are the parts of the passages that are no seats.
var partsOn = map[sim.Path][]sim.Part{
	sim.PathSupply:    {sim.PartSupply},
	sim.PathBypassIn:  {sim.PartBypass},
	sim.PathBypassOut: {sim.PartMeter},
	sim.PathBed:       {sim.PartBed, sim.PartUpperDist, sim.PartLowerDist},
	sim.PathRiser:     {sim.PartRiser},
	sim.PathDischarge: {sim.PartInjector, sim.PartScreen},
	sim.PathDrain:     {sim.PartDrainCtl, sim.PartDrainLine},
	sim.PathBrineLine: {sim.PartBrineLine, sim.PartRefillCtl, sim.PartAirCheck, sim.PartFloat, sim.PartSalt, sim.PartBrineTank},
}

// stopOf is the position of a stage at which instruments are read.
func stopOf(stage string) string {
	switch stage {
	case "brine draw", "slow rinse":
		return "brine"
	case "fast rinse":
		return "fast-rinse"
	case "after":
		return "service"
	}
	return stage
}
