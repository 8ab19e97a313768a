package call

import "brinebench/sim/plant"

// Cautions that several parts share.
const (
	cautionPressure = "WARNING: Stored pressure. Bypass or shut off, relieve the pressure and see the gauge fall to zero before opening. Within 2 psi (14 kPa) of that is the weight of the water that stands in pipes and unit: have a towel and a bucket there."
	cautionSupply   = "WARNING: The pipe is under the pressure of the supply. A regulator is looked at and set under it; before one is taken apart close the main shut-off ahead of it, let the pressure off and see the gauge at zero."
	cautionRunning  = "CAUTION: While a regeneration runs the clock can drive on and send water out of an open part. Unplug the controller first."
	cautionBypass   = "WARNING: The house's pipes hang on it, and bypassing takes no pressure off it. Before a new one is fitted, or pipes are changed over, close the shut-off, open a low tap and see the gauge at zero. To turn it, set its stop and look takes none of that."
	cautionBond     = "WARNING: Metal pipes can carry the house's electrical earth (ground). A jumper bridges the gap before a piece is cut out, and stays across what does not conduct: local code and licensed hands."
	cautionMotor    = "CAUTION: The motor can turn the drum without notice. Unplug the controller first and keep the plug in sight."
	cautionSeal     = "NOTICE: Only silicone lubricant on seals; petroleum grease swells EPDM."
	cautionDrain    = "NOTICE: The drain line ends in an air gap of twice its opening and at least 1 in; local code governs."
	cautionClock    = "NOTICE: Clock and program are set with the plug in. Out of the socket the clock may lose the time."
	cautionMains    = "WARNING: Mains at the outlet, and behind the cover of what is wired in. Unplug; what has no plug is switched off at the breaker, locked and tested dead before a terminal is touched. Only trained hands measure under power."
	cautionOutlet   = "WARNING: Mains at the outlet. Dry hands and a dry floor; an outlet that is dead, scorched or loose is an electrician's, and so is one beside water without ground-fault protection (GFCI, RCD): local code."
	cautionBrine    = "CAUTION: Brine stings in eyes and cuts and eats metal. Wear goggles and gloves, rinse with fresh water."
	cautionOverflow = "CAUTION: The float is what keeps a tank from running over when all else fails. Where the well was open, lift the float by hand while the tank refills and see the water stop."
	cautionStick    = "CAUTION: Break a bridge with a blunt stick, not with a bar: the tank's floor and the well are plastic."
	cautionHeavy    = "CAUTION: A tank full of resin and water weighs 100 to 440 lb (45 to 200 kg), and with the water above the bed siphoned off still two thirds of that. Siphon it, scoop out resin if it must be, and move it with two people and a hand truck."
	cautionWater    = "CAUTION: Let the water back in slowly, in backwash, until no air comes at the drain: a rush hammers the pipes and throws beads into the valve. What was open is disinfected as the unit's and the bleach's instructions say, never with resin cleaner in the bed."
	cautionRiser    = "CAUTION: A riser goes down only into an empty tank: siphon and scoop the resin out, set the riser upright with its head closed and level with the neck, and fill the resin in round it."
	cautionBleach   = "CAUTION: Bleach into the well is unscented household bleach alone, in the amount that the unit's and the bleach's instructions give. Never together with resin cleaner: the two make poisonous gas. Gloves and goggles."
	cautionLift     = "CAUTION: Salt bags are heavy and wet floors are slippery. Bend the knees, hold the bag close, do not twist; wipe up spills."
)

