package valve

// What can be wrong with a setting of the seats, in plain words.
const (
	HouseDry         = "the house has no water: no open way leads to it from the supply"
	RawToHouse       = "raw water gets to the house past the bed"
	BrineToHouse     = "brine gets to the house"
	HouseToDrain     = "the house stands open to the drain and loses its pressure"
	SupplyToDrain    = "the supply runs straight to the drain"
	InjectorToDrain  = "what the injector delivers runs to the drain past the bed"
	InjectorHeldBack = "the injector cannot draw, for its outlet is shut or under supply pressure: water runs into the brine tank"
	BedIdle          = "nothing flows through the bed"
)

// AllHazards are all that Hazards can tell.
func AllHazards() []string {
	return []string{HouseDry, RawToHouse, BrineToHouse, HouseToDrain, SupplyToDrain, InjectorToDrain, InjectorHeldBack, BedIdle}
}

// Hazards returns what is wrong with the seats that stand wide open, for any
// setting of the eight, in the order of the constants; injectorBelow as
// Program.InjectorDischargesBelow. It goes by the passages alone: the supply
// presses, house, drain and (unless the injector draws) brine tank take. No
// setting carries resin to the house, which hangs on the bottom of the bed.
//
// RawToHouse alone is nothing wrong away from service: it is what the pass seat is for.
func Hazards(open [NumSeats]bool, injectorBelow bool) []string {
	above := open[Motive] && !injectorBelow
	below := open[Motive] && injectorBelow
	roundTheBed := open[Backwash] && open[Rinse] // top and bottom meet in front of the drain
	backFromHouse := open[Pass] && open[Outlet]
	pressed := open[Inlet] || open[Upflow] || backFromHouse
	vented := open[Backwash] || open[Rinse] || open[Outlet]
	draws := open[Motive] && open[Brine] && vented && !pressed

	fedAbove := open[Inlet] || above
	fedBelow := open[Upflow] || below
	leavesBelow := open[Outlet] || open[Rinse] || open[Brine] && injectorBelow
	leavesAbove := open[Backwash] || open[Brine] && !injectorBelow

	var list []string
	add := func(is bool, what string) {
		if is {
			list = append(list, what)
		}
	}
	add(!serves(&open), HouseDry)
	add(open[Pass] || open[Outlet] && (fedBelow || fedAbove && roundTheBed), RawToHouse)
	add(draws && open[Outlet], BrineToHouse)
	add(open[Outlet] && (open[Rinse] || open[Backwash]), HouseToDrain)
	add(open[Inlet] && open[Backwash] || (open[Upflow] || backFromHouse) && open[Rinse], SupplyToDrain)
	add(above && open[Backwash] || below && open[Rinse], InjectorToDrain)
	add(open[Motive] && open[Brine] && !draws, InjectorHeldBack)
	add(!(fedAbove && leavesBelow || (fedBelow || backFromHouse) && leavesAbove), BedIdle)
	return list
}
