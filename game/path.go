package game

import (
	"slices"

	"brinebench/sim"
)

// waterPath is the parts in the order in which water meets them: from the street
// through the bed to the house, then to the brine tank and back, then to the
// drain; after them what turns the drum.
var waterPath = []sim.Part{
	sim.PartSupply, sim.PartShutOff, sim.PartRawTap, sim.PartBypass, sim.PartValve, sim.PartSeats,
	sim.PartUpperDist, sim.PartBed, sim.PartLowerDist, sim.PartRiser, sim.PartMeter, sim.PartHouseTap, sim.PartHouse,
	sim.PartScreen, sim.PartInjector, sim.PartRefillCtl, sim.PartBrineLine, sim.PartAirCheck, sim.PartFloat, sim.PartBrineTank, sim.PartSalt,
	sim.PartDrainCtl, sim.PartDrainLine, sim.PartAirGap,
	sim.PartPlugIn, sim.PartController, sim.PartMotor, sim.PartDrum,
}

// AlongWater returns the part that comes after p on the water's path, or before it
// when steps is -1; the ends are joined. There has to be p.
func AlongWater(p sim.Part, steps int) sim.Part {
	i, n := slices.Index(waterPath, p), len(waterPath)
	return waterPath[((i+steps)%n+n)%n]
}