var parts = []PartInfo{
	{
		ID: plant.PartSupply, Name: "Supply", What: "The pipe that brings the water, with the pressure and the flow that the unit has to live on, and the house's pressure regulator.",
		CanOpen: true, CanSet: true, Minutes: Minutes{Open: 4, Refit: 1, Adjust: 10}, Cautions: []string{cautionSupply},
	},
	{ID: plant.PartShutOff, Name: "Shut-off", What: "Closes the supply to house and unit alike."},
	{ID: plant.PartRawTap, Name: "Raw-water sample tap", What: "A tap ahead of the unit: the water as it comes in."},
	{
		ID: plant.PartBypass, Name: "Bypass", What: "Three positions: through the softener, past it, or no water at all. In service its cross port must be tight, or raw water mixes in.",
		CanOpen: true, CanSet: true, CanSwap: true, Price: 85, Wet: true, Minutes: Minutes{Open: 3, Refit: 2, Adjust: 4, Replace: 25}, Cautions: []string{cautionBypass, cautionBond, cautionSeal},
	},
	{ID: plant.PartHouseTap, Name: "House tap", What: "A tap in the house, after the bypass: the water that the family gets."},
	{
		ID: plant.PartHouse, Name: "Household and feed water", What: "Who draws how much of what water. When that has changed the unit is sound and set wrong all the same.",
		CanSet: true, Minutes: Minutes{Adjust: 15},
	},
	{
		ID: plant.PartMeter, Name: "Meter", What: "A turbine in the outlet, with an indicator that turns while water runs. A demand controller counts by it the water to the house.",
		CanOpen: true, CanClean: true, CanSet: true, CanSwap: true, Price: 60, Wet: true, Minutes: Minutes{Open: 5, Refit: 3, Clean: 3, Adjust: 1, Replace: 6}, Cautions: []string{cautionPressure, cautionRunning},
	},
	{
		ID: plant.PartController, Name: "Controller", What: "Starts a regeneration, by the calendar or by the water used, and drives the drum through its stations. A plug-in supply feeds it.",
		CanSet: true, CanSwap: true, Price: 240, Minutes: Minutes{Adjust: 5, Replace: 30}, Cautions: []string{cautionMains, cautionClock},
	},
	{
		ID: plant.PartPlugIn, Name: "Plug-in supply", What: "Makes of the mains at the outlet the low voltage that controller and motor live on, 12 to 24 V on most. Without it the drum stays where it is.",
		CanSwap: true, Price: 25, Minutes: Minutes{Replace: 3}, Cautions: []string{cautionOutlet, cautionClock},
	},
	{
		ID: plant.PartMotor, Name: "Drive motor", What: "Turns the cam drum from station to station.",
		CanOpen: true, CanSwap: true, Price: 70, Internal: true, Minutes: Minutes{Open: 5, Refit: 4, Replace: 15}, Cautions: []string{cautionMotor, cautionMains},
	},
	{
		ID: plant.PartDrum, Name: "Cam drum", What: "One lobe track for each seat; a lobe under a stem lifts its disc. A switch tells the controller where it stands.",
		CanOpen: true, CanSet: true, CanSwap: true, Price: 95, Internal: true, Minutes: Minutes{Open: 6, Refit: 5, Adjust: 6, Replace: 25}, Cautions: []string{cautionMotor},
	},
	{ID: plant.PartValve, Name: "Control valve", What: "One body with eight seats that send the water through bed, drain and brine line in turn."},
	{
		ID: plant.PartSeats, Name: "Seats and discs", What: "Eight discs on eight ports. A disc that does not close lets water go where it should not.",
		CanOpen: true, CanClean: true, CanSwap: true, Seals: true, Price: 140, Wet: true, Internal: true, Minutes: Minutes{Open: 15, Refit: 10, Clean: 15, Replace: 40}, Cautions: []string{cautionPressure, cautionMotor, cautionSeal},
	},
	{
		ID: plant.PartInjector, Name: "Injector", What: "A jet pump: the motive water leaves the nozzle fast, its pressure falls, and it sucks brine into the throat.",
		CanOpen: true, CanClean: true, CanSwap: true, Seals: true, Price: 28, Wet: true, Internal: true, Minutes: Minutes{Open: 6, Refit: 4, Clean: 5, Replace: 5},
		Cautions: []string{cautionPressure, cautionMotor, "CAUTION: Clear the nozzle with a soft pick or water only; a scratched bore changes its size.", cautionSeal},
	},
	{
		ID: plant.PartScreen, Name: "Injector screen", What: "Keeps grit from the nozzle.",
		CanOpen: true, CanClean: true, CanSwap: true, Price: 6, Wet: true, Internal: true, Minutes: Minutes{Open: 5, Refit: 3, Clean: 3, Replace: 3}, Cautions: []string{cautionPressure, cautionMotor},
	},
	{
		ID: plant.PartDrainCtl, Name: "Drain flow control", What: "Holds the backwash to the flow that lifts the bed and does not carry it away.",
		CanOpen: true, CanClean: true, CanSwap: true, Price: 12, Wet: true, Minutes: Minutes{Open: 6, Refit: 4, Clean: 3, Replace: 4}, Cautions: []string{cautionPressure, cautionRunning},
	},
	{
		ID: plant.PartDrainLine, Name: "Drain line", What: "Takes the waste water to the drain.",
		CanOpen: true, CanClean: true, CanSet: true, CanSwap: true, Price: 22, Wet: true, Minutes: Minutes{Open: 6, Refit: 4, Clean: 10, Adjust: 20, Replace: 25}, Cautions: []string{cautionPressure, cautionDrain},
	},
	{ID: plant.PartAirGap, Name: "Air gap", What: "The open fall between drain line and drain: nothing can be sucked back into the drinking water.", Cautions: []string{cautionDrain}},
	{
		ID: plant.PartRefillCtl, Name: "Refill flow control", What: "Meters the water that makes the next brine, and lifts free when brine is drawn.",
		CanOpen: true, CanClean: true, CanSwap: true, Price: 9, Wet: true, Minutes: Minutes{Open: 5, Refit: 3, Clean: 3, Replace: 3}, Cautions: []string{cautionPressure, cautionRunning},
	},
	{
		ID: plant.PartBrineLine, Name: "Brine line", What: "Tube between valve and brine tank: brine up, refill water down.",
		CanOpen: true, CanClean: true, CanSet: true, CanSwap: true, Price: 8, Wet: true, Minutes: Minutes{Open: 4, Refit: 3, Clean: 6, Adjust: 3, Replace: 10}, Cautions: []string{cautionPressure, cautionRunning, cautionBrine},
	},
	{
		ID: plant.PartBrineTank, Name: "Brine tank", What: "Water stands in salt until it is saturated brine: enough for one regeneration.",
		CanOpen: true, CanSet: true, CanSwap: true, Price: 110, Minutes: Minutes{Open: 3, Refit: 1, Adjust: 4, Replace: 45}, Cautions: []string{cautionBrine, cautionLift, cautionBleach},
	},
	{
		ID: plant.PartSalt, Name: "Salt", What: "Should stand loose on the floor of the tank. A crust that carries itself leaves water below it that finds no salt.",
		CanClean: true, CanSwap: true, Price: 24, Minutes: Minutes{Clean: 12, Replace: 10}, Cautions: []string{cautionStick, cautionLift},
	},
	{
		ID: plant.PartFloat, Name: "Safety float", What: "Shuts the refill when the level is too high.",
		CanOpen: true, CanClean: true, CanSet: true, CanSwap: true, Price: 35, Minutes: Minutes{Open: 3, Refit: 2, Clean: 3, Adjust: 3, Replace: 5}, Cautions: []string{cautionOverflow, cautionBrine},
	},
	{
		ID: plant.PartAirCheck, Name: "Air check", What: "A ball that seats when the brine is used up, so that no air is drawn.",
		CanOpen: true, CanClean: true, CanSet: true, CanSwap: true, Price: 32, Minutes: Minutes{Open: 3, Refit: 2, Clean: 3, Adjust: 3, Replace: 5}, Cautions: []string{cautionBrine},
	},
	{
		ID: plant.PartBed, Name: "Resin bed", What: "Beads that hold sodium and give it for the hardness of the water. Brine turns the exchange round.",
		CanOpen: true, CanClean: true, CanSwap: true, Seals: true, Price: 210, Wet: true, Internal: true, Minutes: Minutes{Open: 25, Refit: 20, Clean: 60, Replace: 60}, Cautions: []string{cautionPressure, cautionMotor, cautionHeavy, cautionWater, cautionSeal},
	},
	{
		ID: plant.PartRiser, Name: "Riser tube", What: "Joins the bottom of the bed to the valve. A seal at its head keeps the water above the bed out of it.",
		CanOpen: true, CanSet: true, CanSwap: true, Seals: true, Price: 40, Wet: true, Internal: true, Minutes: Minutes{Open: 22, Refit: 17, Adjust: 5, Replace: 95}, SetPrice: 4, Cautions: []string{cautionPressure, cautionMotor, cautionRiser, cautionWater, cautionSeal},
	},
	{
		ID: plant.PartUpperDist, Name: "Upper distributor", What: "Spreads the water over the bed. It is a coarse basket: what too strong a backwash lifts that high goes through it.",
		CanOpen: true, CanClean: true, CanSwap: true, Seals: true, Price: 18, Wet: true, Internal: true, Minutes: Minutes{Open: 20, Refit: 15, Clean: 10, Replace: 5}, Cautions: []string{cautionPressure, cautionMotor, cautionWater, cautionSeal},
	},
	{
		ID: plant.PartLowerDist, Name: "Lower distributor", What: "Collects the water under the bed and holds the beads back in service.",
		CanOpen: true, CanClean: true, CanSwap: true, Seals: true, Price: 45, Wet: true, Internal: true, Minutes: Minutes{Open: 60, Refit: 60, Clean: 15, Replace: 10}, Cautions: []string{cautionPressure, cautionMotor, cautionHeavy, cautionRiser, cautionWater, cautionSeal},
	},
}
