package bench

import (
	"strconv"

	"brinebench/sim"
)

// Quantity is something of a unit that a strip chart can show.
type Quantity struct {
	ID   string
	Kind string   // of the same kind: pressure, flow, hardness, salt, bed, tank, unit
	At   int      // the node or passage, -1 where it is of neither
	Unit sim.Unit // of its values, SI
	of   func(v *sim.View) float64
}

// Kinds are the kinds of quantity in their order.
var Kinds = []string{"pressure", "flow", "hardness", "salt", "bed", "tank", "unit"}

// quantities are all of them; the log keeps their values in this order.
var quantities = allQuantities()

// Quantities returns everything that a chart can show. Read only.
func Quantities() []Quantity { return quantities }

// QuantityAt returns the place of a quantity among all.
func QuantityAt(id string) (place int, ok bool) {
	for i := range quantities {
		if quantities[i].ID == id {
			return i, true
		}
	}
	return 0, false
}

func allQuantities() (all []Quantity) {
	for n := range sim.NumNodes {
		all = append(all, Quantity{"pressure." + strconv.Itoa(int(n)), "pressure", int(n), sim.UnitPressure, func(v *sim.View) float64 { return v.PressurePa[n] }})
	}
	for _, k := range []struct {
		kind string
		unit sim.Unit
		of   func(p *sim.PathView) float64
	}{
		{"flow", sim.UnitFlow, func(p *sim.PathView) float64 { return p.FlowM3S }},
		{"hardness", sim.UnitHardness, func(p *sim.PathView) float64 { return p.Water.HardnessMolM3 }},
		{"salt", sim.UnitContent, func(p *sim.PathView) float64 { return p.Water.SaltMolM3 * sim.MolarMassNaCl }},
	} {
		for p := range sim.NumPaths {
			all = append(all, Quantity{k.kind + "." + strconv.Itoa(int(p)), k.kind, int(p), k.unit, func(v *sim.View) float64 { return k.of(&v.Paths[p]) }})
		}
	}
	one := func(id, kind string, unit sim.Unit, of func(v *sim.View) float64) {
		all = append(all, Quantity{id, kind, -1, unit, of})
	}
	one("bed-left", "bed", sim.UnitFraction, func(v *sim.View) float64 { return v.Bed.RemainingCap })
	one("bed-depth", "bed", sim.UnitLength, func(v *sim.View) float64 { return v.Bed.DepthM })
	one("bed-loss", "bed", sim.UnitPressure, func(v *sim.View) float64 { return v.Bed.LossPa })
	one("bed-foot", "bed", sim.UnitHardness, func(v *sim.View) float64 { return v.Bed.Plenum.HardnessMolM3 })
	one("brine-level", "tank", sim.UnitLength, func(v *sim.View) float64 { return v.Tank.LevelM })
	one("brine-strength", "tank", sim.UnitFraction, func(v *sim.View) float64 { return v.Tank.BrineFraction })
	one("salt-height", "tank", sim.UnitLength, func(v *sim.View) float64 { return v.Tank.SaltTopM })
	one("drum", "unit", sim.UnitAngle, func(v *sim.View) float64 { return v.DrumDeg })
	one("position", "unit", sim.UnitCount, func(v *sim.View) float64 { return float64(v.Controller.Station + 1) })
	one("draw", "unit", sim.UnitFlow, func(v *sim.View) float64 { return v.HouseSetM3S })
	one("metered", "unit", sim.UnitFlow, func(v *sim.View) float64 { return v.MeterM3S })
	return all
}

// Value returns a quantity of a view, SI.
func (q *Quantity) Value(v *sim.View) float64 { return q.of(v) }
