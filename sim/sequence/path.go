package sequence

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// place is where passages meet. The injector is one place: what comes in by its nozzle
// and by its suction leaves by its throat.
type place int

const (
	street place = iota
	supplySide
	valveIn
	valveOut
	houseSide
	taps
	rawSink
	bedTop
	bedBottom
	riserTop
	manifold
	airGap
	injector
	brinePort
	tank
	numPlaces
)

// ends are the places that each passage joins, in the direction of plant.Path.
func ends(p plant.Path, below bool) (from, to place) {
	e := [plant.NumPaths][2]place{
		plant.InletSeat: {valveIn, bedTop}, plant.OutletSeat: {riserTop, valveOut}, plant.PassSeat: {valveIn, valveOut},
		plant.UpflowSeat: {valveIn, riserTop}, plant.BackwashSeat: {bedTop, manifold}, plant.RinseSeat: {riserTop, manifold},
		plant.MotiveSeat: {valveIn, injector}, plant.BrineSeat: {brinePort, injector},
		plant.Supply: {street, supplySide}, plant.BypassIn: {supplySide, valveIn}, plant.BypassOut: {valveOut, houseSide},
		plant.BypassCross: {supplySide, houseSide}, plant.House: {houseSide, taps}, plant.RawTap: {supplySide, rawSink},
		plant.Bed: {bedTop, bedBottom}, plant.Riser: {bedBottom, riserTop}, plant.Discharge: {injector, bedTop},
		plant.Drain: {manifold, airGap}, plant.BrineLine: {tank, brinePort},
	}
	if below {
		e[plant.Discharge][1] = bedBottom
	}
	return e[p][0], e[p][1]
}

// Way is a way that water takes through the unit.
type Way struct {
	ID       string // stable: "house", "drain", "brine", "tank"
	from, to place
}

// Ways are those that can be asked for: from the street to the taps, from the street
// to the air gap, out of the brine tank, and into it.
var Ways = []Way{
	{"house", street, taps}, {"drain", street, airGap}, {"brine", tank, airGap}, {"tank", street, tank},
}

// Trace returns the passages of a way, in the order in which most of the water passes
// them, by the flows of a unit at that moment; nil where none goes that way.
func Trace(m *plant.Model, s *plant.State, w Way) []plant.Path {
	best := make([]float64, numPlaces) // the widest flow by which a place is reached
	came := make([]plant.Path, numPlaces)
	prior := make([]place, numPlaces)
	best[w.from] = math.MaxFloat64
	for range numPlaces {
		for p := range plant.NumPaths {
			a, b, q := along(m, s, p)
			if q > wetM3S && min(q, best[a]) > best[b] && b != w.from {
				best[b], came[b], prior[b] = min(q, best[a]), p, a
			}
		}
	}
	if best[w.to] == 0 {
		return nil
	}
	var list []plant.Path
	for at := w.to; at != w.from; at = prior[at] {
		list = append([]plant.Path{came[at]}, list...)
	}
	return list
}

// wetM3S is the least flow that counts.
const wetM3S = 0.02 * unit.GPM

// along is a passage in the direction in which it is flowed through.
func along(m *plant.Model, s *plant.State, p plant.Path) (from, to place, q float64) {
	from, to = ends(p, m.Config().Program.InjectorDischargesBelow)
	if q = m.Flow(s, p); q < 0 {
		return to, from, -q
	}
	return from, to, q
}
