package instrument

import (
	"strings"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
)

// looks are what is seen of a part that is opened, taken out or tried. Their
// minutes are those of the work, which the call adds.
var looks = []Instrument{
	look("look-seats", "Discs and seats, cover off", plant.PartSeats, "discs and seats sound"),
	look("look-injector", "Nozzle and throat, injector pulled", plant.PartInjector, "bores clear, edges sharp, sizes as on the unit's plate"),
	look("look-screen", "Injector screen pulled", plant.PartScreen, "clear"),
	look("look-brine-line", "Brine line taken off and blown through", plant.PartBrineLine, "clear, fittings tight"),
	look("look-air-check", "Air check lifted out of the well", plant.PartAirCheck, "ball floats free, cage at its mark"),
	look("look-refill-control", "Refill flow control pulled", plant.PartRefillCtl, "clear, rating as on the unit's plate"),
	look("look-float", "Float lifted out, measured and tried", plant.PartFloat, "float at its proper height, shuts when lifted"),
	look("look-brine-tank", "Walls, lid and floor of the brine tank", plant.PartBrineTank, "tank sound, lid on"),
	look("look-drain-control", "Drain flow control pulled", plant.PartDrainCtl, "clear, rating as on the unit's plate"),
	look("look-drain-line", "Drain line taken off and blown through", plant.PartDrainLine, "clear, led low to the drain"),
	look("look-riser", "Riser's seal and tube, valve off", plant.PartRiser, "seal and tube sound"),
	look("look-upper-distributor", "Upper distributor, valve off", plant.PartUpperDist, "slots clear, basket whole"),
	look("look-lower-distributor", "Lower distributor, tank emptied and riser drawn", plant.PartLowerDist, "slots clear, basket whole"),
	look("look-bed", "Resin looked at and felt, valve off", plant.PartBed, "beads whole, amber and hard, the bed level"),
	look("look-drum", "Marks and position switch, drum uncovered", plant.PartDrum, "marks in line, switch in its place"),
	look("look-motor", "Motor and gear uncovered", plant.PartMotor, "motor and gear sound"),
	look("look-meter", "Meter turbine pulled", plant.PartMeter, "turbine spins freely, cable plugged in"),
	look("look-bypass", "Bypass turned through, pipes followed", plant.PartBypass, "turns and closes tight, pipes as marked"),
	look("look-supply", "Regulator ahead of the house looked at", plant.PartSupply, "set as its plate says, holds"),
}

func look(id, name string, where plant.Part, sound string) Instrument {
	return Instrument{
		ID: id, Name: name, What: "What there is to see.", Where: where, Minutes: 0,
		seen: func(_ *plant.Model, s *plant.State) string { return fault.Look(&s.Cond, where, sound) },
	}
}

const lookID = "look-"

// LookAt returns the sighting that opening a part gives.
func LookAt(p plant.Part) (*Instrument, bool) {
	for i := range all {
		if all[i].Where == p && all[i].NeedsOpening() {
			return &all[i], true
		}
	}
	return nil, false
}

// NeedsOpening reports whether the instrument is a look into an opened part.
func (in *Instrument) NeedsOpening() bool { return strings.HasPrefix(in.ID, lookID) }
