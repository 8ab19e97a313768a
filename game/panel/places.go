//go:build js

package panel

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// place is where the technician stands.
type place struct {
	id    string
	parts []sim.Part
}

func (p *place) name() string { return say.Text("place." + p.id) }

// places group the parts.
var places = []place{
	{"supply", []sim.Part{sim.PartSupply, sim.PartShutOff, sim.PartBypass, sim.PartRawTap, sim.PartHouseTap}},
	{"household", []sim.Part{sim.PartHouse}},
	{"drive", []sim.Part{sim.PartController, sim.PartPlugIn, sim.PartMotor, sim.PartDrum}},
	{"valve", []sim.Part{sim.PartValve, sim.PartMeter, sim.PartSeats, sim.PartInjector, sim.PartScreen, sim.PartRefillCtl}},
	{"drain", []sim.Part{sim.PartDrainCtl, sim.PartDrainLine, sim.PartAirGap}},
	{"brine", []sim.Part{sim.PartBrineTank, sim.PartSalt, sim.PartBrineLine, sim.PartAirCheck, sim.PartFloat}},
	{"resin", []sim.Part{sim.PartBed, sim.PartRiser, sim.PartUpperDist, sim.PartLowerDist}},
}

// atPlace tells whether a part belongs to a place; parts of none belong to the last.
func atPlace(part sim.Part, place int) bool {
	for i := range places {
		for _, q := range places[i].parts {
			if q == part {
				return i == place
			}
		}
	}
	return place == len(places)-1
}

// partName is the name of a part, or its id when the setup has none.
func (p *Panels) partName(id sim.Part) string {
	if info := p.partInfo(id); info != nil {
		return say.Sim(info.Name)
	}
	return string(id)
}
