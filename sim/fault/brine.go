package fault

import (
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// outdoors: brine stands frost that water does not, and a line beside its tank in
// a cellar never freezes. A drain line may leave the house.
func outdoors(c *plant.Config) bool { return c.Site.Outdoors }

var brineFaults = []Fault{
	{
		ID: "brine-line-blocked", Name: "Brine line kinked or blocked", Where: plant.PartBrineLine, Prior: 5, Onset: Steady,
		Severities: []float64{0.96, 0.975, 0.985, 0.992, 0.996, 1},
		Seen:       "line kinked flat", SeenMild: "line pinched",
		Cures: []Work{Clean, Replace}, Vain: "A new injector does not draw through a kinked line.",
		field: func(c *plant.Condition) *float64 { return &c.BrineLineOpen }, worst: 1e-4, // kinked flat it draws nothing to speak of in a whole night
	},
	{
		ID: "brine-line-air", Name: "Brine line takes air", Where: plant.PartBrineLine, Prior: 4, Onset: Steady,
		Severities: []float64{0.3, 0.6, 0.75, 1},
		Seen:       "a fitting of the line is loose, its seal nicked; salt crust round it", SeenMild: "a fitting of the line is a little loose; a trace of salt crust round it",
		Cures: []Work{Adjust, Replace}, Vain: "Cleaning the injector does not close a leak in the line.",
		field: func(c *plant.Condition) *float64 { return &c.BrineAirM }, worst: 0.72 * unit.Millimetre,
	},
	{
		ID: "brine-line-frozen", Name: "Brine line frozen", Where: plant.PartBrineLine, Prior: 0.7, Onset: Intermittent,
		Severities: []float64{0.97, 0.985, 0.992, 0.995, 0.997},
		Seen:       "hard ice in the line", SeenMild: "slush in the line",
		Cures: []Work{Clean}, Vain: "A new line in the same frost freezes again.",
		Caution: "CAUTION: Thaw with warm air or warm cloths, never with a flame: plastic melts and trapped steam bursts.",
		field:   func(c *plant.Condition) *float64 { return &c.BrineIce }, worst: 1 - leastOpen,
		on: outdoors,
	},
	{
		ID: "air-check-shut", Name: "Air check stuck on its seat", Where: plant.PartAirCheck, Prior: 3, Onset: Steady,
		Severities: []float64{0.97, 0.985, 0.995, 1},
		Seen:       "the ball is stuck to its seat with salt crust",
		Cures:      []Work{Clean, Replace}, Vain: "A new injector cannot pull a stuck ball free.",
		field: func(c *plant.Condition) *float64 { return &c.AirCheckShut }, worst: 1,
	},
	{
		ID: "air-check-open", Name: "Air check never seats", Where: plant.PartAirCheck, Prior: 2, Onset: Steady,
		Severities: []float64{1},
		Seen:       "the ball is split and does not seat",
		Cures:      []Work{Replace}, Vain: "Rinsing a split ball does not make it float.",
		field: func(c *plant.Condition) *float64 { return &c.AirCheckOpen }, worst: 1,
	},
	{
		ID: "air-check-early", Name: "Air check seats too early", Where: plant.PartAirCheck, Prior: 1.5, Onset: Steady,
		Severities: []float64{0.85, 1},
		Seen:       "the cage hangs far too high in the well",
		Cures:      []Work{Adjust, Replace}, Vain: "A longer refill ends at the float: what stands below the seat is never drawn.",
		field: func(c *plant.Condition) *float64 { return &c.AirCheckHigh }, worst: 0.95,
	},
	{
		ID: "refill-plugged", Name: "Refill flow control plugged", Where: plant.PartRefillCtl, Prior: 4, Onset: Growing,
		Severities: []float64{0.5, 0.8, 0.95, 1},
		Seen:       "bore blocked with grit", SeenMild: "bore partly blocked with grit",
		Cures: []Work{Clean, Replace}, Vain: "A longer refill through a blocked bore makes little brine.",
		field: func(c *plant.Condition) *float64 { return &c.RefillOpen }, worst: leastOpen,
	},
	{
		ID: "refill-small", Name: "Refill flow control too small", Where: plant.PartRefillCtl, Prior: 1, Onset: Steady,
		Severities: []float64{0.6, 1},
		Seen:       "bore clear; the rating marked on it is below the one on the unit's plate",
		Cures:      []Work{Replace}, Vain: "Cleaning does not change a rating.",
		field: func(c *plant.Condition) *float64 { return &c.RefillScale }, worst: 0.3,
	},
	{
		ID: "refill-large", Name: "Refill flow control too large", Where: plant.PartRefillCtl, Prior: 1, Onset: Steady,
		Severities: []float64{0.5, 1},
		Seen:       "bore clear; the rating marked on it is above the one on the unit's plate",
		Cures:      []Work{Replace}, Vain: "A lower float only hides it.",
		field: func(c *plant.Condition) *float64 { return &c.RefillScale }, worst: 2.2,
	},
	{
		ID: "float-low", Name: "Safety float set too low", Where: plant.PartFloat, Prior: 2, Onset: Steady,
		Severities: []float64{0.8, 0.9, 1},
		Seen:       "float sits far too low on its rod", SeenMild: "float sits a little low on its rod",
		Cures: []Work{Adjust, Replace}, Vain: "A larger refill control does not help against a shut float.",
		field: func(c *plant.Condition) *float64 { return &c.FloatLowM }, worst: 0.35,
	},
	{
		ID: "float-stuck", Name: "Safety float stuck shut", Where: plant.PartFloat, Prior: 1.5, Onset: Steady,
		Severities: []float64{1},
		Seen:       "float stuck at the top of its rod, its valve shut",
		Cures:      []Work{Clean, Replace}, Vain: "Pouring water in by hand helps for one night.",
		field: func(c *plant.Condition) *float64 { return &c.FloatStuck }, worst: 1,
	},
	{
		ID: "float-loose", Name: "Safety float does not shut", Where: plant.PartFloat, Prior: 0.8, Onset: Steady,
		Severities: []float64{1},
		Seen:       "lifted by hand, the float does not shut its valve",
		Cures:      []Work{Replace}, Vain: "Set higher or lower, it does not shut.",
		field: func(c *plant.Condition) *float64 { return &c.FloatLoose }, worst: 1,
	},
}

var saltFaults = []Fault{
	{
		ID: "salt-bridge", Name: "Salt bridge", Where: plant.PartSalt, Prior: 8, Onset: Steady,
		Severities: []float64{0.9, 1},
		Cures:      []Work{Clean}, Vain: "A bag on top of a bridge makes it stronger.",
		field: func(c *plant.Condition) *float64 { return &c.SaltBridge }, worst: 1,
	},
	{
		ID: "salt-absent", Name: "Out of salt", Where: plant.PartSalt, Prior: 10, Onset: Steady, Stays: true,
		Severities: []float64{0.9, 1},
		Cures:      []Work{Replace}, Vain: "A regeneration without salt only wastes water.",
		field: func(c *plant.Condition) *float64 { return &c.SaltLeft }, worst: 0,
	},
	{
		ID: "salt-mushed", Name: "Salt mush round the well", Where: plant.PartSalt, Prior: 3, Onset: Growing,
		Severities: []float64{0.85, 0.97},
		Cures:      []Work{Clean}, Vain: "More salt on mush makes more mush.",
		field: func(c *plant.Condition) *float64 { return &c.SaltMush }, worst: 1,
	},
	{
		ID: "tank-seep", Name: "Water runs into the brine tank from outside", Where: plant.PartBrineTank, Prior: 0.8, Onset: Intermittent,
		Severities: []float64{0.4, 0.7, 1},
		Seen:       "a run of water down the inside of the wall, the lid cracked", SeenMild: "the wall is wet below the lid",
		Cures: []Work{Adjust, Replace}, Vain: "A new brine seat does not keep the rain out.",
		field: func(c *plant.Condition) *float64 { return &c.TankSeepM3S }, worst: 2.5e-7,
	},
	{
		ID: "tank-cracked", Name: "Brine tank cracked", Where: plant.PartBrineTank, Prior: 0.8, Onset: Steady,
		Severities: []float64{0.3, 1},
		Seen:       "a crack at the floor, salt crust and a puddle outside", SeenMild: "a damp line of salt crust at the floor outside",
		Cures: []Work{Replace}, Vain: "More refill runs out of the same crack.",
		field: func(c *plant.Condition) *float64 { return &c.TankCrackM }, worst: 1.2 * unit.Millimetre,
	},
}
