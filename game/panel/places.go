//go:build js

package panel

import "brinebench/sim"

// places groups parts by where the technician stands.
var places = []struct {
	name  string
	parts []sim.Part
}{
	{"House and supply", []sim.Part{sim.PartSupply, sim.PartShutOff, sim.PartBypass, sim.PartRawTap, sim.PartHouseTap}},
	{"The household", []sim.Part{sim.PartHouse}},
	{"Controller and drive", []sim.Part{sim.PartController, sim.PartMotor, sim.PartDrum}},
	{"Control valve", []sim.Part{sim.PartValve, sim.PartMeter, sim.PartSeats, sim.PartInjector, sim.PartScreen, sim.PartRefillCtl}},
	{"Drain", []sim.Part{sim.PartDrainCtl, sim.PartDrainLine, sim.PartAirGap}},
	{"Brine tank", []sim.Part{sim.PartBrineTank, sim.PartSalt, sim.PartBrineLine, sim.PartAirCheck, sim.PartFloat}},
	{"Resin tank", []sim.Part{sim.PartBed, sim.PartRiser, sim.PartUpperDist, sim.PartLowerDist}},
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
		return info.Name
	}
	return string(id)
}
